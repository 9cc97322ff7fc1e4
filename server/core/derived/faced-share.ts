/** How much of a lamp's light a face keeps that is not turned to it. */
import { outlineFactor } from '../../calc/area-light.ts';
import { angleBetweenDeg, lookAt, rectangle, subtract, unit, type Vec3 } from '../../calc/geometry.ts';
import { cosineShare, isWide } from '../../calc/light.ts';
import type { LampPlace } from '../film.ts';
import type { Share } from '../units.ts';
import { isWindow, lampSides, lampSize } from './lamp-size.ts';

/**
 * Light on a face at `to`, over that on one there which is turned to the lamp's middle: the cosine for a small lamp. Of a wide one a
 * part stands less aslant than its middle, and a part of it is still seen where the middle is not.
 * @param from where the lamp stands, turned to `aimedAt`
 * @param faces the way that the face looks
 */
export function facedShare(
  lamp: LampPlace,
  { from, aimedAt, to }: { readonly from: Vec3; readonly aimedAt: Vec3; readonly to: Vec3 },
  faces: Vec3,
): Share {
  const way = subtract(from, to);
  const share = cosineShare(angleBetweenDeg(way, faces));
  if (!isWide(lampSize(lamp))) return share;
  const { levelMm, uprightMm } = lampSides(lamp);
  // A window is in a wall, which stands upright.
  const { right, up } = lookAt(from, isWindow(lamp) ? { ...aimedAt, y: from.y } : aimedAt);
  const outline = rectangle(way, right, up, levelMm / 2, uprightMm / 2);
  const turned = outlineFactor(outline, unit(way));
  return turned > 0 ? outlineFactor(outline, unit(faces)) / turned : share;
}
