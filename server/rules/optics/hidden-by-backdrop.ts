import { subtract, type Vec3 } from '../../calc/geometry.ts';
import { type Hung } from '../../core/derived/past-backdrop.ts';

/** Does the backdrop hang between a lamp and what it aims at? */
export function hides(hung: Hung, lamp: Vec3, target: Vec3): boolean {
  if (lamp.z <= hung.behindMm || target.z >= hung.behindMm) return false;
  const way = subtract(target, lamp);
  const part = (hung.behindMm - lamp.z) / way.z;
  const x = lamp.x + way.x * part;
  const y = lamp.y + way.y * part;
  return Math.abs(x) < hung.halfWidthMm && y > hung.bottomMm && y < hung.topMm;
}
