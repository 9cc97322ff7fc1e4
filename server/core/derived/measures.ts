/**
 * One table of the numbers that a plan comes to: each with its unit, how it is said, and the keys that move it. Hovers,
 * hints, pictures and comparisons say what stands here, so that no two of them work out or word one number differently.
 */
import { bitsPerPixel, streamBytes } from '../../calc/data.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Deliverable, Film, Piece, Shot } from '../film.ts';
import { showsPiece } from '../resolve/edit.ts';
import * as say from '../say.ts';
import { runsS } from './edit.ts';
import { viewAt } from './framing.ts';
import { faceLight, wantedLux } from './light.ts';
import { fieldAt, lensAt } from './optics.ts';
import { sharpInCut } from './sharp.ts';
import { fileS, shutterAngle, shutterSeconds } from './time.ts';

export interface Measure {
  readonly name: string;
  readonly value: number;
  readonly unit: keyof typeof units;
  /** The value in words, with its unit. */
  readonly text: string;
}

/** How a value of each unit is said. */
export const units = {
  degrees: (value: number) => say.angleText(value),
  exposed: say.shutterText,
  seconds: (value: number) => say.secondsText(value),
  lux: say.luxText,
  /** A depth without end reaches as far as one can see. */
  mm: (value: number) => (Number.isFinite(value) ? say.lengthText(value) : 'to the horizon'),
  bytes: say.bytesText,
  /** Recorded pixels for each delivered one. */
  pixels: (value: number) =>
    value >= 1 - 1e-9
      ? `${say.num(value, 2)} times the pixels it needs`
      : `enlarged by ${say.percentText(1 / value - 1)}`,
  'bits a pixel': (value: number) => `${say.num(value, 3)}`,
} as const;

function measure(name: string, unit: keyof typeof units, value: number | undefined): Measure[] {
  return value === undefined || value === 0 ? [] : [{ name, value, unit, text: units[unit](value) }];
}

/** @param moment of the action, 0 its start and 1 its end */
export function shotMeasures(shot: Shot, film: Film, moment = 0): Measure[] {
  const lens = lensAt(shot, moment);
  const field = lens && fieldAt(lens, lens.distanceMm);
  return [
    ...measure('shutter angle', 'degrees', shutterAngle(shot)),
    ...measure('exposed for', 'exposed', shutterSeconds(shot)),
    ...measure('depth of field', 'mm', sharpInCut(shot, film, moment)?.zone.totalMm),
    ...measure('picture width', 'mm', field?.widthMm),
    ...measure('picture height', 'mm', field?.heightMm),
    ...measure('light on the subject', 'lux', lightLux(shot)),
    ...measure('light that the settings want', 'lux', wantedLux(shot)),
    ...measure('recorded', 'bytes', recordedBytes(shot)),
  ];
}

function lightLux(shot: Shot): number | undefined {
  const light = faceLight(shot, 0);
  return light.complete && light.totalLux > 0 ? light.totalLux : undefined;
}

/** What all takes of a shot record, without the spare that is planned for on cards; undefined where the kit has no bitrate for its mode. */
export function recordedBytes(shot: Shot): number | undefined {
  const { camera, record, takes } = shot;
  const bitrate = camera.mode?.bitrate?.value;
  return bitrate && record && streamBytes(bitrate, fileS(shot, record.value) * takes);
}

export function pieceMeasures(piece: Piece, film: Film): Measure[] {
  return [...film.deliverables.values()].flatMap((one) => measure(`in ${one.name}`, 'pixels', leastScale(piece, one)));
}

/** Recorded pixels for each delivered one where a piece has fewest; undefined where a deliverable does not show it. */
export function leastScale(piece: Piece, deliverable: Deliverable): number | undefined {
  if (!showsPiece(deliverable, piece)) return undefined;
  const [start, end] = [viewAt(piece, deliverable, 0), viewAt(piece, deliverable, 1)];
  return start && end && Math.min(start.scale, end.scale);
}

export function deliverableMeasures(deliverable: Deliverable, film: Film): Measure[] {
  const { raster, rate, bitrate, sectionS } = deliverable;
  const bits = raster && rate && bitrate;
  return [
    ...measure('the cut gives it', 'seconds', sectionS && sectionS.to - sectionS.from),
    ...measure(
      'bits for each pixel',
      'bits a pixel',
      bits && bitsPerPixel(bits.value, raster.value.width, raster.value.height, rateFps(rate.value)),
    ),
    ...measure('size of the picture', 'bytes', pictureBytes(deliverable, film)),
  ];
}

/** The file without its sound, for what the cut gives it or else what is promised. */
export function pictureBytes(deliverable: Deliverable, film: Film): number | undefined {
  const seconds = runsS(deliverable, film) ?? deliverable.lengthS;
  return deliverable.bitrate && seconds ? streamBytes(deliverable.bitrate.value, seconds) : undefined;
}

export function filmMeasures(film: Film): Measure[] {
  return [
    ...measure('the cut runs', 'seconds', film.cutS),
    ...measure('all takes together', 'bytes', allTakesBytes(film)),
  ];
}

export function allTakesBytes(film: Film): number {
  return [...film.shots.values()].reduce((sum, shot) => sum + (recordedBytes(shot) ?? 0), 0);
}
