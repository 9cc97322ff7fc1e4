/** Where a title has the time to be read: `at` and `hold` together, so that no rule about titles is left to complain. */
import { deliverablesOf, exactTime, filmTimeLike, sameTimeS } from '../../core/derived/edit.ts';
import { standsOver } from '../../core/derived/titles.ts';
import type { Film, Title } from '../../core/film.ts';
import { framesToS, sToFrames } from '../../calc/rate.ts';
import { filmSeconds } from '../../core/resolve/edit.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { type Ends, filmTime, type Seconds } from '../../core/units.ts';

/**
 * Holds a title for at least `neededS`, and starts it earlier where it would outlast the film, run into the next title in
 * its place, or over a cut that it does not cross yet. None where there is no room for it.
 */
export function heldFor(title: Title, film: Film, neededS: Seconds): FixIdea[] {
  const hold = filmTimeLike(title.hold, neededS, film, 'up');
  if (hold === undefined) return [];
  const heldS = secondsOf(hold, film) ?? neededS;
  if (!hasRoom(title, film, heldS)) return [];
  if (title.atS === undefined || title.atS <= latestStartS(title, film, heldS) + sameTimeS)
    return [set(`Hold it for ${hold}`, [title, 'hold', hold])];
  const at = startText(title, film, latestStartS(title, film, heldS));
  return at ? [set(`Start it at ${at} and hold it for ${hold}`, [title, 'at', at], [title, 'hold', hold])] : [];
}

/** Starts a title so early that the film shows all of the hold that it has. */
export function startEarlier(title: Title, film: Film): FixIdea[] {
  const at = startText(title, film, latestStartS(title, film, title.holdS ?? 0));
  return at ? [set(`Start it at ${at} (hold unchanged)`, [title, 'at', at])] : [];
}

/** Can it be up for so long over the pieces that it stands over now? */
export function hasRoom(title: Title, film: Film, heldS: Seconds): boolean {
  return latestStartS(title, film, heldS) >= (stretchOf(title, film)?.from ?? 0) - sameTimeS;
}

/** The pieces of the cut that it stands over: words that run on over the next picture are read as being of that. */
function stretchOf(title: Title, film: Film): Ends<Seconds> | undefined {
  const under = film.cut.filter((piece) => standsOver(title, piece, film));
  return under.length === 0 ? undefined : { from: under[0]!.startS!, to: under.at(-1)!.endS! };
}

/**
 * When a title must start to be up for so long before the film or its piece ends, or the next title in its place comes;
 * may be below 0.
 */
export function latestStartS(title: Title, film: Film, heldS: Seconds): Seconds {
  const shown = deliverablesOf(title, film);
  const later = film.titles.flatMap((one) => {
    if (one.atS === undefined || one.place !== title.place || one.atS <= (title.atS ?? Infinity)) return [];
    return deliverablesOf(one, film).some((other) => shown.includes(other)) ? [one.atS] : [];
  });
  return Math.min(film.cutS ?? Infinity, stretchOf(title, film)?.to ?? Infinity, ...later) - heldS;
}

/** Not after `seconds`, as the user writes times; to the frame where that would start before the piece that it stands over. */
function startText(title: Title, film: Film, seconds: Seconds): string | undefined {
  if (seconds < -sameTimeS) return undefined;
  // A unit of which less than one is left starts with the film.
  const text = filmTimeLike(title.at, seconds, film, 'down') ?? '0 s';
  const from = stretchOf(title, film)?.from ?? 0;
  if ((secondsOf(text, film) ?? from) >= from - sameTimeS) return text;
  const rate = film.timeline.rate?.value;
  const frame = rate && Math.floor(sToFrames(seconds, rate) + 1e-6);
  return rate && framesToS(frame!, rate) >= from - sameTimeS ? exactTime(frame!, title.at, film) : undefined;
}

function secondsOf(text: string, film: Film): Seconds | undefined {
  return filmSeconds(filmTime(text), { rate: film.timeline.rate?.value, tempoBpm: film.music?.tempo?.value });
}
