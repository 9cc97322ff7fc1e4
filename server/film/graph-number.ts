/** A number as a graph takes it: without exponent, and never one that is none. */
export function num(value: number): string {
  if (!Number.isFinite(value) || Math.abs(value) > 1e12) throw new Error(`no number for a graph: ${value}`);
  return value.toFixed(9).replace(/\.?0+$/, '');
}
