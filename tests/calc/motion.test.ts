import { describe, expect, it } from 'vitest';
import { blurPx, degreesTurned, rimSpeedMmS, rpmFor, timeForBlurS } from '../../server/calc/motion.ts';

describe('turntables', () => {
  // v = 2πr·rpm ÷ 60.
  it.each([
    [50, 1, 5.236],
    [50, 2, 10.472],
  ])('rim at %i mm and %i rpm', (radius, rpm, speed) => {
    expect(rimSpeedMmS(radius, rpm)).toBeCloseTo(speed, 3);
  });

  // v·t·px/mm, front face across the picture.
  it.each([
    [1, 50, 1 / 50, 10, 1.0472],
    [2, 50, 1 / 50, 10, 2.0944],
    [1, 100, 1 / 50, 12.8, 2.6808],
    [0.5, 60, 1 / 48, 19.2, 1.2566],
    [2, 45, 1 / 50, 12.3, 2.3185],
  ])('%d rpm at %d mm', (rpm, radius, time, px, blur) => {
    const speed = rimSpeedMmS(radius, rpm);
    expect(Math.abs(blurPx(speed, time, px) - blur)).toBeLessThan(0.001);
    expect(timeForBlurS(speed, px, blurPx(speed, time, px))).toBeCloseTo(time, 12);
  });

  it('turns 6° a second for each rpm: 90° in 3 s is 5 rpm', () => {
    expect(degreesTurned(2, 4.8)).toBeCloseTo(57.6, 9);
    expect(rpmFor(90, 3)).toBeCloseTo(5, 9);
    expect(rpmFor(90, 4.8)).toBeCloseTo(3.125, 9);
    expect(rpmFor(90, 0)).toBe(Infinity);
  });
});

describe('blur of one exposure', () => {
  it('slides 4 px blurred at 20 mm/s, 10 px/mm, 1/50 s', () => {
    expect(blurPx(20, 1 / 50, 10)).toBeCloseTo(4, 9);
  });

  it('is a half of the step of a pan at 180°: a full width of 3840 px in 7 s', () => {
    expect(blurPx(3840 / 7, 1 / 48, 1)).toBeCloseTo(11.43, 2);
  });
});
