/** Outlines as they are seen from a place: ways to their corners, and the least angle from one to another. */
import { cross, deg, dot, unit, type Vec3 } from './geometry.ts';

/**
 * The least angle between two convex outlines that do not overlap, each given by the ways to its corners, round it. What is straight
 * is seen as part of a great circle; the least lies between a corner of one and a side of the other.
 */
export function apartDeg(one: readonly Vec3[], other: readonly Vec3[]): number {
  const [ways, others] = [one.map(unit), other.map(unit)];
  const cosine = Math.max(nearestCosine(ways, sidesOf(others)), nearestCosine(others, sidesOf(ways)));
  return Math.acos(Math.min(1, cosine)) * deg;
}

/** A part of a great circle, between two planes through the eye that stand square to it at its ends. */
interface Side {
  readonly start: Vec3;
  readonly pole: Vec3;
  readonly pastStart: Vec3;
  readonly beforeEnd: Vec3;
}

function sidesOf(corners: readonly Vec3[]): Side[] {
  return corners.map((start, index) => {
    const end = corners[(index + 1) % corners.length]!;
    // It has no length between two corners at one place.
    const pole = unit(cross(start, end));
    return { start, pole, pastStart: cross(pole, start), beforeEnd: cross(end, pole) };
  });
}

/** Of the least angle: from a corner square to a side where that meets it between its ends, else to one of those. */
function nearestCosine(corners: readonly Vec3[], sides: readonly Side[]): number {
  let most = -1;
  for (const corner of corners) {
    for (const { start, pole, pastStart, beforeEnd } of sides) {
      const isBetween = dot(corner, pastStart) > 0 && dot(corner, beforeEnd) > 0;
      const aside = dot(corner, pole);
      most = Math.max(most, isBetween ? Math.sqrt(Math.max(0, 1 - aside * aside)) : dot(corner, start));
    }
  }
  return most;
}
