import type { Film } from '../../core/film.ts';

/** From the day before the product goes back on nothing can be put off any more. */
export function isLastChance({ product }: Film, today: number | undefined): boolean {
  return product.returns !== undefined && today !== undefined && today >= product.returns.value - 1;
}
