import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bands,
  beatHz,
  cleanShuttersS,
  isWholeMultiple,
  lampRippleHz,
  pictureSwing,
  rippleLeft,
  swingStops,
  worstPulseSwing,
  worstRippleLeft,
} from '../../server/calc/flicker.ts';
import { shutterAngleDeg } from '../../server/calc/shutter.ts';

/** Of pulses whose frequency is known exactly. */
const swingOf = (frequencyHz: number, timeS: number, duty: number) => worstPulseSwing(frequencyHz, timeS, duty, 0);

describe('ripple that a shutter leaves', () => {
  // |sin(πFt) ÷ (πFt)|, the mean of a sinusoid over a rectangular pulse.
  it.each([
    [100, 1 / 48, 3.95],
    [100, 1 / 60, 16.54],
    [100, 1 / 120, 19.1],
    [100, 1 / 125, 23.39],
    [100, 1 / 200, 63.66],
    [120, 1 / 48, 12.73],
    [120, 1 / 50, 12.61],
    [120, 1 / 100, 15.59],
    [120, 1 / 240, 63.66],
    [120, 1 / 59.94, 0.1],
  ])('%d Hz over %d s', (frequency, time, percent) => {
    expect(Math.abs(rippleLeft(frequency, time) * 100 - percent)).toBeLessThan(0.01);
  });

  it('agrees with averaging a sinusoid by brute force, at the worst phase', () => {
    const mean = (phase: number, n: number) => {
      let sum = 0;
      for (let step = 0; step < 2000; step++) sum += Math.sin(2 * Math.PI * (phase + (n * (step + 0.5)) / 2000));
      return sum / 2000;
    };
    for (const n of [0.3, 1.2, 2.4, 3.9]) {
      const phases = Array.from({ length: 720 }, (_, index) => Math.abs(mean(index / 720, n)));
      expect(Math.max(...phases)).toBeCloseTo(rippleLeft(n, 1), 4);
    }
  });

  // Common practice, and published lists of flicker-free shutters: n/100 s under 50 Hz, n/120 s under 60 Hz.
  it.each([
    [50, [1 / 100, 1 / 50, 3 / 100, 1 / 25]],
    [60, [1 / 120, 1 / 60, 1 / 40, 1 / 30]],
  ])('is nothing at whole ripples under %d Hz', (mains, times) => {
    for (const time of times) expect(rippleLeft(lampRippleHz(mains), time)).toBeLessThan(1e-12);
  });

  it('is all of it for a shutter of no length', () => {
    expect(rippleLeft(100, 0)).toBe(1);
  });

  // A photographic lighting article measured "almost 1 EV" of burst variation at 1/200 s under a 100 Hz lamp.
  it('gives the order of magnitude that was measured at 1/200 s', () => {
    const stops = swingStops(pictureSwing(0.5, rippleLeft(100, 1 / 200), 1));
    expect(stops).toBeGreaterThan(0.7);
    expect(stops).toBeLessThan(1.3);
  });

  it('gives a swing of 7.6 % and 0.11 stop for 30 % ripple at 1/50 s under 60 Hz (arithmetic)', () => {
    const swing = pictureSwing(0.3, rippleLeft(120, 1 / 50), 1);
    expect(swing).toBeCloseTo(0.0757, 4);
    expect(swingStops(swing)).toBeCloseTo(0.11, 2);
    expect(swingStops(2)).toBe(Infinity);
  });
});

describe('flicker-free shutters', () => {
  it('lists those that fit in the frame', () => {
    expect(cleanShuttersS(100, 25)).toEqual([1 / 100, 2 / 100, 3 / 100, 4 / 100]);
    expect(cleanShuttersS(120, 25)).toHaveLength(4);
    expect(cleanShuttersS(100, 120)).toEqual([]);
  });

  // Published: 25 under 60 Hz: 75·n → 75, 150, 225, 300°.
  it('gives 75, 150, 225, 300° at 25 under 60 Hz', () => {
    const angles = cleanShuttersS(120, 25).map((time) => shutterAngleDeg(time, 25));
    [75, 150, 225, 300].forEach((angle, index) => expect(angles[index]).toBeCloseTo(angle, 9));
  });
});

describe('beat with the frame rate', () => {
  // |f − round(f ÷ rate) × rate|, aliasing; exact rates of ITU-R BT.709-6.
  it.each([
    [100, 24, 4],
    [100, 30, 10],
    [100, 24000 / 1001, 4.096],
    [100, 30000 / 1001, 10.09],
    [120, 25, 5],
    [120, 24000 / 1001, 0.1199],
    [120, 30000 / 1001, 0.1199],
    [120, 60000 / 1001, 0.1199],
  ])('%d Hz at %d', (frequency, rate, beat) => {
    expect(beatHz(frequency, rate)).toBeCloseTo(beat, 3);
  });

  // Common practice; published lists for 60 Hz hold 1 2 3 4 5 6 8 10 12 15 20 24 30 40 60.
  it.each([
    [120, [120, 60, 40, 30, 24, 20, 120 / 7, 15, 40 / 3, 12, 10, 8, 6, 5, 4, 3, 2, 1]],
    [100, [100, 50, 100 / 3, 25, 20, 12.5, 10]],
  ])('%d Hz stands still at its whole parts', (frequency, rates) => {
    for (const rate of rates) {
      expect(beatHz(frequency, rate)).toBeLessThan(1e-9);
    }
  });

  it('counts bands over the readout', () => {
    expect(bands(480, 0.016)).toBeCloseTo(7.68, 9);
    expect(bands(120, 0)).toBe(0);
  });
});

describe('rectangular pulses', () => {
  it('agrees with a rectangular wave sampled at all phases', () => {
    const lit = (from: number, n: number, duty: number) => {
      const until = (x: number) => Math.floor(x) * duty + Math.min(x - Math.floor(x), duty);
      return until(from + n) - until(from);
    };
    for (const [n, duty] of [
      [9.6, 0.25],
      [2.3, 0.5],
      [1.7, 0.8],
      [0.4, 0.3],
      [12.95, 0.9],
    ] as const) {
      const phases = Array.from({ length: 4000 }, (_, index) => lit(index / 4000, n, duty));
      const swing = (Math.max(...phases) - Math.min(...phases)) / (n * duty);
      expect(swingOf(n, 1, duty)).toBeCloseTo(swing, 2);
    }
  });

  it('gives 10 % at 1/50 s and 4 % at worst at 1/60 s for 480 Hz dimmed to 25 %', () => {
    expect(swingOf(480, 1 / 50, 0.25)).toBeCloseTo(0.104, 3);
    expect(swingOf(480, 1 / 60, 0.25)).toBeLessThan(1e-9);
    expect(worstPulseSwing(480, 1 / 60, 0.25)).toBeCloseTo(0.0404, 4);
  });

  it('is never less at worst than at the stated frequency, nor than by trying the range', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 49, noNaN: true }),
        fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        (n, duty) => {
          const worst = worstPulseSwing(n, 1, duty);
          for (let step = -20; step <= 20; step++) {
            expect(worst).toBeGreaterThanOrEqual(swingOf(n * (1 + (0.01 * step) / 20), 1, duty) - 1e-9);
          }
        },
      ),
    );
  });

  it('uses the bound from 50 pulses on', () => {
    expect(worstPulseSwing(5000, 1 / 50, 0.5)).toBeCloseTo(0.01, 9);
    expect(worstPulseSwing(2500, 1 / 50, 0.8)).toBeCloseTo(0.005, 9);
  });

  it('has no pulses at full level and no end of swing without light', () => {
    expect(worstPulseSwing(480, 1 / 50, 1)).toBe(0);
    expect(swingOf(480, 1 / 50, 0)).toBe(Infinity);
    expect(worstPulseSwing(480, 0, 0.5)).toBe(Infinity);
  });
});

describe('what is left of a ripple whose clock is 1 % off', () => {
  it('is the most of all that it may be', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 400, noNaN: true }), (n) => {
        const worst = worstRippleLeft(n, 1);
        for (let step = -50; step <= 50; step++) {
          expect(worst).toBeGreaterThanOrEqual(rippleLeft(n * (1 + (0.01 * step) / 50), 1) * 0.9999);
        }
        expect(worst).toBeLessThanOrEqual(1 / (Math.PI * n * 0.99) + 1e-9);
      }),
    );
  });

  it('at 2 ripples is what 1.98 leave, and at 1.43 the first crest beside the middle: −0.2172 (sinc, tan x = x at 4.4934)', () => {
    expect(worstRippleLeft(100, 1 / 50)).toBeCloseTo(Math.abs(Math.sin(1.98 * Math.PI)) / (1.98 * Math.PI), 9);
    expect(worstRippleLeft(71.5, 1 / 50)).toBeCloseTo(0.2172, 4);
  });
});

describe('whole refreshes', () => {
  it.each([
    [60, 30, true],
    [60, 25, false],
    [50, 25, true],
    [60, 30000 / 1001, true],
    [24, 60, false],
  ])('a screen of %d Hz filmed at %d', (refresh, rate, whole) => {
    expect(isWholeMultiple(refresh, rate, 0.0011)).toBe(whole);
  });
});
