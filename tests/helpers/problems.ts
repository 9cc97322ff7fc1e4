import { expect } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Doc, Problem } from '../../server/core/document/parse.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { mark, unmark } from './marks.ts';

/** Reads a text with ⟦marks⟧ and expects just these problems there: `rule` or `rule: part of its message`. */
export function expectProblems(marked: string, ...expected: string[]): Doc {
  const { text } = unmark(marked);
  const doc = parseDocument(text);
  expect(mark(text, doc.problems)).toBe(marked);
  expect(doc.problems.map((problem) => problem.rule)).toEqual(expected.map((one) => one.split(':')[0]));
  doc.problems.forEach(({ message }, i) => expect(message).toContain(expected[i]?.split(/: (.*)/s)[1] ?? ''));
  return doc;
}

/** The text after the fix of the only problem in it whose title starts so. */
export function fixed(text: string, title = ''): string | undefined {
  const problems: readonly Problem[] = parseDocument(text).problems;
  expect(problems).toHaveLength(1);
  const fix = problems[0]?.fixes.find((one) => one.title.startsWith(title));
  return fix && applyEdits(text, fix.edits);
}
