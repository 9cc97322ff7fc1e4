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
  look: (one: Mutated) => unknown,
  gently = false,
  mostSteps = 3,
) {
  const runs = Math.min(count, portion);
  const portions = Array.from({ length: Math.ceil((count * times) / runs) }, (_, index) => seed + index);
  test.each(portions)(`${runs} ${what}, seed %i`, (own) => {
    fc.assert(
      fc.property(mutated(bases, mostSteps, gently), (one) => void look(one)),
      { numRuns: runs, seed: own },
    );
  });
}
