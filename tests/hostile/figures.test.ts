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

/** By file of tests, what DEVELOPERS.md says that one run tries. */
function said(): Record<string, string> {
  const developers = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const rows = [...developers.matchAll(/^\|.*?\| +([\d,]+) \| `(\S+)` +\|$/gm)];
  return Object.fromEntries(rows.map(([, figure, file]) => [file!, figure!]));
}

test('the figures of DEVELOPERS.md are those of the tests', () => {
  expect(Object.keys(said())).toEqual(Object.keys(tried));
  for (const [file, text] of Object.entries(said())) {
    const figure = Number(text.replaceAll(',', ''));
    expect(figure, file).toBeLessThanOrEqual(tried[file]!);
    expect(figure, file).toBeGreaterThan(tried[file]! * 0.6);
  }
});

test('and so are those of the README, which leaves out the memory', () => {
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
  const [, table] = readme.split('| what | how many |');
  const figuresOf = [...table!.matchAll(/^\|.*?\| +([\d,]+) \|$/gm)].map(([, figure]) => figure);
  const others = Object.entries(said()).filter(([file]) => file !== 'memory.test.ts');
  expect(figuresOf.slice(0, 6).sort()).toEqual(others.map(([, figure]) => figure).sort());
});
