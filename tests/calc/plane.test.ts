/** Checked by hand: squares, and a triangle that a square cuts. */
import { describe, expect, it } from 'vitest';
import { areaOf, within } from '../../server/calc/plane.ts';

const square = [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 4 },
  { x: 0, y: 4 },
];

describe('what of an outline lies in a rectangle', () => {
  const areaIn = (outline: typeof square, left: number, top: number, right: number, bottom: number) =>
    areaOf(within(outline, { from: { x: left, y: top }, to: { x: right, y: bottom } }));

  it('is all of it, a part, or nothing', () => {
    expect(areaIn(square, -1, -1, 5, 5)).toBe(16);
    expect(areaIn(square, 3, -1, 9, 2)).toBe(2);
    expect(areaIn(square, 1, 1, 2, 3)).toBe(2);
    expect(areaIn(square, 5, 0, 9, 4)).toBe(0);
    expect(areaIn([], 0, 0, 1, 1)).toBe(0);
  });

  it('follows a slanted side', () => {
    const triangle = [square[0]!, square[1]!, square[3]!];
    expect(areaOf(triangle)).toBe(8);
    // Of the half square below the diagonal, the square of 3 by 3 at its corner loses a triangle of 2 by 2.
    expect(areaIn(triangle, 0, 0, 3, 3)).toBe(7);
  });
});
