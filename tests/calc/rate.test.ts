import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conform,
  divideRates,
  framesToS,
  nearestFrame,
  parseRate,
  rate,
  rateFps,
  sToFrames,
} from '../../server/calc/rate.ts';

describe('frame rates as fractions', () => {
  // ITU-R BT.709-6: 60, 50, 30, 25, 24 Hz and, for 60, 30 and 24, the values divided by 1.001.
  it.each([
    ['23.976', 24000, 1001],
    ['23.98', 24000, 1001],
    ['29.97', 30000, 1001],
    ['59.94', 60000, 1001],
    ['119.88', 120000, 1001],
    ['24000/1001', 24000, 1001],
    ['24', 24, 1],
    ['25', 25, 1],
    ['50', 50, 1],
    ['12.5', 25, 2],
    ['50/2', 25, 1],
    ['33.333', 33333, 1000],
  ])('reads %s as %i/%i', (text, num, den) => {
    expect(parseRate(text)).toEqual({ num, den });
  });

  it.each(['', '0', '-25', 'auto', '25 fps', '1/0', '1e3', '24/1/2'])('reads no rate in %j', (text) => {
    expect(parseRate(text)).toBeUndefined();
  });

  it('reads numbers as well as text', () => {
    expect(parseRate(29.97)).toEqual({ num: 30000, den: 1001 });
    expect(parseRate(NaN)).toBeUndefined();
  });
});

describe('frames and seconds', () => {
  it('counts an hour of non-drop 29.97 as 3603.6 s (SMPTE ST 12-1)', () => {
    expect(framesToS(108000, rate(30000, 1001))).toBeCloseTo(3603.6, 9);
  });

  it('places half a frame on the frame above', () => {
    expect(nearestFrame(0.5, rate(25))).toBe(13);
    expect(nearestFrame(0.499, rate(25))).toBe(12);
  });

  it('gives the frame back from its own time', () => {
    const rates = [rate(24), rate(25), rate(24000, 1001), rate(30000, 1001), rate(60000, 1001)];
    fc.assert(
      fc.property(fc.nat(10_000_000), fc.constantFrom(...rates), (frame, r) => {
        expect(nearestFrame(framesToS(frame, r), r)).toBe(frame);
        expect(sToFrames(framesToS(frame, r), r)).toBeCloseTo(frame, 6);
      }),
    );
  });
});

describe('conforming', () => {
  it.each([
    [rate(50), rate(25), 2],
    [rate(25), rate(25), 1],
    [rate(60000, 1001), rate(30000, 1001), 2],
  ])('finds a whole step', (from, to, nearest) => {
    expect(conform(from, to)).toMatchObject({ whole: true, nearest, slipEveryS: Infinity });
  });

  it('finds 30 in a 25 line uneven', () => {
    expect(conform(rate(30), rate(25)).whole).toBe(false);
    expect(conform(rate(30), rate(25)).offBy).toBeCloseTo(0.2, 12);
  });

  it('does not take a rate below the line as whole', () => {
    expect(conform(rate(25), rate(50))).toMatchObject({ whole: false, nearest: 1 });
  });

  // 24 − 24000/1001 = 24/1001 frames a second, exact rates of ITU-R BT.709-6: one frame in 1001/24 s.
  it.each([
    [rate(24), rate(24000, 1001), 1001 / 24],
    [rate(30), rate(30000, 1001), 1001 / 30],
  ])('slips one frame in the time that the fractions say', (from, to, seconds) => {
    expect(conform(from, to).slipEveryS).toBeCloseTo(seconds, 6);
    expect(conform(from, to).offBy).toBeCloseTo(0.001, 12);
    expect(conform(to, from).slipEveryS).toBeCloseTo(seconds, 6);
  });

  it('keeps exactness when dividing', () => {
    expect(divideRates(rate(30000, 1001), rate(24000, 1001))).toEqual({ num: 5, den: 4 });
    expect(rateFps(rate(24000, 1001))).toBeCloseTo(23.976024, 6);
  });
});
