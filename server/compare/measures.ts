/** The numbers that show what a change does to the film. */
import { bitsPerPixel } from '../calc/data.ts';
import { rateFps } from '../calc/rate.ts';
import { viewAt } from '../core/derived/framing.ts';
import { faceLight, wantedLux } from '../core/derived/light.ts';
import { fieldAt, lensAt, sharpZone } from '../core/derived/optics.ts';
import { shutterAngle } from '../core/derived/time.ts';
import type { Deliverable, Film, Piece, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import type { Effect } from './comparison.ts';
import { showsPiece } from '../core/resolve/edit.ts';

/** A number of a thing, as text, by its name. */
export type Measures = ReadonlyMap<string, string>;

/** What says itself and needs no name. */
const nameless = 'shutter angle';

export function shotMeasures(shot: Shot): Measures {
  return new Map([
    ...measure(nameless, shutterAngle(shot), say.angleText),
    ...measure('depth of field', depthOfField(shot), (mm) =>
      Number.isFinite(mm) ? say.lengthText(mm) : 'to the horizon',
    ),
    ...measure('picture at the subject', pictureSize(shot), (text) => text),
    ...measure('light on the subject', lightLux(shot), say.luxText),
    ...measure('recorded', recordedBytes(shot), say.bytesText),
  ]);
}

/** How much brighter the picture is after, in stops: the light that falls in against the light that the settings want. */
export function brighterBy(before: Shot, after: Shot): Effect[] {
  const [wantedBefore, wantedAfter] = [wantedLux(before), wantedLux(after)];
  if (!wantedBefore || !wantedAfter) return [];
  const [lightBefore, lightAfter] = [lightLux(before), lightLux(after)];
  const lit = lightBefore && lightAfter ? Math.log2(lightAfter / lightBefore) : 0;
  const stops = lit + Math.log2(wantedBefore / wantedAfter);
  return Math.abs(stops) < 0.05 ? [] : [{ name: '', text: say.brighterText(stops) }];
}

function depthOfField(shot: Shot): number | undefined {
  const lens = lensAt(shot, 0);
  return lens && sharpZone(lens)?.totalMm;
}

function pictureSize(shot: Shot): string | undefined {
  const lens = lensAt(shot, 0);
  if (!lens) return undefined;
  const { widthMm, heightMm } = fieldAt(lens, lens.distanceMm);
  return say.lengthsText(widthMm, heightMm);
}

function lightLux(shot: Shot): number | undefined {
  const light = faceLight(shot, 0);
  return light.complete && light.totalLux > 0 ? light.totalLux : undefined;
}

function recordedBytes({ camera, record, takes }: Shot): number | undefined {
  const bitrate = camera.mode?.bitrate?.value;
  return bitrate && record && (bitrate / 8) * record.value * takes;
}

export function pieceMeasures(piece: Piece, film: Film): Measures {
  const shown = [...film.deliverables.values()].flatMap((deliverable) => {
    if (!showsPiece(deliverable, piece)) return [];
    const [start, end] = [viewAt(piece, deliverable, 0), viewAt(piece, deliverable, 1)];
    const scale = start && end && Math.min(start.scale, end.scale);
    return measure(`in ${deliverable.name}`, scale, pixelsText);
  });
  return new Map(shown);
}

function pixelsText(scale: number): string {
  return scale >= 1
    ? `${say.num(scale, 2)} times the pixels it needs`
    : `enlarged by ${say.percentText(1 / scale - 1)}`;
}

export function deliverableMeasures({ raster, rate, bitrate, sectionS, lengthS }: Deliverable): Measures {
  const runsS = sectionS ? sectionS.to - sectionS.from : lengthS;
  const bits = raster && rate && bitrate;
  return new Map([
    ...measure('the cut gives it', sectionS && sectionS.to - sectionS.from, say.secondsText),
    ...measure(
      'bits for each pixel',
      bits && bitsPerPixel(bits.value, raster.value.width, raster.value.height, rateFps(rate.value)),
      (value) => say.num(value, 3),
    ),
    ...measure('size of the picture', bitrate && runsS && (bitrate.value / 8) * runsS, say.bytesText),
  ]);
}

export function filmMeasures(film: Film): Measures {
  const all = [...film.shots.values()].map(recordedBytes);
  const bytes = all.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  return new Map([
    ...measure('the cut runs', film.cutS, say.secondsText),
    ...measure('all takes together', bytes || undefined, say.bytesText),
  ]);
}

function measure<T>(name: string, value: T | undefined, text: (value: T) => string): [string, string][] {
  return value === undefined || value === 0 ? [] : [[name, text(value)]];
}

/** The measures that differ, and those of `always` even where they don't. */
export function effectsBetween(before: Measures, after: Measures, always: readonly string[] = []): Effect[] {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  return names.flatMap((name): Effect[] => {
    const [a, b] = [before.get(name), after.get(name)];
    if (a === b && !always.includes(name)) return [];
    return [{ name: name === nameless ? '' : name, before: a, after: b }];
  });
}
