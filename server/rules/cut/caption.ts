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
  if (!title.text || !/^[\p{P}\s]*\p{Ll}/u.test(title.text.value)) return false;
  return film.titles.some(
    (one) => isFollowedBy(one, title, film) && !/[.!?]["'”’»)]*\s*$/u.test(one.text?.value ?? ''),
  );
}

/** Does another card come in its place as it goes, or did one go as it came? */
export function isInRow(title: Title, film: Film): boolean {
  return film.titles.some((one) => isFollowedBy(one, title, film) || isFollowedBy(title, one, film));
}

function isFollowedBy(first: Title, second: Title, film: Film): boolean {
  if (first.atS === undefined || second.atS === undefined || first.atS >= second.atS) return false;
  if (first.place !== second.place || Math.abs(second.atS - first.atS - (first.holdS ?? 0)) > pauseS) return false;
  const shown = deliverablesOf(second, film);
  return deliverablesOf(first, film).some((other) => shown.includes(other));
}
