/** The surface as seen from above: a rectangle on which the product stands, centred sideways. Its very edge belongs to it. */
import type { Vec3 } from '../../calc/geometry.ts';
import type { Film, Shot } from '../film.ts';
import type { Mm } from '../units.ts';

/** Where its edges are, from the middle of the product. */
export interface SurfaceOutline {
  readonly halfWidthMm: Mm;
  /** Minus: before the product, where the camera stands at 0°. */
  readonly frontMm: Mm;
  readonly backMm: Mm;
}

/** Undefined where its size is not said. */
export function surfaceOutline({ surface }: Pick<Shot, 'surface'>): SurfaceOutline | undefined {
  const size = surface?.size?.value;
  if (!size) return undefined;
  const depthMm = size.depthMm ?? size.heightMm;
  const frontMm = -(surface.front?.value ?? depthMm / 2);
  return { halfWidthMm: size.widthMm / 2, frontMm, backMm: frontMm + depthMm };
}

/** Its corners, one after the other round it. */
export function surfaceCorners({ halfWidthMm: x, frontMm, backMm }: SurfaceOutline): Vec3[] {
  return [
    { x: -x, y: 0, z: frontMm },
    { x, y: 0, z: frontMm },
    { x, y: 0, z: backMm },
    { x: -x, y: 0, z: backMm },
  ];
}

/** How far a place is past the nearer side, and past the front or the back; minus: within. */
export function pastSurface(
  { halfWidthMm, frontMm, backMm }: SurfaceOutline,
  { x, z }: Vec3,
): { asideMm: Mm; aheadMm: Mm } {
  return { asideMm: Math.abs(x) - halfWidthMm, aheadMm: Math.max(frontMm - z, z - backMm) };
}

/** Less than this is rounding. */
const rounding: Mm = 1e-6;

/** Is a place over the surface, or under it? */
export function isOnSurface(outline: SurfaceOutline, place: Vec3): boolean {
  const { asideMm, aheadMm } = pastSurface(outline, place);
  return Math.max(asideMm, aheadMm) <= rounding;
}

/** All that is filmed on the surface of a shot: where the product stands on it is one answer for them all. */
export function onSameSurface({ surface }: Shot, { shots }: Film): Shot[] {
  return [...shots.values()].filter((one) => one.surface?.size && one.surface.size.start === surface?.size?.start);
}
