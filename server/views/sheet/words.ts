/** Small ways to put values into words. */
import { lensHeightMm } from '../../core/derived/moments.ts';
import type { Camera, Shot, Val } from '../../core/film.ts';
import { num } from '../../core/say.ts';

export function names(all: readonly Val<string>[] | undefined): string {
  return (all ?? []).map((one) => one.value).join(', ');
}

export function filled(rows: readonly (readonly [string, string])[]): (readonly [string, string])[] {
  return rows.filter(([, value]) => value !== '');
}

/** A number stays on one line with its unit, `ISO` with its number, and a time of day with the one that it lasts to. */
export function unbroken(words: string): string {
  return words.replace(
    /(?<=\d\d:\d\d) (?=to \d\d:)|(?<=\d h) (?=\d+ min\b)|(?<=\d\d:\d\d to) (?=\d\d:)|(?<=\d) (?=[a-zA-Zµ°%]{1,6}\b)|(?<=\bISO) (?=\d)/g,
    '\u00a0',
  );
}

/** A word of the format in plain writing: `on-its-side` is on its side. */
export function plain(word: string): string {
  return word.replaceAll('-', ' ');
}

/** What there is of some words, with commas between. */
export function joined(...words: readonly (string | number | false | undefined)[]): string {
  return words.filter(Boolean).join(', ');
}

/** Rows that say the same of all shots, by their names. */
export type Common = ReadonlyMap<string, string>;

export function without(rows: readonly (readonly [string, string])[], common: Common): (readonly [string, string])[] {
  return rows.filter(([name, value]) => common.get(name) !== value);
}

/** How high the lens is, also where it is level with the subject because nobody says it; nothing where that is not known either. */
export function lensHeightText(shot: Shot): string | undefined {
  const { camera, subject } = shot;
  if (camera.height) return camera.height.text;
  return subject.box ? `${num(lensHeightMm(shot) / 10, 1)} cm` : undefined;
}

/** `-10 cm to 10 cm` as whoever looks along the lens says it: `10 cm left to 10 cm right`. */
export function asideText(slide: string): string {
  return slide.replace(/-?\d[\d.]* ?[a-z]+/g, (one) => {
    if (Number.parseFloat(one) === 0) return one;
    return one.startsWith('-') ? `${one.slice(1)} left` : `${one} right`;
  });
}

/** What a zoom is set to; nothing of a lens that has one focal length. */
export function focalSet({ lens, focal }: Camera): Camera['focal'] {
  const range = lens?.focal?.value;
  return range && range.from === range.to ? undefined : focal;
}
