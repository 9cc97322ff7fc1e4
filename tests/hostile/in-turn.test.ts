/** Files that are checked one after the other, spoilt or not, have the findings that each has alone. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inTurn } from '../../server/core/live/in-turn.ts';
import { corpus, type Text } from './corpus.ts';
import { mutated } from './mutate.ts';
import { checkerOf, said, seed, times } from './sound.ts';

const specs = corpus.filter(({ kind }) => kind === 'shoot');

function expectAlone(files: readonly Text[]): void {
  const checker = checkerOf(Object.assign({}, ...files.map((one) => one.files)) as Text['files']);
  const settings = checker.settings();
  const checks = [inTurn(checker, false), inTurn(checker, true)];
  for (const { name, text } of files) {
    const alone = said(checker.checkAs('shoot', text, settings));
    for (const check of checks) expect(said(check('shoot', text, settings)), name).toEqual(alone);
  }
}

test('every sample and every spec on the pages of the rules', () => expectAlone(specs));

test.each(Array.from({ length: 4 * times }, (_, index) => seed + index))(
  '40 spoilt ones after whole ones, seed %i',
  (own) => {
    const alike = mutated(specs, 3, true).map((spoilt) => [specs.find(({ name }) => name === spoilt.name)!, spoilt]);
    fc.assert(
      fc.property(fc.array(alike, { minLength: 2, maxLength: 4 }), (pairs) =>
        expectAlone(pairs.flat().concat(pairs.flat())),
      ),
      { numRuns: 40, seed: own },
    );
  },
);
