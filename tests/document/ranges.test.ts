import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import type { Node } from '../../server/core/document/node.ts';
import { at, child } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';

/** The source of the value at a path, with `.` between steps. */
function source(text: string, path: string): string | undefined {
  const steps = path.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) : step));
  const node = at(parseDocument(text).root, steps);
  return node && text.slice(node.start, node.end);
}

/** The plain value of a tree, for comparison with the library's own. */
function toJs(node: Node | undefined): unknown {
  if (!node) return null;
  if (node.kind === 'scalar') return node.value;
  if (node.kind === 'list') return node.items.map(toJs);
  return Object.fromEntries(node.pairs.map(({ key, value }) => [key.text, toJs(value)]));
}

const sample = `# The whole plan.
title: Clay bird whistle   # a trailing comment
notes: |
  Two lines
  of text.

  # no comment
kit: kits/phone.kit.yaml
brief:
  purpose: >-
    Folded
    text.
  client: 'Pardle Yard, toymakers'
  quote: "He said \\"yes\\" # once"
  two-lines: Open the
    shop page
  empty:
  # about nothing
product: { size: 8 x 4 x 6 cm, finish: matte, parts: [] } # flow
shots:

  beak:
    shows: [ beak, "hand" ]
    camera:
      iso: 0100
      rate: 25 # bare

  # between two shots
  whole:
    takes: 3


cut:
- shot: beak
  length: 6 s
-
  shot: whole
- !!str tagged
-   # empty
titles:
  - [ a,
      b ]   # list
  - {
      text: "Hi"
    }
last: &name
  deep: 1
again: *name
`;

describe('the range of a value is its source', () => {
  it.each([
    ['title', 'Clay bird whistle'],
    ['notes', '|\n  Two lines\n  of text.\n\n  # no comment'],
    ['brief.purpose', '>-\n    Folded\n    text.'],
    ['brief.client', "'Pardle Yard, toymakers'"],
    ['brief.quote', '"He said \\"yes\\" # once"'],
    ['brief.two-lines', 'Open the\n    shop page'],
    ['brief.empty', ''],
    ['product', '{ size: 8 x 4 x 6 cm, finish: matte, parts: [] }'],
    ['product.size', '8 x 4 x 6 cm'],
    ['product.parts', '[]'],
    ['shots.beak', 'shows: [ beak, "hand" ]\n    camera:\n      iso: 0100\n      rate: 25'],
    ['shots.beak.shows', '[ beak, "hand" ]'],
    ['shots.beak.shows.1', '"hand"'],
    ['shots.beak.camera', 'iso: 0100\n      rate: 25'],
    ['shots.whole', 'takes: 3'],
    ['cut', '- shot: beak\n  length: 6 s\n-\n  shot: whole\n- !!str tagged\n-'],
    ['cut.0', 'shot: beak\n  length: 6 s'],
    ['cut.1', 'shot: whole'],
    ['cut.2', 'tagged'],
    ['cut.3', ''],
    ['titles.0', '[ a,\n      b ]'],
    ['titles.1', '{\n      text: "Hi"\n    }'],
    ['last', 'deep: 1'],
    ['again', '*name'],
  ])('%s', (path, expected) => {
    expect(source(sample, path)).toBe(expected);
  });

  it('also with \\r\\n and with lone \\r as line ends', () => {
    for (const lineEnd of ['\r\n', '\r']) {
      const text = sample.replaceAll('\n', lineEnd);
      expect(source(text, 'notes')).toBe('|\n  Two lines\n  of text.\n\n  # no comment'.replaceAll('\n', lineEnd));
      expect(source(text, 'shots.beak.camera')).toBe('iso: 0100\n      rate: 25'.replaceAll('\n', lineEnd));
      expect(source(text, 'again')).toBe('*name');
      expect(child(parseDocument(text).root, 'notes')).toMatchObject({ text: 'Two lines\nof text.\n\n# no comment\n' });
    }
  });

  it('also behind a byte order mark, and without a final line end', () => {
    expect(source('\ufefftitle: Uhr', 'title')).toBe('Uhr');
    expect(parseDocument('\ufefftitle: Uhr').problems).toEqual([]);
    expect(source('a: 1\nb:\n  c: |\n    x', 'b')).toBe('c: |\n    x');
  });

  it('starts right after the colon or dash where there is no value', () => {
    const text = 'kit:   # none yet\ncut:\n  - \n';
    const { root } = parseDocument(text);
    expect(child(root, 'kit')).toMatchObject({ start: 4, end: 4, value: null, text: '' });
    expect(at(root, ['cut', 0])).toMatchObject({ start: text.indexOf('-') + 1, value: null });
  });
});

describe('values', () => {
  const value = (written: string) => at(parseDocument(`x: ${written}`).root, ['x']);

  it('keep the text as written beside what YAML 1.2 makes of it', () => {
    expect(value('007')).toMatchObject({ text: '007', value: 7, quoted: false });
    expect(value('4.10')).toMatchObject({ text: '4.10', value: 4.1 });
    expect(value('"25"')).toMatchObject({ text: '25', value: '25', quoted: true });
    expect(value('null')).toMatchObject({ text: 'null', value: null });
  });

  it('are text where YAML 1.1 would see dates, minutes or switches', () => {
    for (const text of ['no', 'yes', 'on', 'off', '1:30', '2024-01-01', '4:2:0', '10:00:00:00', '1_000', '1/50 s']) {
      expect(value(text)).toMatchObject({ text, value: text });
    }
  });

  it('are never infinite', () => {
    for (const text of ['.inf', '-.INF', '.nan', '1e400']) expect(value(text)).toMatchObject({ value: text });
  });

  it('may stand under names that JavaScript knows', () => {
    const { root } = parseDocument('__proto__: 1\nconstructor: 2\ntoString: { __proto__: 3 }\n');
    expect(child(root, '__proto__')).toMatchObject({ value: 1 });
    expect(child(root, 'constructor')).toMatchObject({ value: 2 });
    expect(at(root, ['toString', '__proto__'])).toMatchObject({ value: 3 });
    expect(child(root, 'hasOwnProperty')).toBeUndefined();
  });

  it('are those that the library reads, in blocks and in brackets', () => {
    const key = fc.stringMatching(/^[a-z][a-z0-9-]{0,6}$/);
    const leaf = fc.oneof(
      fc.integer(),
      fc.boolean(),
      fc.string(),
      fc.constantFrom('a: b', '# c', '- d', "'", '1/50 s'),
    );
    const { tree } = fc.letrec((tie) => ({
      tree: fc.oneof({ maxDepth: 4 }, leaf, fc.array(tie('tree'), { maxLength: 4 }), fc.dictionary(key, tie('tree'))),
    }));
    fc.assert(
      fc.property(tree, fc.boolean(), (data, flow) => {
        const text = stringify({ data }, { collectionStyle: flow ? 'flow' : 'any', version: '1.2' });
        expect(toJs(parseDocument(text).root)).toEqual(parse(text));
      }),
      { numRuns: 300 },
    );
  });
});

describe('comments', () => {
  it('are found where they are comments, and nowhere else', () => {
    const { comments } = parseDocument(sample);
    const found = comments.map(({ text, alone }) => (alone ? `${text} (alone)` : text));
    expect(found).toEqual([
      'The whole plan. (alone)',
      'a trailing comment',
      'about nothing (alone)',
      'flow',
      'bare',
      'between two shots (alone)',
      'empty',
      'list',
    ]);
    for (const { start, end, text } of comments)
      expect(sample.slice(start, end)).toMatch(new RegExp(`^#\\s*${text}\\s*$`));
  });

  it('may stand beside a block sign, between brackets, before the first and after the last line', () => {
    const text = '# a\n--- # b\nx: | # c\n  # text\ny: [ # d\n  1 ]\n... # e\n# f';
    expect(parseDocument(text).comments.map((comment) => comment.text)).toEqual(['a', 'b', 'c', 'd', 'e', 'f']);
    expect(parseDocument('\ufeff# first').comments).toEqual([{ start: 1, end: 8, text: 'first', alone: true }]);
  });
});

describe('aliases', () => {
  it('share what they stand for, with the range of their use', () => {
    const text = 'a: &x { b: 1 }\nc: *x\nd: [*x]\n';
    const { root, problems } = parseDocument(text);
    expect(problems).toEqual([]);
    const use = child(root, 'c');
    expect(use).toMatchObject({ kind: 'map', alias: 'x', start: text.indexOf('*x'), end: text.indexOf('*x') + 2 });
    expect(at(root, ['c', 'b'])).toBe(at(root, ['a', 'b']));
    expect(at(root, ['d', 0, 'b'])).toBe(at(root, ['a', 'b']));
  });

  it('mean the nearest mark above', () => {
    const { root } = parseDocument('a: &x 1\nb: *x\nc: &x 2\nd: *x\n');
    expect(child(root, 'b')).toMatchObject({ value: 1 });
    expect(child(root, 'd')).toMatchObject({ value: 2 });
  });
});
