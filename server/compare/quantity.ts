/** Do two texts write the same quantity? */
import { quantityNamed } from '../core/quantities/table.ts';
import { ends } from '../core/units.ts';

/** @param quantity the kind of quantity as the schema calls it; text without one is compared as written */
export function sameQuantity(quantity: string | undefined, a: string, b: string): boolean {
  const reader = quantityNamed(quantity)?.read;
  const [x, y] = reader ? [ends(reader)(a), ends(reader)(b)] : [];
  return x !== undefined && y !== undefined && a.includes(' to ') === b.includes(' to ') && isSame(x, y);
}

function isSame(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return a === b;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]) as Set<keyof typeof a & keyof typeof b>;
  return [...keys].every((key) => isSame(a[key], b[key]));
}
