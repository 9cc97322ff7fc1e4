/** Files that are checked one after the other, spoilt or not, have the findings that each has alone. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import type { Finding } from '../../server/core/finding.ts';
import { inTurn } from '../../server/core/live/in-turn.ts';
import { corpus, type Text } from './corpus.ts';
import { mutated } from './mutate.ts';
import { checkerOf, seed, times } from './sound.ts';

/** All that is shown but the fixes, which take long to find. */
const said = ({ findings, silenced, dependsOn }: CheckResult) => ({
  findings: findings.map(shown),
  silenced: silenced.map(({ finding, by }) => [shown(finding), by]),
  dependsOn,
});

const shown = ({ rule, severity, message, start, end, related, shots }: Finding) => ({
  rule,
  severity,
  message,
  start,
  end,
  related,
  shots,
});

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
