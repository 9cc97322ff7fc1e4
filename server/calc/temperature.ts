/** Colour temperature: mireds, filters, the reference of green and magenta, and a colour to draw a lamp with. */
import { srgbFromLinear, toHex } from './colour.ts';

/** Mired, 10⁶ ÷ kelvin. `Infinity` at 0. */
export function mired(kelvin: number): number {
  return 1e6 / kelvin;
}

/** Kelvin of a mired value. */
export function kelvin(miredValue: number): number {
  return 1e6 / miredValue;
}

/** Mired from one temperature to another: negative is bluer (3200 K to 5500 K is −130.68). */
export function miredShift(fromKelvin: number, toKelvin: number): number {
  return mired(toKelvin) - mired(fromKelvin);
}

/**
 * Temperature of a filament that gives only a part of its light: with the voltage its light goes as V^3.384 and its
 * temperature as V^0.424 (exponents of gas-filled incandescent lamps, IES Lighting Handbook, from memory), so that the
 * temperature goes as light^0.125. `level` over 0.
 */
export function filamentKelvin(fullKelvin: number, level: number): number {
  return fullKelvin * level ** (0.424 / 3.384);
}

/**
 * Duv that counts as neutral at a temperature: 0 up to 4000 K (the Planckian locus), +0.0032 from 5000 K (daylight,
 * CIE 15), linear between. Positive is green (ANSI C78.377 as quoted).
 */
export function duvReference(temperatureK: number): number {
  return 0.0032 * daylightPart(temperatureK);
}

function daylightPart(temperatureK: number): number {
  return Math.min(1, Math.max(0, (temperatureK - 4000) / 1000));
}

/** CIE 1931 x, y of a light. */
export interface Chromaticity {
  readonly x: number;
  readonly y: number;
}

/** Daylight of a temperature on the CIE daylight locus (CIE 15 polynomials), 4000 K to 25 000 K; outside held at the ends. */
export function daylightXy(temperatureK: number): Chromaticity {
  const t = Math.min(25_000, Math.max(4000, temperatureK));
  const x =
    t <= 7000
      ? -4.607e9 / t ** 3 + 2.9678e6 / t ** 2 + 0.09911e3 / t + 0.244063
      : -2.0064e9 / t ** 3 + 1.9018e6 / t ** 2 + 0.24748e3 / t + 0.23704;
  return { x, y: -3 * x * x + 2.87 * x - 0.275 };
}

/** A glowing body of a temperature (Kang et al. 2002 polynomials), 1667 K to 25 000 K; outside held at the ends. */
export function planckianXy(temperatureK: number): Chromaticity {
  const t = Math.min(25_000, Math.max(1667, temperatureK));
  const x =
    t <= 4000
      ? -0.2661239e9 / t ** 3 - 0.2343589e6 / t ** 2 + 0.8776956e3 / t + 0.17991
      : -3.0258469e9 / t ** 3 + 2.1070379e6 / t ** 2 + 0.2226347e3 / t + 0.24039;
  if (t <= 2222) return { x, y: -1.1063814 * x ** 3 - 1.3481102 * x ** 2 + 2.18555832 * x - 0.20219683 };
  if (t <= 4000) return { x, y: -0.9549476 * x ** 3 - 1.37418593 * x ** 2 + 2.09137015 * x - 0.16748867 };
  return { x, y: 3.081758 * x ** 3 - 5.8733867 * x ** 2 + 3.75112997 * x - 0.37001483 };
}

/** White light of a temperature: Planckian up to 4000 K, daylight from 5000 K, blended between. */
export function whiteXy(temperatureK: number): Chromaticity {
  const part = daylightPart(temperatureK);
  const [warm, day] = [planckianXy(temperatureK), daylightXy(temperatureK)];
  return { x: warm.x + (day.x - warm.x) * part, y: warm.y + (day.y - warm.y) * part };
}

/**
 * About how white light of a temperature looks beside D65 on a screen, "#rrggbb" with its strongest channel full; for
 * drawing only.
 */
export function temperatureHex(temperatureK: number): string {
  const { x, y } = whiteXy(temperatureK);
  // XYZ with Y = 1 to linear sRGB (IEC 61966-2-1).
  const [bigX, bigZ] = [x / y, (1 - x - y) / y];
  const linear = [
    3.2409699 * bigX - 1.5373832 - 0.4986108 * bigZ,
    -0.9692436 * bigX + 1.8759675 + 0.0415551 * bigZ,
    0.0556301 * bigX - 0.203977 + 1.0569715 * bigZ,
  ].map((value) => Math.max(0, value));
  const most = Math.max(...linear);
  const [r = 0, g = 0, b = 0] = linear.map((value) => value / most);
  return toHex(srgbFromLinear({ r, g, b }));
}

/**
 * Mired of linear sRGB light that is nearly white: correlated colour temperature after McCamy, "Correlated color temperature
 * as an explicit function of chromaticity coordinates" (1992), good from 2000 K to 12 500 K; `undefined` outside and for black.
 */
export function cctMired({
  r,
  g,
  b,
}: {
  readonly r: number;
  readonly g: number;
  readonly b: number;
}): number | undefined {
  const x = 0.4123908 * r + 0.3575843 * g + 0.1804808 * b;
  const y = 0.212639 * r + 0.7151687 * g + 0.0721923 * b;
  const z = 0.0193308 * r + 0.1191948 * g + 0.9505322 * b;
  const sum = x + y + z;
  if (sum <= 0) return undefined;
  const n = (x / sum - 0.332) / (0.1858 - y / sum);
  const cct = 449 * n ** 3 + 3525 * n ** 2 + 6823.3 * n + 5520.33;
  return cct >= 2000 && cct <= 12_500 ? mired(cct) : undefined;
}
