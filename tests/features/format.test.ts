/** Laying files out: what it changes, and that nothing else does. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Node } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { formatEdits, lineEdits } from '../../server/features/format/index.ts';
import { corpus, pageSpecs, samples, type Text } from '../hostile/corpus.ts';
import { mutated } from '../hostile/mutate.ts';
import { checkerOf, checkText, seed } from '../hostile/sound.ts';

function formatted(text: string): string {
  return applyEdits(text, formatEdits(parseDocument(text)))!;
}

describe('indentation', () => {
  test('is two blanks for each step', () => {
    expect(formatted('camera:\n     lens: tele\nshots:\n    a:\n          record: 4 s\n')).toBe(
      'camera:\n  lens: tele\nshots:\n  a:\n    record: 4 s\n',
    );
  });

  test('of dashes is one step in from the name above, and of what stands under them another', () => {
    expect(formatted('cut:\n- shot: a\n  length: 2 s\n-   shot: b\n    length: 3 s\n')).toBe(
      'cut:\n  - shot: a\n    length: 2 s\n  - shot: b\n    length: 3 s\n',
    );
  });

  test('moves a block of text as a whole, and counts from the line that it belongs to where one says how far', () => {
    expect(formatted('brief:\n    notes: |\n          First.\n            Deeper.\n\n          Last.\n')).toBe(
      'brief:\n  notes: |\n    First.\n      Deeper.\n\n    Last.\n',
    );
    expect(formatted('brief:\n    notes: |2\n        two more\n      none\n')).toBe(
      'brief:\n  notes: |2\n      two more\n    none\n',
    );
  });

  test('of a text or of braces over several lines is one step in', () => {
    expect(
      formatted(
        'title: One\n      and two\nproduct: {\n size: 8 x 4 x 6 cm,\n   parts: {\n lid: { size: 4 x 1 x 4 cm } }\n  }\n',
      ),
    ).toBe(
      'title: One\n  and two\nproduct: {\n  size: 8 x 4 x 6 cm,\n  parts: {\n    lid: { size: 4 x 1 x 4 cm } }\n  }\n',
    );
  });
});

describe('blanks', () => {
  test.each([
    [
      'one behind a colon and a comma, none before',
      'a :  1\nb: {c:  1 ,d: [ x,y ]}\n',
      'a: 1\nb: { c: 1, d: [x, y] }\n',
    ],
    ['none in what is empty', 'a: { }\nb: [ ]\n', 'a: {}\nb: []\n'],
    ['none at the end of a line, and one line end at the end', 'a: 1  \n\t\nb: 2\t\n\n\n', 'a: 1\n\nb: 2\n'],
    ['line ends stay as they are', 'a:  1\r\nb:  2', 'a: 1\r\nb: 2\r\n'],
    ['tabs between words', 'a:\t1\n', 'a: 1\n'],
  ])('%s', (_, before, after) => expect(formatted(before)).toBe(after));

  test('in names, texts and comments are nobody else’s', () => {
    const text = 'a: one  two\nb: "x ,  y"   #  as  it  is\n#   alone\nc: |\n  x:  1  \n   \n';
    expect(formatted(text)).toBe(text);
  });
});

describe('columns', () => {
  test('stay where somebody made them, and close up with what stands in them', () => {
    const arranged =
      'cut:\n  - { shot: opening, length: 6 s,      zoom: 1.5 }\n  - { shot: lid,     length: 10 beats, zoom: 1 }\n' +
      '  - { shot: comb,    length: 2 s }\n';
    expect(formatted(arranged)).toBe(arranged);
    expect(formatted(arranged.replace('opening', 'end'))).toBe(
      'cut:\n  - { shot: end,  length: 6 s, zoom: 1.5 }\n  - { shot: lid,  length: 10 beats, zoom: 1 }\n' +
        '  - { shot: comb, length: 2 s }\n',
    );
  });

  test('of values below each other as well', () => {
    const arranged = 'camera:\n  rate:    25\n  shutter: 1/50 s\n  iso:     100\n';
    expect(formatted(arranged)).toBe(arranged);
  });

  test('are none where blanks are doubled everywhere', () => {
    expect(formatted('rate:  25\nbits:  10\niso:  100\n')).toBe('rate: 25\nbits: 10\niso: 100\n');
  });

  test('are none where one line has a blank too many', () => {
    expect(formatted('a: { b: 1,  c: 2 }\nd: { b: 100, c: 2 }\n')).toBe('a: { b: 1, c: 2 }\nd: { b: 100, c: 2 }\n');
  });
});

describe('comments', () => {
  test('on lines of their own go with what follows, or with what they stand in line with', () => {
    const text =
      'shots:\n    # before a\n    a:\n        record: 4 s\n        # about a\n    # before b\n    b:\n        brief: >\n            long\n    # end of them\n# end\n';
    expect(formatted(text)).toBe(
      'shots:\n  # before a\n  a:\n    record: 4 s\n    # about a\n  # before b\n  b:\n    brief: >\n      long\n  # end of them\n# end\n',
    );
  });

  test('that accept something still do', () => {
    const accepting = samples.find(({ text }) => /# *accept /.test(text))!;
    const before = checkText(accepting, checkerOf(accepting.files));
    const after = checkText(
      { ...accepting, text: formatted(dishevelled(accepting.text, 3)) },
      checkerOf(accepting.files),
    );
    expect(after.silenced.map(({ finding }) => finding.message)).toEqual(
      before.silenced.map(({ finding }) => finding.message),
    );
  });
});

describe('what is asked for alone', () => {
  const text = 'a:   1\nb:   2\nshots:\n    c:   {}\n    d:   {}\n';
  const only = (first: number, last: number) => applyEdits(text, formatEdits(parseDocument(text), { first, last }));

  test('some lines', () => expect(only(1, 1)).toBe('a:   1\nb: 2\nshots:\n    c:   {}\n    d:   {}\n'));

  test('with all of their block, where its lines can only move together', () =>
    expect(only(3, 3)).toBe('a:   1\nb:   2\nshots:\n  c: {}\n  d: {}\n'));

  test('a line that was just left keeps its indentation', () =>
    expect(applyEdits(text, lineEdits(parseDocument(text), 3))).toBe(
      'a:   1\nb:   2\nshots:\n    c: {}\n    d:   {}\n',
    ));
});

test.each([
  ['can’t be read', 'a: {\nb: 1\n'],
  ['is no plan', '- a\n-   b\n'],
  ['has tags, two documents or question marks', '? a\n:   b\n'],
  ['is empty', ''],
])('a text that %s is left alone', (_, text) => expect(formatted(text)).toBe(text));

test.each(samples.map((one) => [one.name, one]))('%s is laid out already', (_, { text }) =>
  expect(formatted(text)).toBe(text),
);

/** What a file says, in its order, with its comments. */
function said(text: string): unknown {
  const { root, comments, problems } = parseDocument(text);
  return [root && plainly(root), comments.map((one) => one.text), problems.map(({ rule, message }) => [rule, message])];
}

function plainly(node: Node): unknown {
  if (node.alias !== undefined) return `*${node.alias}`;
  if (node.kind === 'scalar') return [node.text, node.quoted];
  return node.kind === 'list'
    ? node.items.map(plainly)
    : node.pairs.map(({ key, value }) => [key.text, plainly(value)]);
}

/** As somebody types who does not care: other steps, and blanks too many; none in blocks of text. */
function dishevelled(text: string, step: number): string {
  let block = Infinity;
  return text
    .split('\n')
    .map((line, nth) => {
      const indent = /^ */.exec(line)![0].length;
      if (line.trim() !== '' && indent <= block) block = Infinity;
      const own = line.replace(/^ */, ' '.repeat((indent / 2) * step));
      if (block < Infinity || line.trim().startsWith('#')) return own;
      if (/: [|>][-+]?(?: +#.*)?$/.test(line)) block = indent;
      return nth % 3 === 0 && /[{[]/.test(line) && !/["'#]/.test(line)
        ? `${own.replace(/, /g, ` ,${' '.repeat(150)}`)}  `
        : own;
    })
    .join('\n');
}

describe('of any text', () => {
  const bases: readonly Text[] = [...pageSpecs, ...samples];
  const whole = bases.filter(({ text }) => !parseDocument(text).broken);

  // Each text once, which is enough of them for each step.
  test.each([1, 3, 5])('laid out with steps of %i and blanks too many: it is as before', (step) => {
    for (const { name, text } of whole.filter((_, nth) => nth % 3 === (step - 1) / 2))
      expect(formatted(dishevelled(text, step)), name).toBe(formatted(text));
  });

  test.each([
    ['spoilt with care', true, 120],
    ['spoilt without', false, 60],
  ] as const)('%s: it says the same, has all comments, and a second time changes nothing', (_, gently, numRuns) => {
    fc.assert(
      fc.property(mutated(corpus, 3, gently), ({ text }) => {
        const once = formatted(text);
        expect(said(once)).toEqual(said(text));
        expect(once.replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
        expect(formatted(once)).toBe(once);
      }),
      { numRuns, seed },
    );
  });
});
