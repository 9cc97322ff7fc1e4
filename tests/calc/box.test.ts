import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deepestSeenMm,
  outlineHeightMm,
  outlineWidthMm,
  sweepMm,
  widestOutlineMm,
  widestTurnDeg,
} from '../../server/calc/box.ts';

const box = { widthMm: 90, depthMm: 60, heightMm: 70 };

/** The extents of the eight corners along the camera's axes, by turning and tilting each. */
function corners(lookDown: number, turn: number) {
  const [e, y] = [(lookDown * Math.PI) / 180, (turn * Math.PI) / 180];
  const seen = [-1, 1].flatMap((a) =>
    [-1, 1].flatMap((b) =>
      [-1, 1].map((c) => {
        const [x, up, z] = [(a * box.widthMm) / 2, (b * box.heightMm) / 2, (c * box.depthMm) / 2];
        const [tx, tz] = [x * Math.cos(y) + z * Math.sin(y), -x * Math.sin(y) + z * Math.cos(y)];
        return { across: tx, along: tz * Math.cos(e) - up * Math.sin(e), up: up * Math.cos(e) + tz * Math.sin(e) };
      }),
    ),
  );
  const extent = (of: 'across' | 'along' | 'up') =>
    Math.max(...seen.map((corner) => corner[of])) - Math.min(...seen.map((corner) => corner[of]));
  return { width: extent('across'), depth: extent('along'), height: extent('up') };
}

describe('a box before the camera (projection of its corners)', () => {
  it('agrees with its corners from any side', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 90 }), fc.integer({ min: -360, max: 360 }), (lookDown, turn) => {
        const seen = corners(lookDown, turn);
        expect(deepestSeenMm(box, lookDown, turn, turn)).toBeCloseTo(seen.depth, 9);
        expect(outlineHeightMm(box, lookDown, turn)).toBeCloseTo(seen.height, 9);
        expect(outlineWidthMm(box, turn)).toBeCloseTo(seen.width, 9);
      }),
    );
  });

  it('is 80 mm deep standing and 126 mm over a turn, 20° from above', () => {
    expect(deepestSeenMm(box, 20, 0, 0)).toBeCloseTo(80.3, 1);
    expect(deepestSeenMm(box, 20, 0, 360)).toBeCloseTo(125.6, 1);
    expect(sweepMm(box)).toBeCloseTo(108.2, 1);
    expect(widestTurnDeg(box)).toBeCloseTo(33.7, 1);
    expect(outlineWidthMm(box, widestTurnDeg(box))).toBeCloseTo(sweepMm(box), 9);
  });

  it('finds the widest and deepest of part of a turn by trying every tenth of a degree', () => {
    for (const [from, to] of [
      [0, 20],
      [0, 90],
      [20, 40],
      [-20, 10],
      [100, 200],
      [350, 370],
      [60, 30],
      [0, 360],
    ] as const) {
      let [widest, deepest] = [0, 0];
      for (let turn = Math.min(from, to); turn <= Math.max(from, to) + 1e-9; turn += 0.1) {
        widest = Math.max(widest, outlineWidthMm(box, turn));
        deepest = Math.max(deepest, corners(20, turn).depth);
      }
      expect(widestOutlineMm(box, from, to)).toBeCloseTo(widest, 2);
      expect(deepestSeenMm(box, 20, from, to)).toBeCloseTo(deepest, 2);
    }
  });
});
