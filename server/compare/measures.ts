/** The numbers that show what a change does to the film. */
import { type Measure, shotMeasures as measuresOf } from '../core/derived/measures.ts';
import { fieldAt, lensAt } from '../core/derived/optics.ts';
import type { Film, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import type { Effect } from './comparison.ts';

/** A number of a thing, as text, by its name. */
export type Measures = ReadonlyMap<string, string>;

/** What says itself and needs no name. */
const nameless = 'shutter angle';
/** Those of a shot that a comparison shows as one, or by what they come to: how much brighter the picture is. */
const saidOtherwise: ReadonlySet<string> = new Set([
  'exposed for',
  'picture width',
  'picture height',
  'light that the settings want',
]);

export function textsOf(measures: readonly Measure[]): Measures {
  return new Map(measures.map(({ name, text }) => [name, text]));
}

export function shotTexts(shot: Shot, film: Film): Measures {
  const measures = measuresOf(shot, film).filter(({ name }) => !saidOtherwise.has(name));
  const lens = lensAt(shot, 0);
  const field = lens && fieldAt(lens, lens.distanceMm);
  return new Map([
    ...textsOf(measures),
    ...(field ? [['picture at the subject', say.lengthsText(field.widthMm, field.heightMm)] as const] : []),
  ]);
}

/** How much brighter the picture is after, in stops: the light that falls in against the light that the settings want. */
export function brighterBy(before: readonly Measure[], after: readonly Measure[]): Effect[] {
  const of = (all: readonly Measure[], name: string) => all.find((one) => one.name === name)?.value;
  const wanted = 'light that the settings want';
  const [wantedBefore, wantedAfter] = [of(before, wanted), of(after, wanted)];
  if (!wantedBefore || !wantedAfter) return [];
  const [lightBefore, lightAfter] = [of(before, 'light on the subject'), of(after, 'light on the subject')];
  const lit = lightBefore && lightAfter ? Math.log2(lightAfter / lightBefore) : 0;
  const stops = lit + Math.log2(wantedBefore / wantedAfter);
  return Math.abs(stops) < 0.05 ? [] : [{ name: '', text: say.brighterText(stops) }];
}

/** The measures that differ. */
export function effectsBetween(before: Measures, after: Measures): Effect[] {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  return names.flatMap((name): Effect[] => {
    const [a, b] = [before.get(name), after.get(name)];
    if (a === b) return [];
    return [{ name: name === nameless ? '' : name, before: a, after: b }];
  });
}
