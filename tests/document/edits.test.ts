import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import {
  applyEdits,
  insertItem,
  insertPair,
  quote,
  removePair,
  replaceNode,
} from '../../server/core/document/edits.ts';
import type { Node } from '../../server/core/document/node.ts';
import { at, pairOf } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import type { Edit } from '../../server/core/finding.ts';

/** The text after `edit` has been made on the node at a path of keys and positions, written with `.` between. */
function edited(text: string, path: string, edit: (text: string, node: never) => Edit[]): string | undefined {
  const steps = path === '' ? [] : path.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) : step));
  const node = at(parseDocument(text).root, steps);
  if (!node) throw new Error(`Nothing at ${path}`);
  return applyEdits(text, edit(text, node as never));
}

const insert = (text: string, path: string, key: string, value: string) =>
  edited(text, path, (whole, node) => insertPair(whole, node, key, value));
const add = (text: string, path: string, value: string) =>
  edited(text, path, (whole, node) => insertItem(whole, node, value));
const remove = (text: string, path: string, key: string) =>
  edited(text, path, (whole, node) => removePair(whole, node, key));
const replace = (text: string, path: string, value: string) =>
  edited(text, path, (whole, node) => replaceNode(whole, node, value));

describe('applyEdits', () => {
  it('takes edits in any order, and insertions at one place in the order given', () => {
    const edits = [
      { start: 4, end: 5, text: 'E' },
      { start: 0, end: 0, text: '1' },
      { start: 0, end: 0, text: '2' },
      { start: 1, end: 3, text: '' },
    ];
    expect(applyEdits('abcde', edits)).toBe('12adE');
    expect(applyEdits('abcde', [])).toBe('abcde');
  });

  it('refuses overlaps and places outside the text', () => {
    const one = { start: 1, end: 3, text: '' };
    expect(applyEdits('abcde', [one, { start: 2, end: 4, text: '' }])).toBeUndefined();
    expect(applyEdits('abcde', [one, { start: 2, end: 2, text: 'x' }])).toBeUndefined();
    expect(applyEdits('abcde', [one, { start: 3, end: 3, text: 'x' }])).toBe('axde');
    expect(applyEdits('abcde', [{ start: 3, end: 9, text: '' }])).toBeUndefined();
    expect(applyEdits('abcde', [{ start: 3, end: 2, text: '' }])).toBeUndefined();
    expect(applyEdits('abcde', [{ start: -1, end: 2, text: '' }])).toBeUndefined();
  });
});

describe('quote', () => {
  it('takes double quotes, or single ones where the text holds double ones or backslashes', () => {
    expect(quote('#fff')).toBe('"#fff"');
    expect(quote("It's here")).toBe('"It\'s here"');
    expect(quote('"It turns" he said')).toBe(`'"It turns" he said'`);
    expect(quote(`C:\\it's`)).toBe(`'C:\\it''s'`);
    expect(quote('two\nlines')).toBe('"two\\nlines"');
  });

  it('gives back every text, read by the library, in blocks and in braces', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(parse(`a: ${quote(text)}`)).toEqual({ a: text });
        expect(parse(`{ a: [${quote(text)}] }`)).toEqual({ a: [text] });
      }),
      { numRuns: 250 },
    );
  });
});

describe('insertPair', () => {
  it('goes below the last pair of a block, at its column, before what follows', () => {
    expect(insert('camera:\n    iso: 100 # base\n\n# lamps\nlamps: {}\n', 'camera', 'rate', '25')).toBe(
      'camera:\n    iso: 100 # base\n    rate: 25\n\n# lamps\nlamps: {}\n',
    );
    expect(insert('a: 1\n', '', 'b', '2')).toBe('a: 1\nb: 2\n');
    expect(insert('\ufeffa: 1\n', '', 'b', '2')).toBe('\ufeffa: 1\nb: 2\n');
    expect(insert('a:\n  b:\n    c: 1\n', 'a', 'd', '2')).toBe('a:\n  b:\n    c: 1\n  d: 2\n');
  });

  it('stands beside the other names of a list item', () => {
    expect(insert('cut:\n  - shot: beak # x\n  - shot: whole\n', 'cut.0', 'length', '6 s')).toBe(
      'cut:\n  - shot: beak # x\n    length: 6 s\n  - shot: whole\n',
    );
    expect(insert('- &x a: 1\n  b: 2\n', '0', 'c', '3')).toBe('- &x a: 1\n  b: 2\n  c: 3\n');
  });

  it('keeps the line ends of the file and needs none at its end', () => {
    expect(insert('a:\r\n  b: 1', 'a', 'c', '2')).toBe('a:\r\n  b: 1\r\n  c: 2');
    expect(insert('a:\r  b: 1\rd: 1\r', 'a', 'c', '2')).toBe('a:\r  b: 1\r  c: 2\rd: 1\r');
    expect(insert('a: 1', '', 'b', '2')).toBe('a: 1\nb: 2');
  });

  it('leaves block text and its blank lines as they are', () => {
    expect(insert('a:\n  b: |\n    x\n\n\nc: 1\n', 'a', 'd', '2')).toBe('a:\n  b: |\n    x\n  d: 2\n\n\nc: 1\n');
    const kept = 'a:\n  b: |+\n    x\n\n\nc: 1\n';
    const after = insert(kept, 'a', 'd', '2') ?? '';
    expect(parse(after)).toEqual({ a: { b: 'x\n\n\n', d: 2 }, c: 1 });
  });

  it('goes into braces, empty or not', () => {
    expect(insert('a: { b: 1 } # x\n', 'a', 'c', '2')).toBe('a: { b: 1, c: 2 } # x\n');
    expect(insert('a: {}\n', 'a', 'c', '2')).toBe('a: { c: 2 }\n');
    expect(insert('a: { b: 1, }\n', 'a', 'c', '2')).toBe('a: { b: 1, c: 2, }\n');
    expect(insert('a: {\n  b: 1, # x\n  d: [] # y\n}\n', 'a', 'c', '2')).toBe(
      'a: {\n  b: 1, # x\n  d: [], c: 2 # y\n}\n',
    );
  });

  it('goes below a name that has no value yet', () => {
    expect(insert('camera: # soon\nlamps:\n  key:\n', 'camera', 'iso', '100')).toBe(
      'camera: # soon\n  iso: 100\nlamps:\n  key:\n',
    );
    expect(insert('lamps:\n  key:', 'lamps.key', 'level', '50 %')).toBe('lamps:\n  key:\n    level: 50 %');
    expect(insert('- a:\n', '0.a', 'b', '1')).toBe('- a:\n    b: 1\n');
  });

  it('takes a block as its value', () => {
    expect(insert('shots:\n  a: 1\n', 'shots', 'b', '\n  takes: 3\n  record: 10 s')).toBe(
      'shots:\n  a: 1\n  b:\n    takes: 3\n    record: 10 s\n',
    );
    expect(insert('a: 1\r\n', '', 'b', '\n  c: 3')).toBe('a: 1\r\nb:\r\n  c: 3\r\n');
  });
});

describe('insertItem', () => {
  it('goes below the last item, or into brackets', () => {
    expect(add('cut:\n- a # x\n- b: 1\n  c: 2 # y\n\nd: 1\n', 'cut', 'e')).toBe(
      'cut:\n- a # x\n- b: 1\n  c: 2 # y\n- e\n\nd: 1\n',
    );
    expect(add('a: [x, y]\n', 'a', 'z')).toBe('a: [x, y, z]\n');
    expect(add('a: []\n', 'a', 'z')).toBe('a: [z]\n');
    expect(add('cut:\r\n  - a', 'cut', 'b')).toBe('cut:\r\n  - a\r\n  - b');
    expect(add('- - a\n- b\n', '0', 'c')).toBe('- - a\n  - c\n- b\n');
    expect(add('cut:\n  - a: 1\n', 'cut', 'b: 1\n  c: 2')).toBe('cut:\n  - a: 1\n  - b: 1\n    c: 2\n');
  });
});

describe('removePair', () => {
  it('takes its lines and nothing else', () => {
    expect(remove('a: 1\nb:\n  c: 1 # x\n  # y\n\nd: 2\n', '', 'b')).toBe('a: 1\n  # y\n\nd: 2\n');
    expect(remove('a: 1\r\nb: 2\r\nc: 3', '', 'b')).toBe('a: 1\r\nc: 3');
    expect(remove('a: 1\nb: 2', '', 'b')).toBe('a: 1\n');
    expect(remove('a: |\n  x\nb: 2\n', '', 'a')).toBe('b: 2\n');
    expect(remove('a: 1\n', '', 'z')).toBe('a: 1\n');
  });

  it('takes one comma in braces and keeps comments', () => {
    expect(remove('x: { a: 1, b: 2, c: 3 }', 'x', 'a')).toBe('x: { b: 2, c: 3 }');
    expect(remove('x: { a: 1, b: 2, c: 3 }', 'x', 'c')).toBe('x: { a: 1, b: 2 }');
    expect(remove('x: { a: 1 }', 'x', 'a')).toBe('x: {}');
    const after = remove('x: {\n  a: 1, # one\n  b: 2, # two\n  c: 3 # three\n}\n', 'x', 'b') ?? '';
    expect(parse(after)).toEqual({ x: { a: 1, c: 3 } });
    expect(parseDocument(after).comments.map(({ text }) => text)).toEqual(['one', 'two', 'three']);
  });

  it('leaves the dash of a list item to the next name', () => {
    expect(remove('- a: 1\n  b: 2\n', '0', 'a')).toBe('- b: 2\n');
    expect(remove('- a: 1\n- c: 1\n', '0', 'a')).toBe('- {}\n- c: 1\n');
  });
});

describe('replaceNode', () => {
  it('keeps the comment behind the sign of a block of text', () => {
    expect(replace('a: > # why\n  long\n  text\nb: 1\n', 'a', 'short')).toBe('a: short # why\nb: 1\n');
    expect(replace('focus: > # comment\nb: 1\n', 'focus', '40 cm')).toBe('focus: 40 cm # comment\nb: 1\n');
  });

  it('touches the value alone', () => {
    expect(replace('a: 1/20 s # slow\n', 'a', '1/50 s')).toBe('a: 1/50 s # slow\n');
    expect(replace('a: # soon\n', 'a', '1')).toBe('a: 1 # soon\n');
    expect(replace('a:\n', 'a', '1')).toBe('a: 1\n');
    expect(replace('-\n', '0', '1')).toBe('- 1\n');
    expect(replace('a: |\n  x\n  y\nb: 1\n', 'a', '"z"')).toBe('a: "z"\nb: 1\n');
    expect(replace('a: { b: 1 }\n', 'a', '{ c: 2 }')).toBe('a: { c: 2 }\n');
  });
});

/** Nested blocks and braces with comments at every line end, in any of the three line ends. */
const written = fc
  .record({
    lines: fc.array(
      fc.tuple(fc.constantFrom('1', '[a, b]', '{ x: 1, y: 2 }', '{}', '"t"', '|\n    text\n', ''), fc.boolean()),
      {
        minLength: 1,
        maxLength: 5,
      },
    ),
    lineEnd: fc.constantFrom('\n', '\r\n'),
    final: fc.boolean(),
  })
  .map(({ lines, lineEnd, final }) => {
    const body = lines.map(([value, comment], i) => {
      const plain = value.startsWith('|') ? value.trimEnd() : value + (comment ? ` # c${i}` : '');
      return `  k${i}: ${plain}`;
    });
    const text = ['# top', 'shots:', ...body].join('\n') + (final ? '\n' : '');
    return text.replaceAll('\n', lineEnd);
  });

function contents(text: string): { data: { shots: Record<string, unknown> }; comments: string[] } {
  const doc = parseDocument(text);
  expect(doc.problems).toEqual([]);
  return { data: parse(text), comments: doc.comments.map((comment) => comment.text) };
}

describe('edits on any block', () => {
  it('change what they say, keep the rest, every comment and the line ends', () => {
    fc.assert(
      fc.property(written, fc.nat(4), (text, pick) => {
        const before = contents(text);
        const keys = Object.keys(before.data.shots);
        const shots = at(parseDocument(text).root, ['shots']) as Node & { kind: 'map' };

        const more = applyEdits(text, insertPair(text, shots, 'new', '5 s'))!;
        expect(contents(more)).toEqual({
          data: { shots: { ...before.data.shots, new: '5 s' } },
          comments: before.comments,
        });
        expect(/(?<!\r)\n/.test(more)).toBe(/(?<!\r)\n/.test(text));

        const key = keys[pick % keys.length]!;
        const value = pairOf(shots, key)!.value;
        const other = contents(applyEdits(text, replaceNode(text, value, '5 s'))!);
        expect(other).toEqual({ data: { shots: { ...before.data.shots, [key]: '5 s' } }, comments: before.comments });

        if (keys.length === 1) return;
        const rest = Object.fromEntries(Object.entries(before.data.shots).filter(([name]) => name !== key));
        expect(contents(applyEdits(text, removePair(text, shots, key))!).data).toEqual({ shots: rest });
      }),
      { numRuns: 250 },
    );
  });
});
