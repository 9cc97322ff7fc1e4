import { describe, expect, it } from 'vitest';
import { highestSunDeg, sunHeightDeg, sunPlace } from '../../server/calc/sun.ts';

const day = (date: string) => Date.parse(date) / 86_400_000;

describe('the sun', () => {
  // J. Meeus, Astronomical Algorithms, examples 25.a and 28.a (1992 October 13, 0 h): −7.78507° and +13 min 42.7 s; from memory.
  it('stands where worked examples have it', () => {
    const { declinationDeg, equationMinutes } = sunPlace(day('1992-10-13'));
    expect(declinationDeg).toBeCloseTo(-7.785, 1);
    expect(equationMinutes).toBeCloseTo(13.71, 1);
  });

  // By definition of the tropics: overhead at noon at 23.44° north in June, and at the horizon of the polar circle in December.
  it('is overhead at the tropic and at the horizon of the polar circle', () => {
    const noon = (date: string, latitude: number) =>
      Math.max(...[11.9, 11.95, 12, 12.05, 12.1].map((hours) => sunHeightDeg(day(date), hours, latitude)));
    expect(noon('2027-06-21', 23.44)).toBeGreaterThan(89);
    expect(noon('2027-12-22', 66.56)).toBeCloseTo(0, 0);
  });

  // Almanac times for London, from memory: 22 December, sunrise at 8:04 and sunset at 15:54; the disc is gone at −0.833°.
  it('rises and sets when almanacs say', () => {
    expect(sunHeightDeg(day('2026-12-22'), 8 + 4 / 60, 51.5)).toBeCloseTo(-0.83, 0);
    expect(sunHeightDeg(day('2026-12-22'), 15 + 54 / 60, 51.5)).toBeCloseTo(-0.83, 0);
  });
});

describe('a country in the dark', () => {
  it('is so only where it is dark in all of it', () => {
    // Almanac, from memory: on 20 December the sun sets in Germany between 15:50 (Rügen) and 16:35 (Aachen, Freiburg).
    expect(highestSunDeg('DE', day('2026-12-20'), 16)).toBeGreaterThan(0);
    expect(highestSunDeg('DE', day('2026-12-20'), 18)).toBeLessThan(-6);
    expect(highestSunDeg('DE', day('2027-06-21'), 21.5)).toBeGreaterThan(0);
    expect(highestSunDeg('NO', day('2027-06-21'), 24)).toBeGreaterThan(0);
  });

  it('counts summer time south of the equator in other months', () => {
    expect(highestSunDeg('NZ', day('2027-05-04'), 19)).toBeLessThan(-6);
    expect(highestSunDeg('NZ', day('2027-12-21'), 20.5)).toBeGreaterThan(0);
  });

  it('is not known of countries that are not in the table', () => {
    expect(highestSunDeg('XK', day('2026-12-20'), 23)).toBeUndefined();
  });
});
