/** Every number of every sample as the largest and the smallest that can be written, and as nothing. */
import { describe, test } from 'vitest';
import { samples } from './corpus.ts';
import { expectSound, times } from './sound.ts';

const extremes = ['999999999', '0.000000001', '0'];

describe('every number, as large and as small as it can be written', () => {
  test.each(samples)('$name', (one) => {
    const numbers = [...one.text.matchAll(/\d+(?:\.\d+)?/g)].filter((_, index) => times > 1 || index % 4 === 0);
    for (const [index, match] of numbers.entries())
      // Every fourth number, and one of the three for each; all of them on demand.
      for (const put of times > 1 ? extremes : [extremes[index % extremes.length]!]) {
        const text = one.text.slice(0, match.index) + put + one.text.slice(match.index + match[0].length);
        expectSound({ ...one, text }, true);
      }
  });
});
