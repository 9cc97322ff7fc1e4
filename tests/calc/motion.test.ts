import { describe, expect, it } from 'vitest';
import {
  blurPx,
  degreesTurned,
  fallSpeedMmS,
  panStepShare,
  rimSpeedMmS,
  rpmFor,
  secondsForZoom,
  stepPx,
  timeForBlurS,
  zoomStepShare,
} from '../../server/calc/motion.ts';

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

describe('steps from frame to frame', () => {
  it('slides 4 px blurred and 8 px a frame at 20 mm/s, 10 px/mm, 1/50 s, 25', () => {
    expect(blurPx(20, 1 / 50, 10)).toBeCloseTo(4, 9);
    expect(stepPx(20, 10, 25)).toBeCloseTo(8, 9);
    expect(stepPx(20, 10, 25, 0.5)).toBeCloseTo(4, 9);
  });

  // "Motion Picture", chapter 4: a full width in no less than 7 s at 24 frames a second.
  it('keeps to the published pan guide', () => {
    const perFrame = stepPx(3840 / 7, 1, 24);
    expect(perFrame).toBeCloseTo(22.86, 2);
    expect(stepPx(3840 / 7, 1, 25)).toBeCloseTo(21.94, 2);
    expect(blurPx(3840 / 7, 1 / 48, 1)).toBeCloseTo(11.43, 2);
    expect(Math.abs(perFrame / 3840 - panStepShare)).toBeLessThan(0.0001);
    expect(1920 * panStepShare).toBeCloseTo(11.5, 1);
  });

  it('moves the edge of an even zoom most at its widest', () => {
    const share = zoomStepShare(1, 1.4, 0.8, 25);
    // By brute force: a point at the picture's edge at the first of 20 even steps of a zoom from 1.
    const firstStep = 0.5 * ((1 + 0.4 / 20) / 1 - 1);
    expect(share).toBeCloseTo(firstStep, 9);
    expect(zoomStepShare(1.4, 1, 0.8, 25)).toBe(share);
    expect(zoomStepShare(2, 3, 0.8, 25)).toBeCloseTo(0.5 * ((2 + 1 / 20) / 2 - 1), 9);
    expect(zoomStepShare(1, 1.4, secondsForZoom(1, 1.4, 25), 25)).toBeCloseTo(panStepShare, 12);
  });
});

describe('falling', () => {
  // Free fall, v = √(2gh) with g = 9.81 m/s².
  it('reaches 2.0 m/s after 20 cm: 257 px at 1/50 s and 6.5 px/mm', () => {
    expect(fallSpeedMmS(200)).toBeCloseTo(1980.9, 1);
    expect(blurPx(fallSpeedMmS(200), 1 / 50, 6.5)).toBeCloseTo(257.5, 1);
    expect(1 / timeForBlurS(fallSpeedMmS(200), 6.5, 3)).toBeCloseTo(4292, 0);
    expect(fallSpeedMmS(0)).toBe(0);
  });
});
