import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseRate, rateFps } from '../../server/calc/rate.ts';
import {
  effectiveAngleDeg,
  framesPerStep,
  markedShutters,
  shutterAngleDeg,
  shutterForEffectiveAngleS,
  shutterS,
} from '../../server/calc/shutter.ts';

const fps = (text: string) => rateFps(parseRate(text)!);

describe('shutter angle', () => {
  // t = angle ÷ 360 ÷ rate, with the exact rates of ITU-R BT.709-6. Published rows: 172.8° is 1/50 s at 24 (two pulses
  // at 50 Hz); 150° and 75° at 25 under 60 Hz (tables of flicker-free shutter angles).
  it.each([
    ['23.976', 47.952, 172.627, 143.856, 86.314, 71.928],
    ['24', 48, 172.8, 144, 86.4, 72],
    ['25', 50, 180, 150, 90, 75],
    ['29.97', 59.94, 215.784, 179.82, 107.892, 89.91],
    ['30', 60, 216, 180, 108, 90],
    ['50', 100, 360, 300, 180, 150],
    ['59.94', 119.88, 431.568, 359.64, 215.784, 179.82],
    ['60', 120, 432, 360, 216, 180],
  ])('at %s', (rate, half, at50, at60, at100, at120) => {
    expect(1 / shutterS(180, fps(rate))).toBeCloseTo(half, 2);
    expect(shutterAngleDeg(1 / 50, fps(rate))).toBeCloseTo(at50, 3);
    expect(shutterAngleDeg(1 / 60, fps(rate))).toBeCloseTo(at60, 3);
    expect(shutterAngleDeg(1 / 100, fps(rate))).toBeCloseTo(at100, 3);
    expect(shutterAngleDeg(1 / 120, fps(rate))).toBeCloseTo(at120, 3);
  });

  it('comes back from its own time', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 360, noNaN: true }),
        fc.double({ min: 1, max: 240, noNaN: true }),
        (angle, rate) => {
          expect(shutterAngleDeg(shutterS(angle, rate), rate)).toBeCloseTo(angle, 9);
        },
      ),
    );
  });
});

describe('the angle that counts after a speed change (arithmetic)', () => {
  it('judges 50 in a 25 film at real speed by every second frame', () => {
    expect(framesPerStep(1, 50, 25)).toBe(2);
    expect(effectiveAngleDeg(1 / 100, 50, 2)).toBeCloseTo(90, 9);
  });

  it('judges slow motion by the recorded frames', () => {
    expect(framesPerStep(0.25, 100, 25)).toBe(1);
    expect(effectiveAngleDeg(1 / 200, 100, 1)).toBeCloseTo(180, 9);
    expect(framesPerStep(0.4, 25, 25)).toBeCloseTo(0.4, 12);
    expect(effectiveAngleDeg(1 / 50, 25, 0.4)).toBeCloseTo(180, 9);
    expect(framesPerStep(0.5, 60, 25)).toBeCloseTo(1.2, 12);
  });

  it('finds the time back', () => {
    expect(shutterForEffectiveAngleS(180, 50, 2)).toBeCloseTo(1 / 50, 12);
  });
});

describe('marked times', () => {
  it('marks each third of a stop once, within a tenth of it', () => {
    const thirds = markedShutters.map((mark) => Math.round(3 * Math.log2(mark)));
    expect(thirds).toEqual(thirds.map((_, index) => thirds[0]! + index));
    for (const [index, mark] of markedShutters.entries())
      expect(Math.abs(Math.log2(mark) - thirds[index]! / 3)).toBeLessThan(0.1);
  });
});
