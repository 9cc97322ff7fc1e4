/** Outlines as they are seen from a place: ways to their corners, and the least angle from one to another. */
import { addScaled, angleBetweenDeg, cross, dot, type Vec3 } from './geometry.ts';

/**
 * The least angle between two convex outlines that do not overlap, each given by the ways to its corners, round it. What is straight
 * is seen as part of a great circle; the least lies between a corner of one and a side of the other.
 */
export function apartDeg(one: readonly Vec3[], other: readonly Vec3[]): number {
  const toSides = (corners: readonly Vec3[], sides: readonly Vec3[]) =>
    corners.flatMap((corner) =>
      sides.map((start, index) => fromArcDeg(corner, start, sides[(index + 1) % sides.length]!)),
    );
  return Math.min(...toSides(one, other), ...toSides(other, one));
}

/** From a way to the nearest between two others. */
function fromArcDeg(way: Vec3, start: Vec3, end: Vec3): number {
  const pole = cross(start, end);
  const flat = dot(pole, pole) > 0 ? addScaled(way, pole, -dot(way, pole) / dot(pole, pole)) : start;
  const isBetween = dot(cross(start, flat), pole) >= 0 && dot(cross(flat, end), pole) >= 0;
  const nearest = isBetween ? [flat] : [start, end];
  return Math.min(...nearest.map((one) => angleBetweenDeg(way, one)));
}
