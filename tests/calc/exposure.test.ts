import { describe, expect, it } from 'vitest';
import {
  exposureValue,
  isoWanted,
  luxWanted,
  markedFNumbers,
  midGreyCdM2,
  renderedStops,
  screenContrast,
  screenStops,
  signalToNoise,
  spillLimitLux,
  stopsOver,
} from '../../server/calc/exposure.ts';

/** Settings at ISO 100 that an exposure value stands for: N² ÷ t is 2^EV. */
const settingsOf = (ev: number) => ({ fNumber: 2 ** (ev / 2), timeS: 1, iso: 100 });

describe('exposure value', () => {
  // log2(N² ÷ t), relation of ISO 2720.
  it.each([
    [1, 1, 0],
    [8, 1 / 125, 12.966],
    [16, 1 / 125, 14.966],
    [5.6, 1 / 50, 10.615],
    [2.8, 1 / 50, 8.615],
    [4, 1 / 100, 10.644],
  ])('f/%d for %d s', (fNumber, time, ev) => {
    expect(Math.abs(exposureValue(fNumber, time) - ev)).toBeLessThan(0.001);
  });

  // Encyclopaedia article "Exposure value", table 3 (ISO 100, C = 250, K = 12.5).
  it.each([
    [-4, 0.156],
    [0, 2.5],
    [5, 80],
    [7, 320],
    [8, 640],
    [9, 1280],
    [10, 2560],
    [12, 10240],
    [14, 40960],
  ])('EV %d in lux', (ev, lux) => {
    expect(luxWanted(settingsOf(ev))).toBeCloseTo(lux, 2);
  });
  it.each([
    [0, 0.125],
    [3, 1],
    [5, 4],
    [10, 128],
    [14, 2048],
    [15, 4096],
  ])('EV %d in cd/m² (same table)', (ev, luminance) => {
    expect(midGreyCdM2(settingsOf(ev))).toBeCloseTo(luminance, 6);
  });

  it('agrees with the foot-lambert and foot-candle columns of the same table at EV 10', () => {
    const squareFeet = 10.7639;
    expect(Math.abs((midGreyCdM2(settingsOf(10)) * Math.PI) / squareFeet / 37.4 - 1)).toBeLessThan(0.005);
    expect(Math.abs(luxWanted(settingsOf(10)) / squareFeet / 238 - 1)).toBeLessThan(0.005);
  });

  it('implies a mean reflectance of 15.7 %, π·K ÷ C', () => {
    const settings = { fNumber: 4, timeS: 1 / 50, iso: 200 };
    expect((Math.PI * midGreyCdM2(settings)) / luxWanted(settings)).toBeCloseTo(0.157, 3);
  });
});

describe('light wanted', () => {
  // E = C·N² ÷ (t·ISO), ISO 2720 with C = 250.
  it.each([
    [5.6, 400, 980],
    [2.8, 100, 980],
    [8, 800, 1000],
    [4, 800, 250],
    [1.8, 50, 810],
    [5.6, 200, 1960],
  ])('f/%d at 1/50 s, ISO %i', (fNumber, iso, lux) => {
    expect(luxWanted({ fNumber, timeS: 1 / 50, iso })).toBeCloseTo(lux, 6);
    expect(isoWanted({ fNumber, timeS: 1 / 50 }, lux)).toBeCloseTo(iso, 6);
  });

  it('gives mid-grey at 40.5 and 98 cd/m² (K = 12.5)', () => {
    expect(midGreyCdM2({ fNumber: 1.8, timeS: 1 / 50, iso: 50 })).toBeCloseTo(40.5, 6);
    expect(midGreyCdM2({ fNumber: 5.6, timeS: 1 / 50, iso: 200 })).toBeCloseTo(98, 6);
  });

  it('wants twice the light for each stop of filter, and (1 + m ÷ P)² close up', () => {
    const open = { fNumber: 8, timeS: 1 / 50, iso: 800 };
    expect(luxWanted({ ...open, filterStops: 2.5 })).toBeCloseTo(1000 * 2 ** 2.5, 6);
    // Textbook: half life size costs 2·log2 1.5 = 1.17 stops.
    expect(stopsOver(luxWanted({ ...open, magnification: 0.5 }), 1000)).toBeCloseTo(1.17, 2);
    expect(luxWanted({ ...open, magnification: 0.5, pupilFactor: 2 })).toBeCloseTo(1562.5, 6);
  });

  it('has no answer but Infinity without time or light', () => {
    expect(luxWanted({ fNumber: 4, timeS: 0, iso: 100 })).toBe(Infinity);
    expect(isoWanted({ fNumber: 4, timeS: 1 / 50 }, 0)).toBe(Infinity);
    expect(stopsOver(0, 100)).toBe(-Infinity);
  });
});

describe('screens and surfaces', () => {
  const phone = { fNumber: 1.8, timeS: 1 / 50, iso: 50 };

  it('finds a white of 250 cd/m² 2.6 stops over, and 2.0 at 65 %', () => {
    expect(screenStops(250, 1, phone)).toBeCloseTo(2.63, 2);
    expect(screenStops(250, 0.65, phone)).toBeCloseTo(2.0, 2);
  });

  it('puts pure white 2.47 stops over 18 % grey', () => {
    expect(renderedStops(1000, 1, 1000)).toBeCloseTo(2.47, 2);
    expect(renderedStops(1000, 0.85, 1000)).toBeCloseTo(2.24, 2);
    expect(renderedStops(95, 0.85, 810)).toBeCloseTo(-0.85, 2);
    expect(renderedStops(686, 0.85, 810)).toBeCloseTo(2.0, 2);
  });

  // Ambient contrast ratio (IDMS, from memory): (W + R) ÷ (W/1000 + R), R = E × 0.03 ÷ π.
  it('loses contrast to spill: 15:1 at 1800 lx, 20:1 at 1350 lx', () => {
    expect(screenContrast(250, 1800)).toBeCloseTo(15.32, 2); // (250 + 17.19) ÷ (0.25 + 17.19)
    expect(screenContrast(15, 1120)).toBeCloseTo(2.4, 1); // (15 + 10.7) ÷ (0.015 + 10.7): white is lit as well
    expect(screenContrast(250, 1e9)).toBeCloseTo(1, 3);
    expect(spillLimitLux(250, 20)).toBeCloseTo(1350, 0);
    expect(screenContrast(250, spillLimitLux(250, 20))).toBeCloseTo(20, 9);
    expect(spillLimitLux(250, 2000)).toBe(0);
  });
});

describe('marks and noise', () => {
  // Exact series 2^(k/6) of ISO 517, from memory; 1.2 lies 0.14 stop off, 5.6 0.03.
  it('marks each third of a stop once, within a seventh of a stop of it', () => {
    for (const [third, mark] of markedFNumbers.entries())
      expect(Math.abs(2 * Math.log2(mark) - third / 3)).toBeLessThan(0.15);
  });

  // H = 10 ÷ S of ISO 12232; 4000 electrons for each lx·s·µm² is an estimate, from memory: order of magnitude only.
  it('judges a phone and a larger camera alike', () => {
    const phonePixel = 8909 / 1920;
    expect(signalToNoise(800, phonePixel)).toBeCloseTo(33, 0);
    expect(signalToNoise(3200, phonePixel)).toBeCloseTo(16, 0);
    expect(signalToNoise(6400, 17300 / 1920)).toBeCloseTo(23, 0);
    expect(signalToNoise(800, phonePixel, 0.045)).toBeCloseTo(signalToNoise(800, phonePixel) / 2, 6);
  });
});
