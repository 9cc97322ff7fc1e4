import { describe, expect, it } from 'vitest';
import { outlineFactor } from '../../server/calc/area-light.ts';
import { angleBetweenDeg, dot, lengthOf, lookAt, rectangle, type Vec3 } from '../../server/calc/geometry.ts';
import { configurationFactor } from '../../server/calc/light.ts';

const ahead = { x: 0, y: 0, z: 1 };
const up = { x: 0, y: 1, z: 0 };

/** An upright window before a small face at the origin, its middle at a place. */
const pane = (at: Vec3, widthM: number, heightM: number) =>
  rectangle(at, { x: 1, y: 0, z: 0 }, up, widthM / 2, heightM / 2);

/** The same added up patch by patch, ΣcosΘ₁cosΘ₂ dA ÷ (πr²), the definition of the factor. */
function patches(outline: readonly Vec3[], normal: Vec3): number {
  const [a, b, , d] = outline as [Vec3, Vec3, Vec3, Vec3];
  const steps = 400;
  const lerp = (from: Vec3, to: Vec3, share: number) => ({
    x: from.x + (to.x - from.x) * share,
    y: from.y + (to.y - from.y) * share,
    z: from.z + (to.z - from.z) * share,
  });
  const [across, high] = [lerp(a, b, 1), lerp(a, d, 1)].map((end) => ({
    x: end.x - a.x,
    y: end.y - a.y,
    z: end.z - a.z,
  }));
  const area = lengthOf(across!) * lengthOf(high!);
  const face = lookAt({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 1 }).forward;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const start = lerp(a, b, (i + 0.5) / steps);
      const offset = (j + 0.5) / steps;
      const at = { x: start.x + high!.x * offset, y: start.y + high!.y * offset, z: start.z + high!.z * offset };
      const r = lengthOf(at);
      sum += (Math.max(0, dot(at, normal) / r) * Math.abs(dot(at, face) / r)) / (Math.PI * r * r);
    }
  }
  return (sum * area) / (steps * steps);
}

describe('a lit rectangle on a face turned any way', () => {
  // Siegel and Howell: parallel rectangle, four quarters.
  it.each([
    [0.9, 1.2, 1],
    [1.2, 0.04, 0.5],
  ])('agrees straight before it with the parallel rectangle, %d by %d m at %d m', (w, h, d) => {
    expect(outlineFactor(pane({ x: 0, y: 0, z: d }, w, h), ahead)).toBeCloseTo(configurationFactor(w, h, d), 12);
  });

  // Howell, A Catalog of Radiation Heat Transfer Configuration Factors (number from memory): element square to a rectangle, below
  // its corner: (atan(1/Y) − Y ÷ √(X² + Y²) · atan(1 ÷ √(X² + Y²))) ÷ 2π, X = height ÷ width, Y = distance ÷ width.
  it('agrees with the perpendicular rectangle', () => {
    const [width, height, distance] = [0.9, 1.2, 1];
    const [x, y] = [height / width, distance / width];
    const root = Math.hypot(x, y);
    const published = (Math.atan(1 / y) - (y / root) * Math.atan(1 / root)) / (2 * Math.PI);
    const corner = pane({ x: width / 2, y: height / 2, z: distance }, width, height);
    expect(outlineFactor(corner, up)).toBeCloseTo(published, 12);
  });

  it.each([
    ['aslant', { x: 0, y: 0.14, z: 1 }, { x: 0.3, y: 0.8, z: Math.sqrt(1 - 0.73) }],
    ['looking up, half the window below it', { x: 0, y: 0.14, z: 1 }, up],
    ['looking aside, near a large window', { x: 0.2, y: 0, z: 0.4 }, { x: -1, y: 0, z: 0 }],
  ])('agrees with its definition %s', (_, at, normal) => {
    const outline = pane(at, 0.9, 1.2);
    expect(outlineFactor(outline, normal) / patches(outline, normal)).toBeCloseTo(1, 2);
  });

  // Lambert's cosine law, far away.
  it('is a cosine far away, and nothing from behind', () => {
    const far = pane({ x: 0, y: 0, z: 30 }, 0.9, 1.2);
    const aslant = { x: 0, y: Math.sin(1), z: Math.cos(1) };
    expect(outlineFactor(far, aslant) / outlineFactor(far, ahead)).toBeCloseTo(Math.cos(1), 3);
    expect(angleBetweenDeg(aslant, ahead)).toBeCloseTo(57.3, 1);
    expect(outlineFactor(far, { x: 0, y: 0, z: -1 })).toBe(0);
  });
});
