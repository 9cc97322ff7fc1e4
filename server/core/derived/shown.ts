/** Names of what is seen: what shots and people are called, for the brief and for rights. */
import type { Film, Shot, Val } from '../film.ts';
import { once } from '../memo.ts';

/** Everything that a shot shows by name, its people included. */
export function shownIn(shot: Shot): Val<string>[] {
  return [...shot.shows, ...shot.people];
}

/** The names of everything that some shot shows. */
export const everythingShown = once((film: Film): ReadonlySet<string> => {
  const names = new Set<string>();
  for (const { shows, people } of film.shots.values()) {
    for (const { value } of shows) names.add(value);
    for (const { value } of people) names.add(value);
  }
  return names;
});
