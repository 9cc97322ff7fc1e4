/** Names of what is seen: what shots and people are called, for the brief and for rights. */
import type { Film, Shot, Val } from '../film.ts';

/** Everything that a shot shows by name, its people included. */
export function shownIn(shot: Shot): Val<string>[] {
  return [...shot.shows, ...shot.people];
}

/** The names of everything that some shot shows. */
export function everythingShown(film: Film): Set<string> {
  return new Set([...film.shots.values()].flatMap((shot) => shownIn(shot).map((val) => val.value)));
}
