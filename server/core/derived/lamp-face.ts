/** How what shines stands: which way it is turned, and where its corners are. */
import { addScaled, lengthOf, lookAt, rectangle, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { LampPlace, Shot } from '../film.ts';
import { lampStand, lampTarget } from './backdrop-light.ts';
import { isWindow, lampSides } from './lamp-size.ts';

/** The corners of a lamp that stands at a place, round it: one side lies level, the other square to it. */
export function lampFace(lamp: LampPlace, at: Vec3, shot: Shot, moment: number): Vec3[] {
  const { levelMm, uprightMm } = lampSides(lamp);
  const faced = facedPlace(lamp, at, shot, moment);
  // A window is in a wall, which stands upright.
  const { right, up } = lookAt(at, isWindow(lamp) ? { ...faced, y: at.y } : faced);
  return rectangle(at, right, up, levelMm / 2, uprightMm / 2);
}

/**
 * A place that it is turned to: what a lamp aims at; for a board, half way between its lamp and that. One that stands while its
 * lamp rides along is turned once, for where that begins.
 */
function facedPlace(lamp: LampPlace, at: Vec3, shot: Shot, moment: number): Vec3 {
  const target = lampTarget(lamp, shot) ?? at;
  const { bounces } = lamp;
  const source = bounces && lampStand(bounces, shot, lamp.changes ? moment : 0);
  if (!source) return target;
  const [toTarget, toSource] = [subtract(target, at), subtract(source, at)];
  const ways = [lengthOf(toTarget), lengthOf(toSource)] as const;
  if (ways[0] === 0 || ways[1] === 0) return target;
  const faced = addScaled(addScaled(at, toTarget, 1 / ways[0]), toSource, 1 / ways[1]);
  // One that stands between both can't serve both.
  return lengthOf(subtract(faced, at)) < 1e-6 ? target : faced;
}
