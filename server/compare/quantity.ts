/** Do two texts write the same quantity? */
import * as u from '../core/units.ts';

/** Each unit belongs to one of these only, so the first that can read a text is the right one. */
const readers: readonly u.Reader<unknown>[] = [
  u.number,
  u.lengthMm,
  u.realTimeS,
  u.share,
  u.kelvin,
  u.stops,
  u.lux,
  u.hertz,
  u.bitRate,
  u.bytes,
  u.byteRate,
  u.weightG,
  u.speedMmS,
  u.watts,
  u.wattHours,
  u.amps,
  u.angleDeg,
  u.aperture,
  u.sizeMm,
  u.raster,
  u.colour,
];

/** @param quantity the kind of quantity as the schema calls it; text without one is compared as written */
export function sameQuantity(quantity: string | undefined, a: string, b: string): boolean {
  if (quantity === undefined || quantity === 'path' || quantity === 'region') return false;
  const [ends, others] = [a.split(' to '), b.split(' to ')];
  return ends.length === others.length && ends.every((end, index) => sameOne(end, others[index]!));
}

function sameOne(a: string, b: string): boolean {
  const reader = readers.find((one) => one(a) !== undefined);
  const [x, y] = [reader?.(a), reader?.(b)];
  if (x === undefined || y === undefined) return a === b;
  return equal(x, y);
}

function equal(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
  return JSON.stringify(a) === JSON.stringify(b);
}
