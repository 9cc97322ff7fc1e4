import { describe, expect, it } from 'vitest';
import { angleBetweenDeg, type Vec3 } from '../../server/calc/geometry.ts';
import { apartDeg } from '../../server/calc/sphere.ts';

const tan = (degrees: number) => Math.tan((degrees * Math.PI) / 180);
/** A picture 20° wide and high, and a flat thing ahead whose corners lie at tangents. */
const frame = ways([-10, -10], [10, -10], [10, 10], [-10, 10]);

function ways(...corners: readonly (readonly [number, number])[]): Vec3[] {
  return corners.map(([x, y]) => ({ x: tan(x), y: tan(y), z: 1 }));
}

/** By all points of both outlines, the definition of the least angle. */
function byAllPoints(one: readonly Vec3[], other: readonly Vec3[]): number {
  const points = (outline: readonly Vec3[]) =>
    outline.flatMap((start, index) => {
      const end = outline[(index + 1) % outline.length]!;
      const at = (key: keyof Vec3, share: number) => start[key] + (end[key] - start[key]) * share;
      return Array.from({ length: 400 }, (_, step) => step / 400).map((share) => ({
        x: at('x', share),
        y: at('y', share),
        z: at('z', share),
      }));
    });
  const others = points(other);
  return Math.min(...points(one).map((way) => Math.min(...others.map((each) => angleBetweenDeg(way, each)))));
}

describe('the least angle between what is seen', () => {
  // Geometry: level with the middle the gap is the difference of the angles.
  it('is what lies between them, beside each other', () => {
    expect(apartDeg(frame, ways([25, 0], [40, -5], [40, 5]))).toBeCloseTo(15, 6);
  });

  it.each([
    ['off a corner', ways([18, 20], [30, 20], [30, 40], [18, 40])],
    ['over a side, a corner down', ways([0, 15], [12, 25], [0, 35], [-12, 25])],
    ['leaning past a corner', ways([30, -4], [36, 2], [2, 36], [-4, 30])],
  ])('agrees with all points of both %s', (_, thing) => {
    expect(Math.abs(apartDeg(frame, thing) - byAllPoints(frame, thing))).toBeLessThan(0.02);
  });

  it('counts what reaches behind the lens', () => {
    const behind = [...ways([20, -5], [20, 5]), { x: 1, y: 0.2, z: -1 }, { x: 1, y: -0.2, z: -1 }];
    expect(Math.abs(apartDeg(frame, behind) - byAllPoints(frame, behind))).toBeLessThan(0.02);
  });
});
