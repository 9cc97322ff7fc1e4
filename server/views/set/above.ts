/** The set from above: the camera at 0° is at the bottom of the page, camera left on its left. */
import type { Film, Shot } from '../../core/film.ts';
import { type Room, usualRoom } from '../page.ts';
import type { Picture, Source } from '../picture.ts';
import { sceneOf } from '../scene.ts';
import { drawSet } from './index.ts';
import type { Side } from './scale.ts';

export const above: Side = {
  view: 'set-above',
  words: 'from above',
  from: 'above',
  flat: ({ x, z }) => ({ right: x, up: z }),
};

export function drawAbove(source: Source, film: Film, shot: Shot, room: Room = usualRoom): Picture {
  return drawSet(source, sceneOf(shot, film), above, room);
}
