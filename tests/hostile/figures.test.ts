/** The table in DEVELOPERS.md of what one run tries: no figure in it is larger than what is tried, nor much smaller. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { actingTexts } from '../helpers/hostile.ts';
import { samples } from './corpus.ts';
import { figures } from './figures.ts';

const sum = (numbers: Iterable<number>) => [...numbers].reduce((all, one) => all + one, 0);

const tried: Readonly<Record<string, number>> = {
  'truncated.test.ts': sum(samples.map(({ text }) => Math.ceil(text.length / 32))),
  'mutated-*.test.ts': sum(Object.values(figures.spoilt)),
  'edits.test.ts': figures.sequencesThroughServer,
  'fixes.test.ts': figures.fixes,
  'sessions.test.ts': figures.sessions,
  'memory.test.ts': figures.memory.edits,
  'texts.test.ts': Math.floor(actingTexts.length / 3),
};

test('the figures of DEVELOPERS.md are those of the tests', () => {
  const developers = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const rows = [...developers.matchAll(/^\|.*?\| +([\d,]+) \| `(\S+)` +\|$/gm)];
  const said = Object.fromEntries(rows.map(([, figure, file]) => [file, Number(figure!.replaceAll(',', ''))]));
  expect(Object.keys(said)).toEqual(Object.keys(tried));
  for (const [file, figure] of Object.entries(said)) {
    expect(figure, file).toBeLessThanOrEqual(tried[file]!);
    expect(figure, file).toBeGreaterThan(tried[file]! * 0.6);
  }
});
