import { describe, expect, it } from 'vitest';
import { linearFromSrgb, parseHex } from '../../server/calc/colour.ts';
import {
  daylightXy,
  duvReference,
  filamentKelvin,
  kelvin,
  mired,
  miredShift,
  planckianXy,
  temperatureHex,
} from '../../server/calc/temperature.ts';

describe('mired', () => {
  // Definition 10⁶ ÷ T; 5500 → 182 and 3600 → 278 are published in a photographic mired table.
  it.each([
    [2700, 370.37],
    [2856, 350.14],
    [3000, 333.33],
    [3200, 312.5],
    [3400, 294.12],
    [3600, 277.78],
    [4000, 250],
    [5000, 200],
    [5500, 181.82],
    [5600, 178.57],
    [6500, 153.85],
    [10000, 100],
  ])('%i K', (temperature, value) => {
    expect(mired(temperature)).toBeCloseTo(value, 2);
    expect(kelvin(mired(temperature))).toBeCloseTo(temperature, 6);
  });

  // Photographic handbook tables publish −131 and −112 for the first two; the rest from the definition.
  it.each([
    [3200, 5500, -130.68],
    [3400, 5500, -112.3],
    [3000, 4000, -83.33],
    [6000, 7000, -23.81],
    [3200, 5600, -133.93],
    [2700, 3200, -57.87],
    [5600, 6500, -24.73],
    [3200, 5700, -137.06],
    [3200, 3300, -9.47],
    [5600, 5700, -3.13],
  ])('from %i to %i K', (from, to, shift) => {
    expect(miredShift(from, to)).toBeCloseTo(shift, 2);
  });
});

describe('chromaticity', () => {
  // CIE 15 daylight polynomials, as tested in an open colour science library.
  it.each([
    [4000, 0.382343625, 0.383766261],
    [7000, 0.305357431, 0.321646345],
    [25000, 0.24985367, 0.254799464],
  ])('daylight of %i K', (temperature, x, y) => {
    expect(daylightXy(temperature).x).toBeCloseTo(x, 7);
    expect(daylightXy(temperature).y).toBeCloseTo(y, 7);
  });

  // CIE 015:2018, x and y of D50 to D75 at nominal × 1.4388 ÷ 1.4380 (its note).
  it.each([
    [5000, 0.3457, 0.3585],
    [5500, 0.33243, 0.34744],
    [6500, 0.3127, 0.329],
    [7500, 0.29903, 0.31488],
  ])('D%i', (nominal, x, y) => {
    const found = daylightXy((nominal * 1.4388) / 1.438);
    expect(Math.abs(found.x - x)).toBeLessThan(0.0002);
    expect(Math.abs(found.y - y)).toBeLessThan(0.0002);
  });

  // Kang et al. 2002, as tested in an open colour science library.
  it.each([
    [4000, 0.380528283, 0.376733531],
    [7000, 0.30637402, 0.31655287],
    [25000, 0.252472994, 0.252254791],
  ])('a glowing body of %i K', (temperature, x, y) => {
    expect(planckianXy(temperature).x).toBeCloseTo(x, 7);
    expect(planckianXy(temperature).y).toBeCloseTo(y, 7);
  });

  // Planck's law integrated with the CIE 1931 observer.
  it.each([
    [2700, 0.45986, 0.4106],
    [3200, 0.42336, 0.39895],
    [4000, 0.38044, 0.37675],
    [5000, 0.3451, 0.35161],
    [5600, 0.3302, 0.33908],
    [6500, 0.31353, 0.32363],
  ])('the polynomial is near Planck at %i K', (temperature, x, y) => {
    expect(Math.abs(planckianXy(temperature).x - x)).toBeLessThan(0.0006);
    expect(Math.abs(planckianXy(temperature).y - y)).toBeLessThan(0.0006);
  });
});

describe('neutral tint', () => {
  const uv = ({ x, y }: { x: number; y: number }) => ({
    u: (4 * x) / (-2 * x + 12 * y + 3),
    v: (6 * y) / (-2 * x + 12 * y + 3),
  });

  // Ohno 2013: Duv of the CIE points D50 +.00319, D55 +.00325, D65 +.00321. Here the least distance in u, v (1960) of the
  // daylight locus from the Planckian one, found by trying temperatures.
  it.each([5000, 5500, 6500])('is as far from the locus as daylight of %i K', (temperature) => {
    const day = uv(daylightXy(temperature));
    let least = Infinity;
    for (let t = temperature - 500; t <= temperature + 500; t += 1) {
      const warm = uv(planckianXy(t));
      least = Math.min(least, Math.hypot(day.u - warm.u, day.v - warm.v));
    }
    expect(Math.abs(least - duvReference(temperature))).toBeLessThan(0.0003);
  });

  it('is 0 for filament light and halfway at 4500 K', () => {
    expect(duvReference(3200)).toBe(0);
    expect(duvReference(4500)).toBeCloseTo(0.0016, 6);
    expect(duvReference(9000)).toBe(0.0032);
  });
});

describe('a filament that is turned down', () => {
  // Exponents of gas-filled incandescent lamps (IES Lighting Handbook, from memory): light V^3.384, temperature V^0.424.
  it('gives half its light at 81 % of the voltage and 92 % of its temperature, a fifth at 82 %', () => {
    const volts = 0.5 ** (1 / 3.384);
    expect(volts).toBeCloseTo(0.815, 3);
    expect(filamentKelvin(2700, 0.5)).toBeCloseTo(2700 * volts ** 0.424, 6);
    expect(filamentKelvin(2700, 0.2)).toBeCloseTo(2207, 0);
    expect(mired(filamentKelvin(2700, 0.2)) - mired(2700)).toBeCloseTo(82.8, 1);
    expect(filamentKelvin(3200, 1)).toBe(3200);
  });
});

describe('a colour to draw lamps with', () => {
  it('is white at D65, warm below, cool above', () => {
    const { r, g, b } = parseHex(temperatureHex(6504))!;
    expect(Math.min(r, g, b)).toBeGreaterThan(0.99);
    const blueOverRed = (temperature: number) => {
      const linear = linearFromSrgb(parseHex(temperatureHex(temperature))!);
      return linear.b / linear.r;
    };
    let last = -1;
    for (const temperature of [1700, 2200, 2700, 3200, 4000, 4500, 5000, 5600, 6500, 10000]) {
      expect(blueOverRed(temperature)).toBeGreaterThanOrEqual(last);
      last = blueOverRed(temperature);
    }
    expect(temperatureHex(100)).toBe(temperatureHex(1667));
  });
});
