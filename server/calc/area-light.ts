/** Light of an evenly bright flat lamp on a small face that is turned any way. */
import { addScaled, cross, dot, lengthOf, subtract, type Vec3 } from './geometry.ts';

/**
 * Configuration factor of a lit flat outline seen from a small face at the origin: Lambert's formula,
 * ½π⁻¹ · |Σ γᵢ · n·(vᵢ × vᵢ₊₁)/|vᵢ × vᵢ₊₁||, γᵢ the angle between neighbouring corners (Photometria, 1760; Baum et al.,
 * SIGGRAPH 1989). What lies behind the face's own plane lights nothing of it and is cut off.
 * @param outline corners in order, from the face
 * @param normal of the face, length 1
 */
export function outlineFactor(outline: readonly Vec3[], normal: Vec3): number {
  const corners = before(outline, normal);
  let sum = 0;
  for (let index = 0; index < corners.length; index++) {
    const corner = corners[index]!;
    const next = corners[(index + 1) % corners.length]!;
    const across = cross(corner, next);
    const length = lengthOf(across);
    if (length > 0) sum += (Math.atan2(length, dot(corner, next)) * dot(across, normal)) / length;
  }
  return Math.abs(sum) / (2 * Math.PI);
}

/** The part of an outline that lies before a plane through the origin (Sutherland and Hodgman, one side). */
function before(outline: readonly Vec3[], normal: Vec3): readonly Vec3[] {
  if (outline.every((point) => dot(point, normal) >= 0)) return outline;
  const kept: Vec3[] = [];
  let last = outline.at(-1)!;
  for (const point of outline) {
    const here = dot(point, normal);
    const there = dot(last, normal);
    if (here >= 0 !== there >= 0) kept.push(addScaled(last, subtract(point, last), there / (there - here)));
    if (here >= 0) kept.push(point);
    last = point;
  }
  return kept;
}
