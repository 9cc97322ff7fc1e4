/** The surface as seen from above: a rectangle with its middle under the product. Its very edge belongs to it. */
import type { Vec3 } from '../../calc/geometry.ts';
import type { Shot } from '../film.ts';
import type { Mm } from '../units.ts';

/** From its middle to its edges. */
export interface HalfSurface {
  readonly halfWidthMm: Mm;
  readonly halfDepthMm: Mm;
}

/** Undefined where its size is not said. */
export function halfSurface({ surface }: Pick<Shot, 'surface'>): HalfSurface | undefined {
  const size = surface?.size?.value;
  return size && { halfWidthMm: size.widthMm / 2, halfDepthMm: (size.depthMm ?? size.heightMm) / 2 };
}

/** How far a place is past the nearer side, and past the front or the back; minus: within. */
export function pastSurface({ halfWidthMm, halfDepthMm }: HalfSurface, { x, z }: Vec3): { asideMm: Mm; aheadMm: Mm } {
  return { asideMm: Math.abs(x) - halfWidthMm, aheadMm: Math.abs(z) - halfDepthMm };
}

/** Less than this is rounding. */
const rounding: Mm = 1e-6;

/** Is a place over the surface, or under it? */
export function isOnSurface(half: HalfSurface, place: Vec3): boolean {
  const { asideMm, aheadMm } = pastSurface(half, place);
  return Math.max(asideMm, aheadMm) <= rounding;
}
