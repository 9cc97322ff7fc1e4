/** The set from the side: cut along the line from camera to subject, the camera on the left of the page. */
import { directionOf } from '../../calc/geometry.ts';
import type { Film, Shot } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { type Room, usualRoom } from '../page.ts';
import type { Picture, Source } from '../picture.ts';
import { sceneOf } from '../scene.ts';
import { drawSet } from './index.ts';
import type { Side } from './scale.ts';

/** True lengths are those along the camera's line and upright. */
export function sideOf(shot: Shot): Side {
  const out = directionOf(along(shot.camera.angle?.value, 0) ?? 0);
  return {
    view: 'set-side',
    words: 'from the side',
    from: 'side',
    flat: ({ x, y, z }) => ({ right: -(x * out.x + z * out.z), up: y }),
  };
}

export function drawSide(source: Source, film: Film, shot: Shot, room: Room = usualRoom): Picture {
  return drawSet(source, sceneOf(shot, film), sideOf(shot), room);
}
