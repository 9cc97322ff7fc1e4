/** Small ways to put values into words. */
import type { Val } from '../../core/film.ts';

export function names(all: readonly Val<string>[] | undefined): string {
  return (all ?? []).map((one) => one.value).join(', ');
}

export function filled(rows: readonly (readonly [string, string])[]): (readonly [string, string])[] {
  return rows.filter(([, value]) => value !== '');
}

/** A number stays on one line with its unit, and `ISO` with its number. */
export function unbroken(words: string): string {
  return words.replace(/(?<=\d) (?=[a-zA-Zµ°%]{1,6}\b)|(?<=\bISO) (?=\d)/g, '\u00a0');
}

/** What there is of some words, with commas between. */
export function joined(...words: readonly (string | number | false | undefined)[]): string {
  return words.filter(Boolean).join(', ');
}
