/** What the plan implies, in numbers, for hovers. Each line stands for itself and knows the keys that move it. */
import { framesPerBeat, tempo } from '../calc/beats.ts';
import { lowestLevel } from '../calc/codec.ts';
import { holdS } from '../calc/reading.ts';
import { pxPerMmAt, viewAt } from '../core/derived/framing.ts';
import { exposureError, faceLight } from '../core/derived/light.ts';
import {
  allTakesBytes,
  deliverableMeasures,
  leastScale,
  type Measure,
  recordedBytes,
  shotMeasures,
  units,
} from '../core/derived/measures.ts';
import { filmMusic, isEven, momentText, tempoText } from '../core/derived/music.ts';
import { actionSpan, lensAt, subjectSeen } from '../core/derived/optics.ts';
import { focusText, frontMarkMm, sharpInCut } from '../core/derived/sharp.ts';
import { streamOf } from '../core/derived/stream.ts';
import { turningRpm } from '../core/derived/time.ts';
import { capitalPx } from '../core/derived/titles.ts';
import { titleIn } from '../core/derived/rights.ts';
import { lettersAtBest } from '../core/derived/letters.ts';
import type { Deliverable, Film, LampPlace, Part, Piece, Shot, Title } from '../core/film.ts';
import { showsPiece } from '../core/resolve/edit.ts';
import * as say from '../core/say.ts';

/** A line, and the keys under which it is shown; it is shown for the thing as a whole too. */
export interface HoverLine {
  readonly text: string;
  readonly keys: readonly string[];
}

function line(keys: string, text: string | undefined): HoverLine[] {
  return text === undefined ? [] : [{ text, keys: keys.split(' ') }];
}

function textOf(measures: readonly Measure[], name: string): string | undefined {
  return measures.find((one) => one.name === name)?.text;
}

/** A shot: shutter, light, sharpness, picture, turning, storage. */
export function shotNumbers(shot: Shot, film: Film): HoverLine[] {
  const measures = shotMeasures(shot, film);
  return [
    ...shutterLines(shot, measures),
    ...lightLines(shot, measures),
    ...lensLines(shot, film, measures),
    ...takeLines(shot),
  ];
}

function shutterLines({ camera: { rate } }: Shot, measures: readonly Measure[]): HoverLine[] {
  const [time, angle] = [textOf(measures, 'exposed for'), textOf(measures, 'shutter angle')];
  return line('shutter rate', time && angle && rate && `Shutter ${time} is ${angle} at ${rate.text} frames/s`);
}

function lightLines(shot: Shot, measures: readonly Measure[]): HoverLine[] {
  const [light, wanted] = [textOf(measures, 'light on the subject'), textOf(measures, 'light that the settings want')];
  const { lamps, roomLux } = faceLight(shot, 0);
  const lighting = lamps.filter(({ lux }) => lux > 0);
  const shares = lighting.map(({ lamp, lux, share }) => `${lamp.name} ${say.luxText(lux)} (${say.percentText(share)})`);
  const room = roomLux > 0 ? [`room ${say.luxText(roomLux)}`] : [];
  const error = exposureError(shot, 0);
  return [
    ...line(
      'lit room set-up',
      light && lamps.length > 0
        ? `Light on the side toward the camera ${light}: ${say.listText([...shares, ...room])}`
        : undefined,
    ),
    ...line(
      'shutter aperture iso filters exposure meter lit room rate',
      wanted && `The settings want ${wanted}${error === undefined ? '' : `: ${offText(error, shot)}`}`,
    ),
  ];
}

function offText(stops: number, shot: Shot): string {
  const planned = shot.camera.exposure?.value ?? 0;
  const against = planned
    ? ` than the ${say.stopsText(planned)} ${planned > 0 ? 'over' : 'under'} that you mean`
    : ' than metered';
  return Math.abs(stops) < say.asPlannedStops ? 'as planned' : `${say.brighterText(stops)}${against}`;
}

function lensLines(shot: Shot, film: Film, measures: readonly Measure[]): HoverLine[] {
  const lens = lensAt(shot, 0);
  if (!lens) return [];
  const [width, height] = [textOf(measures, 'picture width'), textOf(measures, 'picture height')];
  return [
    ...line(
      'lens focal distance raster stabiliser way-up camera',
      width &&
        `Picture at the subject ${width} wide, ${height} high (${say.num(lens.namedMm)} mm lens at ${say.lengthText(lens.distanceMm)})`,
    ),
    ...line('aperture focus distance lens focal raster sharp subject camera', sharpText(shot, film)),
  ];
}

function sharpText(shot: Shot, film: Film): string | undefined {
  const sharp = sharpInCut(shot, film, 0);
  const fNumber = lensAt(shot, 0)?.fNumber;
  if (!sharp || fNumber === undefined) return undefined;
  const { zone, zoom } = sharp;
  const where = say.num(zoom, 2) === '1' ? '' : ` where the cut zooms ${say.timesText(zoom, 2)}`;
  const { fromS, toS } = actionSpan(shot);
  const depth = subjectSeen(shot, fromS, toS)?.depthMm;
  const deep = units.mm(zone.totalMm);
  const far = Number.isFinite(zone.farMm) ? `to ${say.lengthText(zone.farMm)} (${deep} deep)` : deep;
  const subject = shot.subject.name === 'product' ? 'the product' : say.quoted(shot.subject.name);
  const needs = depth === undefined ? '' : `; ${subject} is ${say.lengthText(depth)} deep from here`;
  const markMm = frontMarkMm(shot, film);
  const mark = markMm === undefined ? '' : `; its front lies at ${focusText(markMm)}`;
  return `Sharp from ${say.lengthText(zone.nearMm)} ${far} at ${say.apertureText(fNumber)}${where}${needs}${mark}`;
}

function takeLines(shot: Shot): HoverLine[] {
  const { record, takes, camera } = shot;
  const rpm = turningRpm(shot);
  const bytes = recordedBytes(shot);
  const bitrate = camera.mode?.bitrate?.value;
  const all = record && `${takes} ${takes === 1 ? 'take' : 'takes'} of ${record.text}`;
  return [
    ...line('turn speed by', rpm && record ? `Turns ${say.angleText(Math.abs(6 * rpm))} a second` : undefined),
    ...line(
      'record takes raster rate codec bits colour-space',
      all && bytes && bitrate ? `${all}: ${say.bytesText(bytes)} at ${say.bitRateText(bitrate)}` : all,
    ),
  ];
}

/** A lamp at its place, in each shot where it is lit. */
export function lampNumbers(lamp: LampPlace, film: Film): HoverLine[] {
  const keys = 'use modifier level distance angle height aim';
  const shots = [...film.shots.values()].filter((shot) => shot.lit.includes(lamp));
  if (shots.length === 0) return line(keys, 'Lit in no shot');
  const lines = shots.slice(0, 6).flatMap((shot) => {
    const light = faceLight(shot, 0).lamps.find((one) => one.lamp === lamp);
    if (!light) return [];
    const share = `${say.luxText(light.lux)} on the side toward the camera, ${say.percentText(light.share)} of its light`;
    // A rim lamp stands behind, and lights what the camera does not measure.
    return line(keys, `${shot.name}: ${light.lux > 0 ? share : 'nothing of the side toward the camera'}`);
  });
  return lines.length > 0 ? lines : line(keys, `Lit in ${say.listText(shots.map((shot) => shot.name))}`);
}

/** A piece of the cut: its time, and the pixels it has in each deliverable. */
export function pieceNumbers(piece: Piece, film: Film): HoverLine[] {
  const { startS, endS, startFrame, endFrame } = piece;
  const frames = startFrame === undefined ? '' : `, frames ${startFrame} to ${endFrame! - 1}`;
  const shown = [...film.deliverables.values()].filter((one) => showsPiece(one, piece));
  return [
    ...line(
      'length shot dissolve',
      startS === undefined || endS === undefined
        ? undefined
        : `On screen from ${say.secondsText(startS)} to ${say.secondsText(endS)}${frames}`,
    ),
    ...shown.flatMap((one) => line('zoom zoom-by shift shift-by straighten shot', pixelsLine(piece, one))),
  ];
}

function pixelsLine(piece: Piece, deliverable: Deliverable): string | undefined {
  const [start, end] = [viewAt(piece, deliverable, 0), viewAt(piece, deliverable, 1)];
  const least = leastScale(piece, deliverable);
  if (!start || !end || least === undefined) return undefined;
  const zoom = [...new Set([say.num(start.zoom, 2), say.num(end.zoom, 2)])].join(' to ');
  const px = pxPerMmAt(end, deliverable);
  return `${deliverable.name}: zoom ${zoom}, ${units.pixels(least)}${px ? `, ${say.num(px)} px for each mm at the end` : ''}`;
}

/** A finished file: length, size, level. */
export function deliverableNumbers(deliverable: Deliverable, film: Film): HoverLine[] {
  const measures = deliverableMeasures(deliverable, film);
  const [gives, bits, size] = ['the cut gives it', 'bits for each pixel', 'size of the picture'].map((name) =>
    textOf(measures, name),
  );
  const stream = streamOf(deliverable);
  const level = stream && lowestLevel(stream)?.name;
  return [
    ...line('length section longest', gives && `The cut gives it ${gives}`),
    ...line('bitrate raster rate', bits && `${bits} bits for each pixel`),
    ...line('bitrate length section largest-file', size && `A file of about ${size}, sound not counted`),
    ...line(
      'raster rate bitrate codec codec-level profile tier',
      level && `Lowest codec level that holds it: ${level}`,
    ),
  ];
}

/** The music against the frames, and what is heard in its file. */
export function musicNumbers(film: Film): HoverLine[] {
  const rate = film.timeline.rate;
  const bpm = film.music?.tempo?.value;
  const each = bpm && rate ? framesPerBeat(rate.value, tempo(bpm)) : undefined;
  const frames = each && `${say.num(each.num / each.den, 3)} frames at ${rate!.text}`;
  return [...line('tempo', frames && `A beat is ${say.num(60 / bpm!, 3)} s: ${frames}`), ...heardLines(film)];
}

function heardLines(film: Film): HoverLine[] {
  const known = filmMusic(film);
  if (!known) return [];
  const { beats, heard } = known;
  const length = line('length', `The file is ${say.secondsText(heard.durationS)} long`);
  if (!beats) return [...line('tempo first-beat', 'No beat is heard in the file'), ...length];
  const uneven = isEven(beats) ? 'even' : `up to ${say.num(beats.unevenS * 1000, 0)} ms from even`;
  return [
    ...line('tempo', `Heard: ${tempoText(beats)}, ${beats.beatsS.length} beats, ${uneven}`),
    ...line('first-beat', `Heard: the first beat at ${momentText(beats.firstS)}`),
    ...length,
  ];
}

/** The whole film. */
export function filmNumbers(film: Film): HoverLine[] {
  const bytes = allTakesBytes(film);
  return [
    ...line('title cut', film.cutS === undefined ? undefined : `The cut runs ${say.secondsText(film.cutS)}`),
    ...line('title shots', bytes > 0 ? `All takes together ${say.bytesText(bytes)}` : undefined),
  ];
}

/** A title: how long its words take to read, and how high its letters are in each deliverable. */
export function titleNumbers(title: Title, film: Film): HoverLine[] {
  const { text } = title;
  const shown = titleIn(title, film).filter((one) => one.raster);
  return [
    ...line('hold text', text && `Reading it takes ${say.num(holdS(text.value), 1)} s`),
    ...shown.flatMap((one) =>
      line('letters', `Capitals ${say.num(capitalPx(title, one.raster!.value), 0)} pixels high in ${one.name}`),
    ),
  ];
}

/** Letters on the product, as high as they come in each deliverable. */
export function partNumbers(part: Part, film: Film): HoverLine[] {
  if (!part.letters) return [];
  return [...film.deliverables.values()].flatMap((one) => {
    const best = lettersAtBest(film, part, one);
    const px = best && say.pixelsText(best.pixels, 0);
    return line('letters', px && `Letters ${px} high at best in ${one.name}, in ${best.shot.name}`);
  });
}

/** The mains of the region, and the shutters under which lamps on them do not flicker: whole pulses, two a period. */
export function regionNumbers({ mainsHz, mainsVolts }: Film): HoverLine[] {
  if (mainsHz === undefined) return [];
  const steady = [1, 2, 3, 4].map((pulses) => say.shutterText(pulses / (2 * mainsHz)));
  return [
    ...line('region', `Mains ${mainsVolts === undefined ? '' : `${mainsVolts} V, `}${mainsHz} Hz`),
    ...line('region', `Steady under lamps on it: ${say.listText(steady)}`),
  ];
}
