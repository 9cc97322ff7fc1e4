/** Spoils texts and looks at each answer, in portions, so that the test runner hears from its worker in between. */
import fc from 'fast-check';
import { test } from 'vitest';
import type { Text } from './corpus.ts';
import { type Mutated, mutated } from './mutate.ts';
import { seed, times } from './sound.ts';

const portion = 250;

export function fuzz(
  what: string,
  bases: readonly Text[],
  count: number,
  look: (one: Mutated) => void,
  gently = false,
) {
  const portions = Array.from({ length: Math.ceil((count * times) / portion) }, (_, index) => seed + index);
  test.each(portions)(
    `${portion} ${what}, seed %i`,
    (own) => {
      fc.assert(fc.property(mutated(bases, 3, gently), look), { numRuns: portion, seed: own });
    },
    120_000,
  );
}
