/** What the plan implies, in a few characters beside the line that it follows from. */
import { framesPerBeat, tempo } from '../calc/beats.ts';
import { streamBytes } from '../calc/data.ts';
import { runsS } from '../core/derived/edit.ts';
import { shotsSoFar } from '../core/derived/shooting.ts';
import { exposureError } from '../core/derived/light.ts';
import { allTakesBytes, leastScale, recordedBytes, units } from '../core/derived/measures.ts';
import { fieldAt, lensAt } from '../core/derived/optics.ts';
import { sharpInCut } from '../core/derived/sharp.ts';
import { shutterAngle, shutterSeconds } from '../core/derived/time.ts';
import type { MapNode, Range } from '../core/document/node.ts';
import { pairOf } from '../core/document/node.ts';
import type { CheckResult } from '../core/checker.ts';
import type { Film, Piece, Shot, Val } from '../core/film.ts';
import * as say from '../core/say.ts';

export const hintKinds = [
  'shutterAngle',
  'exposure',
  'depthOfField',
  'pictureWidth',
  'zoomSpare',
  'framesPerBeat',
  'runningTime',
  'fileSize',
  'storage',
  'takes',
] as const;
export type HintKind = (typeof hintKinds)[number];

export interface Hint {
  readonly kind: HintKind;
  /** Shown after this place. */
  readonly offset: number;
  readonly text: string;
  /** What it is, in a sentence. */
  readonly meaning: string;
}

/** The hints whose place is in a range, in the order of the text. */
export function hintsIn(result: CheckResult, range: Range, wanted: ReadonlySet<HintKind>): Hint[] {
  const { film } = result;
  if (!film) return [];
  const inRange = ({ end }: Range) => range.start <= end && end <= range.end;
  const hints = [
    ...shutterHints(film, inRange),
    ...[...film.shots.values()].filter(inRange).flatMap((shot) => shotHints(shot, film)),
    ...[...film.shots.values()].flatMap((shot) => (shot.record && inRange(shot.record) ? storageHint(shot) : [])),
    ...film.cut.filter((piece) => inRange(piece.length ?? piece)).flatMap((piece) => runningHint(piece)),
    ...film.cut.filter((piece) => inRange(piece.zoomAt ?? piece)).flatMap((piece) => zoomHint(piece, film)),
    ...sizeHints(film, inRange),
    ...beatHint(film),
    ...storageOfAll(film, result),
    ...takeHints(result, inRange),
  ];
  const shown = hints
    .filter((hint) => wanted.has(hint.kind) && range.start <= hint.offset && hint.offset <= range.end)
    .sort((a, b) => a.offset - b.offset || hintKinds.indexOf(a.kind) - hintKinds.indexOf(b.kind))
    .map(apart);
  return whole(shown, (hint) => result.doc.lines.line(hint.offset));
}

/** Editors cut what hints of one line say beyond so many characters, in the middle of a word. */
const mostOfLine = 43;

/** Those that fit their line whole. */
function whole(hints: readonly Hint[], lineOf: (hint: Hint) => number): Hint[] {
  const used = new Map<number, number>();
  return hints.filter((hint) => {
    const line = lineOf(hint);
    const length = (used.get(line) ?? 0) + hint.text.length;
    if (length > mostOfLine) return false;
    used.set(line, length);
    return true;
  });
}

/** Editors put hints of one place side by side without a gap. */
function apart(hint: Hint, index: number, all: readonly Hint[]): Hint {
  return all[index - 1]?.offset === hint.offset ? { ...hint, text: `· ${hint.text}` } : hint;
}

/** One shutter may be taken over by shots of different rates: then the smallest and the largest angle stand there. */
function shutterHints(film: Film, inRange: (range: Range) => boolean): Hint[] {
  const byPlace = new Map<number, { end: number; isAngle: boolean; values: number[] }>();
  for (const shot of film.shots.values()) {
    const { shutter } = shot.camera;
    if (!shutter || shutter.file !== undefined || !inRange(shutter) || shutter.value === 'auto') continue;
    const isAngle = shutter.value.kind === 'angle';
    const value = isAngle ? shutterSeconds(shot) : shutterAngle(shot);
    if (value === undefined) continue;
    const place = byPlace.get(shutter.start) ?? { end: shutter.end, isAngle, values: [] };
    byPlace.set(shutter.start, place);
    place.values.push(value);
  }
  return [...byPlace.values()].map(({ end, isAngle, values }) => ({
    kind: 'shutterAngle',
    offset: end,
    text: span(values, isAngle ? say.shutterText : say.angleText),
    meaning: isAngle
      ? 'How long each frame is exposed.'
      : 'Shutter angle: 180° exposes for half of each recorded frame.',
  }));
}

/** Equal to what can be read, they stand there once. */
function span(values: readonly number[], text: (value: number) => string): string {
  const [least, most] = [text(Math.min(...values)), text(Math.max(...values))];
  return least === most ? least : `${least} to ${most}`;
}

function shotHints(shot: Shot, film: Film): Hint[] {
  // After the colon behind the name.
  const offset = shot.end + 1;
  const hints: Hint[] = [];
  const [error, atEnd] = [exposureError(shot, 0), exposureError(shot, 1)];
  if (error !== undefined && Number.isFinite(error)) {
    const text = [...new Set([offText(error), offText(atEnd ?? error)])].join(' to ');
    const meaning = 'Light on the side toward the camera, against what shutter, aperture and ISO want.';
    hints.push({ kind: 'exposure', offset, text, meaning });
  }
  const lenses = [lensAt(shot, 0), lensAt(shot, 1)].flatMap((lens) => lens ?? []);
  const depths = [0, 1].flatMap((moment) => sharpInCut(shot, film, moment)?.zone.totalMm ?? []);
  if (depths.length > 0)
    hints.push({
      kind: 'depthOfField',
      offset,
      text: `sharp ${span(depths, units.mm)}`,
      meaning: 'Depth of field where the cut zooms in most: from the nearest to the farthest point that is sharp.',
    });
  const widths = lenses.map((lens) => fieldAt(lens, lens.distanceMm).widthMm);
  if (widths.length > 0)
    hints.push({
      kind: 'pictureWidth',
      offset,
      text: `${span(widths, say.lengthText)} wide`,
      meaning: 'Width of the whole recorded picture at the subject.',
    });
  return hints;
}

function offText(stops: number): string {
  if (Math.abs(stops) < say.asPlannedStops) return 'as planned';
  return `${say.stopsText(stops)} ${stops > 0 ? 'over' : 'under'}`;
}

function storageHint(shot: Shot): Hint[] {
  const bytes = recordedBytes(shot);
  if (bytes === undefined || !shot.record) return [];
  const text = `${say.bytesText(bytes)}${shot.takes > 1 ? ` in ${shot.takes} takes` : ''}`;
  return [{ kind: 'storage', offset: shot.record.end, text, meaning: 'What the recording takes on the card.' }];
}

/** What was shot so far: `2 good of 4`. */
function takeHints({ film, sheets }: CheckResult, inRange: (range: Range) => boolean): Hint[] {
  if (!film || !sheets || sheets.length === 0) return [];
  return [...shotsSoFar(film, sheets).values()].flatMap(({ shot, takes, good, unseen }) => {
    if (takes.length === 0 || !inRange(shot)) return [];
    const text = unseen === takes.length ? `${unseen} taken, not seen yet` : `${good} good of ${takes.length}`;
    return [{ kind: 'takes', offset: shot.end + 1, text, meaning: 'Takes on the sheets beside this spec.' }];
  });
}

function storageOfAll(film: Film, { doc }: CheckResult): Hint[] {
  const recorded = [...film.shots.values()].filter((shot) => recordedBytes(shot) !== undefined);
  const key = pairOf(doc.root as MapNode | undefined, 'shots')?.key;
  // Of a single one its own hint says as much.
  if (!key || recorded.length < 2) return [];
  const text = `${say.bytesText(allTakesBytes(film))} of takes`;
  return [{ kind: 'storage', offset: key.end + 1, text, meaning: 'What all takes of all shots take on the cards.' }];
}

function runningHint({ startS, endS, length }: Piece): Hint[] {
  if (startS === undefined || endS === undefined || !length) return [];
  const text = `${say.secondsText(startS)} to ${say.secondsText(endS)}`;
  return [{ kind: 'runningTime', offset: length.end, text, meaning: 'When this piece is on screen.' }];
}

/** So much of a name leaves room for what is said of it. */
const mostOfName = 16;

/** The least of all deliverables that show it: there it is enlarged first. */
function zoomHint(piece: Piece, film: Film): Hint[] {
  const scales = [...film.deliverables.values()].flatMap((one) => {
    const scale = leastScale(piece, one);
    return scale === undefined ? [] : [{ scale, name: one.name }];
  });
  if (scales.length === 0) return [];
  const least = scales.reduce((best, one) => (one.scale < best.scale ? one : best));
  const where = film.deliverables.size > 1 ? ` in ${say.shown(least.name, mostOfName)}` : '';
  const spare = say.num(least.scale, 2);
  const pixels = spare === '1' ? 'just enough pixels' : `${spare}× the pixels`;
  const text = `${least.scale >= 1 - 1e-9 ? pixels : `enlarged ${say.num(1 / least.scale, 2)}×`}${where}`;
  const meaning = 'Recorded pixels for each delivered one at the tightest: just enough leaves no room to zoom further.';
  return [{ kind: 'zoomSpare', offset: (piece.zoomAt ?? piece).end, text, meaning }];
}

/** One bitrate may be taken over by deliverables of different lengths: then the smallest and the largest file stand there. */
function sizeHints(film: Film, inRange: (range: Range) => boolean): Hint[] {
  const byPlace = new Map<number, { bitrate: Val<number>; lengths: number[] }>();
  for (const deliverable of film.deliverables.values()) {
    const { bitrate } = deliverable;
    const seconds = runsS(deliverable, film) ?? deliverable.lengthS;
    if (!bitrate || !seconds || !inRange(bitrate)) continue;
    const place = byPlace.get(bitrate.end) ?? { bitrate, lengths: [] };
    byPlace.set(bitrate.end, place);
    place.lengths.push(seconds);
  }
  return [...byPlace.values()].map(({ bitrate, lengths }) => ({
    kind: 'fileSize',
    offset: bitrate.end,
    text: `${span(lengths, (seconds) => say.bytesText(streamBytes(bitrate.value, seconds)))} without sound`,
    meaning: `The picture alone, for ${span(lengths, say.secondsText)} of film.`,
  }));
}

function beatHint({ music, timeline }: Film): Hint[] {
  const at = music?.tempo;
  if (!at?.value || !timeline.rate) return [];
  const each = framesPerBeat(timeline.rate.value, tempo(at.value));
  const text = `${say.num(each.num / each.den, 3)} frames a beat`;
  const meaning = `At ${timeline.rate.text} frames a second; a beat is ${say.num(60 / at.value, 3)} s.`;
  return [{ kind: 'framesPerBeat', offset: at.end, text, meaning }];
}
