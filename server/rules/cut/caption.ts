/** Titles for which nobody has to look: what is heard as it stands there, and what goes on where the eyes already are. */
import { deliverablesOf } from '../../core/derived/edit.ts';
import type { Film, Sound, Title } from '../../core/film.ts';
import type { Seconds } from '../../core/units.ts';

export function isCaption(title: Title, film: Film): boolean {
  return isHeard(title, film) || goesOn(title, film);
}

/** Are its words said while it is up? */
function isHeard({ text, atS, holdS }: Title, { sounds }: Film): boolean {
  if (!text || atS === undefined || holdS === undefined) return false;
  const shown = wordsOf(text.value);
  if (shown === '') return false;
  return sounds.some(
    (sound) => isDuring(sound, atS, atS + holdS) && ` ${wordsOf(sound.words?.value ?? '')} `.includes(` ${shown} `),
  );
}

function isDuring({ atS, lengthS = Infinity }: Sound, from: Seconds, to: Seconds): boolean {
  return atS < to && atS + lengthS > from;
}

function wordsOf(text: string): string {
  return (
    text
      .toLowerCase()
      .match(/[\p{L}\p{N}’']+/gu)
      ?.join(' ') ?? ''
  );
}

/** No longer than this between two cards, the eyes stay where they are (common practice, no source). */
const pauseS: Seconds = 0.5;

/** Is it the rest of a sentence that the card before it, in the same place, has begun? */
function goesOn(title: Title, film: Film): boolean {
  const { text, atS, place } = title;
  if (!text || atS === undefined || !/^[\p{P}\s]*\p{Ll}/u.test(text.value)) return false;
  const shown = deliverablesOf(title, film);
  return film.titles.some(
    (one) =>
      one !== title &&
      one.place === place &&
      one.atS !== undefined &&
      one.atS < atS &&
      Math.abs(atS - one.atS - (one.holdS ?? 0)) <= pauseS &&
      !/[.!?]["'”’»)]*\s*$/u.test(one.text?.value ?? '') &&
      deliverablesOf(one, film).some((other) => shown.includes(other)),
  );
}
