/** Texts with marks in, findings out. */
import { expect } from 'vitest';
import type { Node } from '../../server/core/document/node.ts';
import { parseDocument, type Problem } from '../../server/core/document/parse.ts';
import type { SchemaProblem } from '../../server/core/schema/check.ts';
import { checkSchema } from '../../server/core/schema/check.ts';
import type { FileKind } from '../../server/core/schema/fields.ts';

export function read(text: string): { root: Node; problems: readonly Problem[] } {
  const { root, broken, problems } = parseDocument(text);
  if (!root || broken) throw new Error(`not readable: ${problems.map(({ message }) => message).join(' ')}\n${text}`);
  return { root, problems };
}

export function problemsOf(text: string, kind: FileKind = 'shoot'): SchemaProblem[] {
  const { root, problems } = read(text);
  return checkSchema(root, kind, problems).problems;
}

/** The text with every fix of the problems made. */
export function fixed(text: string, problems: readonly SchemaProblem[]): string {
  const edits = problems.flatMap(({ fixes }) => fixes[0]?.edits ?? []).sort((a, b) => b.start - a.start);
  return edits.reduce((whole, { start, end, text: put }) => whole.slice(0, start) + put + whole.slice(end), text);
}

export interface Expected {
  rule: SchemaProblem['rule'];
  /** What the message says, in part. */
  says: string | RegExp;
  /** The marked text after the first fix; `null` where no fix may be offered. */
  fix?: string | null;
  safe?: boolean;
}

/** Expects exactly one finding, at the characters between `«` and `»`. */
export function expectOne(marked: string, kind: FileKind, expected: Expected): void {
  const start = marked.indexOf('«');
  const end = marked.indexOf('»') - 1;
  const text = marked.replace(/[«»]/g, '');
  const problems = problemsOf(text, kind);
  expect(problems.map(({ rule, start: from, end: to }) => [rule, text.slice(from, to)])).toEqual([
    [expected.rule, text.slice(start, end)],
  ]);
  const [problem] = problems as [SchemaProblem];
  expect([problem.start, problem.end]).toEqual([start, end]);
  expect(problem.message).toMatch(expected.says);
  const [fix] = problem.fixes;
  if (expected.fix === null) expect(fix).toBeUndefined();
  if (typeof expected.fix === 'string') {
    const after = fixed(text, [problem]);
    expect(after.slice(start, after.length - (text.length - end))).toBe(expected.fix);
    expect(problemsOf(after, kind)).toEqual([]);
  }
  if (expected.safe !== undefined) expect(fix?.safe).toBe(expected.safe);
}

interface Parts {
  camera?: string;
  product?: string;
  deliver?: string;
  lamps?: string;
  shot?: string;
  cut?: string;
  more?: string;
}

/** A spec with nothing wrong but what is put into it; each part is one line, or lines indented like it. */
export function spec({ camera, product, deliver, lamps, shot, cut, more }: Parts): string {
  const lines = [
    'title: Paper kite, first film',
    `product: { ${product ?? 'size: 9 x 6 x 7 cm'} }`,
    `deliver:\n  film: { ${deliver ?? 'raster: 1920x1080, rate: 25'} }`,
    'camera:\n  distance: 60 cm\n  raster: 3840x2160\n  rate: 25',
  ];
  if (camera) lines.push(`  ${camera}`);
  if (lamps) lines.push(`lamps:\n  ${lamps}`);
  lines.push(`shots:\n  reveal: { ${shot ?? 'record: 12 s'} }`);
  if (cut) lines.push(`cut:\n  - ${cut}`);
  if (more) lines.push(more);
  return `${lines.join('\n')}\n`;
}
