/** How much of a liquid there is, where `contents` says it: `3 ml of ink`, `0.5 l of oil`. */
import type { Film } from '../../core/film.ts';

const millilitres: Readonly<Record<string, number>> = { ml: 1, cl: 10, dl: 100, l: 1000 };

/** Less than `leastMl`? Unknown amounts are not: nothing is guessed small. */
export function isDrop({ product }: Film, leastMl: number): boolean {
  const [, amount, unit] = /(\d+(?:\.\d+)?)\s?(ml|cl|dl|l)\b/.exec(product.fields.text('contents')?.value ?? '') ?? [];
  return amount !== undefined && unit !== undefined && Number(amount) * millilitres[unit]! < leastMl;
}
