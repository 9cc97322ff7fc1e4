import { describe, expect, it } from 'vitest';
import { at } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { expectProblems, fixed } from '../helpers/problems.ts';

/** Marked text, what is said, and the text after the first fix. */
type Case = [name: string, marked: string, said: string, after?: string];

const cases: Case[] = [
  ['a tab', 'camera:\n⟦\t⟧iso: 100\n', 'A tab stands', 'camera:\n  iso: 100\n'],
  ['a tab in braces', 'a: {\n⟦\t⟧b: 1 }\n', 'A tab stands', 'a: {\n  b: 1 }\n'],
  ['no space after a colon', 'camera:\n  ⟦iso:100⟧\n  lens: a\n', '`iso: 100`', 'camera:\n  iso: 100\n  lens: a\n'],
  ['no space at the end', 'a: 1\n⟦iso:100⟧\n', '`iso: 100`', 'a: 1\niso: 100\n'],
  ['no space in the only line', 'camera:\n  ⟦iso:100⟧\n', '`iso: 100`', 'camera:\n  iso: 100\n'],
  ['no space in braces', 'a: { ⟦iso:100⟧, lens: b }\n', '`iso: 100`', 'a: { iso: 100, lens: b }\n'],
  ['no space after dashes', 'cut:\n  ⟦-a\n  -b⟧\n', 'after the dash', 'cut:\n  - a\n  - b\n'],
  ['an open double quote', 'a: ⟦"Clay bird⟧\nb: 1\n', 'no closing `"`', 'a: "Clay bird"\nb: 1\n'],
  ['an open single quote', "a: ⟦'Clay bird⟧\nb: 1\n", "no closing `'`", "a: 'Clay bird'\nb: 1\n"],
  ['an open quote and a later one', 'a: ⟦"Clay⟧\nb: 1\nc: "x"\n', 'no closing `"`', 'a: "Clay"\nb: 1\nc: "x"\n'],
  ['an open quote in a block', 'x:\n  a: ⟦"Clay⟧\n  b: 1\ny: 1\n', 'no closing `"`', 'x:\n  a: "Clay"\n  b: 1\ny: 1\n'],
  ['an open quote after emoji', 'a: 🎬🎬\nb: ⟦"y⟧\n', 'no closing `"`', 'a: 🎬🎬\nb: "y"\n'],
  ['an apostrophe in single quotes', "a: 'It'⟦s here'⟧\n", 'after the closing', 'a: "It\'s here"\n'],
  ['text after quotes', 'a: "It turns" ⟦he said⟧ # x\n', 'after the closing `"`', `a: '"It turns" he said' # x\n`],
  [
    'text after quotes in braces',
    '- { text: "Bell" ⟦by hand⟧, at: 1 s, hold: 3 s }\n',
    'after the closing `"`',
    `- { text: '"Bell" by hand', at: 1 s, hold: 3 s }\n`,
  ],
  [
    'text after quotes in brackets and braces',
    'titles: [{ text: "Bell" ⟦by hand⟧, at: 1 s }]\na: 1\n',
    'after the closing `"`',
    `titles: [{ text: '"Bell" by hand', at: 1 s }]\na: 1\n`,
  ],
  [
    'text after quotes in braces over lines',
    '- {\n  text: "Bell" ⟦by hand⟧,\n  at: 1 s }\n',
    'after the closing `"`',
    `- {\n  text: '"Bell" by hand',\n  at: 1 s }\n`,
  ],
  ['text after quotes in brackets', 'a: ["Bell" ⟦by hand⟧, b]\n', 'Put quotes', `a: ['"Bell" by hand', b]\n`],
  [
    'an apostrophe in braces',
    "- { text: 'It'⟦s here'⟧, at: 1 s }\n",
    'Put quotes',
    `- { text: "It's here", at: 1 s }\n`,
  ],
  ['text after brackets in braces', 'a: { b: [1] ⟦x⟧, c: 2 }\n', 'after the closing `]`', 'a: { b: "[1] x", c: 2 }\n'],
  ['a comma missing after a quoted name', 'a: { "b" ⟦x:⟧ 1 }\n', 'A comma is missing', 'a: { "b", x: 1 }\n'],
  ['text after brackets', 'a: [draft] ⟦box⟧\n', 'after the closing `]`', 'a: "[draft] box"\n'],
  ['an open bracket', 'a: ⟦[⟧x, y\nb: 1\n', 'Nothing closes this `[`'],
  ['an open brace', 'product: ⟦{⟧ size: 8\ndeliver:\n  web: 1\n', 'Nothing closes this `{`'],
  ['an open bracket in braces', 'a: { b: ⟦[⟧1, 2 }\nc: d\n', 'Nothing closes this `[`'],
  ['an open brace at the end', 'a: { b: [1] }\nc: ⟦{⟧ b: 1', 'Nothing closes this `{`'],
  [
    'a brace swallowed by a comment',
    'a: { b: 1, colour: ⟦#fff }⟧\nc: 1\n',
    'closes nothing',
    'a: { b: 1, colour: "#fff" }\nc: 1\n',
  ],
  ['a brace too many', 'a: { b: 1 }⟦}⟧\nc: 1\n', 'This `}` closes nothing', 'a: { b: 1 }\nc: 1\n'],
  ['a bracket alone', 'a: ⟦]⟧\n', 'This `]` closes nothing', 'a: \n'],
  ['a colon in text', 'text: ⟦Made here: by hand⟧  # x\n', 'Put quotes', 'text: "Made here: by hand"  # x\n'],
  ['a colon in text in a list', '- text: ⟦Made here: by hand⟧\n', 'Put quotes', '- text: "Made here: by hand"\n'],
  [
    'a colon in text in braces',
    'a: { text: ⟦Made here: by hand⟧, b: 1 }\n',
    'needs quotes',
    'a: { text: "Made here: by hand", b: 1 }\n',
  ],
  ['a missing comma', 'a: { b: ⟦1 c: 2⟧ }\n', 'a comma is missing', 'a: { b: 1, c: 2 }\n'],
  ['a missing comma between quotes', 'a: [ "x" ⟦"y"⟧ ]\n', 'comma is missing', 'a: [ "x", "y" ]\n'],
  [
    'a missing comma at a line end',
    'a: {\n  b: ⟦1⟧\n  c: 2\n}\n',
    'comma is missing after `1`',
    'a: {\n  b: 1,\n  c: 2\n}\n',
  ],
  ['two commas', 'a: { b: 1,⟦,⟧ c: 2 }\n', 'nothing before this comma', 'a: { b: 1, c: 2 }\n'],
  ['a dash in braces', 'a: { ⟦-⟧ x, y }\n', 'Dashes make lists only outside brackets'],
  [
    'a line too far in',
    'camera:\n  iso: 100\n   ⟦lens⟧: a\n',
    'further in than `iso`',
    'camera:\n  iso: 100\n  lens: a\n',
  ],
  ['a block below a value', 'camera: tele\n  ⟦iso⟧: 100\n', 'further in than `camera`', 'camera: tele\niso: 100\n'],
  ['a line too far left', 'camera:\n    iso: 100\n  ⟦lens⟧: a\n', 'column 3', 'camera:\n    iso: 100\n    lens: a\n'],
  ['a first line too far in', ' a: 1\n⟦b: 2⟧\n', 'further left than the first line'],
  ['a dash too far left', 'cut:\n  - a\n ⟦-⟧ b\n', 'This dash'],
  ['a dash among names', 'a: 1\n⟦-⟧ b\n', 'This dash'],
  ['a name among dashes', 'cut:\n  - a\n  ⟦b⟧: 1\n', 'no item of the list above'],
  ['a name left of its item', '- a: 1\n ⟦b⟧: 2\n', 'no item of the list above'],
  ['a name alone', 'camera:\n  ⟦iso⟧\n  lens: a\n', '`iso` stands alone'],
  ['a name being typed', 'title: a\n⟦ki⟧', '`ki` stands alone'],
  [
    'a line that ends the block around it',
    'shots:\n  spin:\n    record: 14 s\n⟦turn⟧: { by: 90° }\n    takes: 2\n  wind:\n    record: 10 s\n',
    'Start it at column 5',
    'shots:\n  spin:\n    record: 14 s\n    turn: { by: 90° }\n    takes: 2\n  wind:\n    record: 10 s\n',
  ],
  [
    'the first shot at the column of its block',
    'shots:\n⟦spin⟧: { record: 14 s }\n  wind: { record: 10 s }\ncut: []\n',
    'as `shots` above it does',
    'shots:\n  spin: { record: 14 s }\n  wind: { record: 10 s }\ncut: []\n',
  ],
  [
    'the first settings at the column of their block',
    'rate: 25\ncamera: # every shot\n⟦lens⟧: a\niso: 100\n  bits: 10\n',
    'Start it at column 3',
    'rate: 25\ncamera: # every shot\n  lens: a\n  iso: 100\n  bits: 10\n',
  ],
  [
    'a line that ends a block of blocks',
    'shots:\n  spin:\n    record: 14 s\n⟦turn⟧: { by: 90° }\n  wind:\n    record: 10 s\n',
    'ends the block above it',
    'shots:\n  spin:\n    record: 14 s\n    turn: { by: 90° }\n  wind:\n    record: 10 s\n',
  ],
  [
    'lines that end the block around them',
    'camera:\n  lens: a\n⟦iso⟧: 100\n# x\nbits: 10\n  rate: 25\n',
    'Start it at column 3',
    'camera:\n  lens: a\n  iso: 100\n# x\n  bits: 10\n  rate: 25\n',
  ],
  [
    'a line that ends a block of an item',
    'cut:\n  - shot: a\n⟦length⟧: 3 s\n    zoom: 2\n',
    'Start it at column 5',
    'cut:\n  - shot: a\n    length: 3 s\n    zoom: 2\n',
  ],
  [
    'no space after a dash',
    'cut:\n  ⟦-⟧{ a: b, c: d }\n  - { a: c }\n',
    'A space is missing after the dash',
    'cut:\n  - { a: b, c: d }\n  - { a: c }\n',
  ],
  [
    'no space after a later dash',
    'cut:\n  - { a: b, c: d }\n  ⟦-⟧{ a: c }\nx: 1\n',
    'A space is missing after the dash',
    'cut:\n  - { a: b, c: d }\n  - { a: c }\nx: 1\n',
  ],
  [
    'no space after dashes of blocks',
    'cut:\n  ⟦-⟧a: b\n   c: d\n  -a: c\n   c: e\nx: 1\n',
    'A space is missing after the dash',
    'cut:\n  - a: b\n    c: d\n  - a: c\n    c: e\nx: 1\n',
  ],
  [
    'numbers for dashes',
    'cut:\n  ⟦1.⟧ { a: b, c: d }\n  2. { a: c }\nx: 1\n',
    'a dash and a space do',
    'cut:\n  - { a: b, c: d }\n  - { a: c }\nx: 1\n',
  ],
  [
    'numbers for dashes of blocks',
    'cut:\n  ⟦1)⟧ a: b\n     c: d\n  2) a: c\nx: 1\n',
    'a dash and a space do',
    'cut:\n  -  a: b\n     c: d\n  - a: c\nx: 1\n',
  ],
  [
    'stars for dashes',
    'cut:\n  ⟦*⟧ { a: b }\n  * { a: c }\n',
    'a dash and a space',
    'cut:\n  - { a: b }\n  - { a: c }\n',
  ],
  [
    'a long dash',
    'cut:\n  - { a: b }\n  ⟦–⟧ { a: c, b: d }\n',
    'a dash and a space',
    'cut:\n  - { a: b }\n  - { a: c, b: d }\n',
  ],
  [
    'a tab among spaces',
    'camera:\n  lens: a\n⟦\t⟧iso: 100\n  rate: 25\n  bits: 8\n  height: 3 cm\n',
    'A tab stands',
    'camera:\n  lens: a\n  iso: 100\n  rate: 25\n  bits: 8\n  height: 3 cm\n',
  ],
  ['no colon', 'camera:\n  ⟦iso 400⟧\n  lens: a\n', '`iso: 400`', 'camera:\n  iso: 400\n  lens: a\n'],
  [
    'no colon below a value',
    'camera:\n  lens: a\n  ⟦iso 400⟧\n  rate: 25\n',
    '`iso: 400`. If it goes on the line above',
    'camera:\n  lens: a\n  iso: 400\n  rate: 25\n',
  ],
  ['no colon at the end', 'a: 1\n⟦region DE⟧\n', '`region: DE`', 'a: 1\nregion: DE\n'],
  ['no colon in an item', '- ⟦shot a⟧\n  b: 1\n', '`shot: a`', '- shot: a\n  b: 1\n'],
  [
    'no colon before a block',
    'lamps:\n  ⟦key⟧\n    use: a\n  fill: { b: 1 }\n',
    'the lines below belong to it',
    'lamps:\n  key:\n    use: a\n  fill: { b: 1 }\n',
  ],
  ['text that goes on too far left', 'a: One\n⟦two and three and four more⟧\nb: 1\n', 'neither a name with a colon'],
  [
    'two names on a line',
    'camera:\n  rate: ⟦25 shutter: 1/50 s⟧ # x\n  iso: 100\n',
    '`shutter` starts on the line of `rate: 25`',
    'camera:\n  rate: 25\n  shutter: 1/50 s # x\n  iso: 100\n',
  ],
  [
    'two names on a line of an item',
    'cut:\r\n  - speed: ⟦25 % shot: a⟧\r\n',
    'each name starts a line of its own',
    'cut:\r\n  - speed: 25 %\r\n    shot: a\r\n',
  ],
  ['an equals sign', 'camera:\n  ⟦iso = 100⟧\n  lens: a\n', 'not `=`', 'camera:\n  iso: 100\n  lens: a\n'],
  ['a per cent sign first', 'level: ⟦%60⟧\n', 'cannot start with `%`', 'level: 60 %\n'],
  ['an at sign first', 'a: ⟦@3 s⟧ # x\n', 'cannot start with `@`', 'a: "@3 s" # x\n'],
  ['a question mark first', 'a: ⟦? b⟧\n', 'cannot start with `?`', 'a: "? b"\n'],
  ['a minus apart from its number', 'gain: ⟦- 3 %⟧\n', '`-3 %`', 'gain: -3 %\n'],
  ['a list beside its name', 'cut: ⟦- a⟧\n', 'on the line below its name'],
  ['a star alone', 'a: ⟦*⟧\n', 'cannot stand here', 'a: "*"\n'],
  ['text beside a block sign', 'a: ⟦> 3 s⟧\n', 'on the next line', 'a: "> 3 s"\n'],
  ['block text not indented', 'a: |\n⟦foo⟧\n', 'further in than the name'],
  ['a backslash', 'a: "C:⟦\\d⟧ir"\n', 'means nothing', 'a: "C:\\\\dir"\n'],
  ['a hash beside a quote', 'a: "x"⟦#y⟧\n', 'needs a space', 'a: "x" #y\n'],
  ['a line beside dashes', '--- ⟦a: 1⟧\n', 'below `---`'],
];

describe('what cannot be read is said in plain words, once', () => {
  it.each(cases)('%s', (_, marked, said, after) => {
    const { text, broken } = expectProblems(marked, `syntax: ${said}`);
    expect(broken).toBe(true);
    if (after === undefined) return;
    expect(fixed(text)).toBe(after);
    expect(parseDocument(after).problems).toEqual([]);
  });

  it('reports each of several faults that stay on their lines', () => {
    expectProblems('a: ⟦%60⟧\nb: ⟦@x⟧\nc: "⟦\\q⟧"\n', 'syntax', 'syntax', 'syntax');
    expectProblems('a:\n⟦\t⟧b: 1\nc:\n⟦\t⟧d: 1\n', 'syntax', 'syntax');
  });

  it('offers to start a name that stands behind a word on a line of its own', () => {
    expect(fixed('lens: tele support: tripod\n', 'Start support')).toBe('lens: tele\nsupport: tripod\n');
    expect(parseDocument('title: Made here: by hand\n').problems[0]?.fixes).toHaveLength(1);
  });

  it('reports five at most', () => {
    expect(parseDocument('a: @x\n'.repeat(50)).problems).toHaveLength(5);
  });

  it('keeps long text out of the message', () => {
    const [found] = parseDocument(`a: ${'long '.repeat(5000)}: x\n`).problems;
    expect(found?.message.length).toBeLessThan(250);
  });

  it('still gives what could be read', () => {
    const { root } = parseDocument('title: Uhr\ncamera:\n  iso: 100\n  le\nshots:\n  beak: { takes: 3 }\n');
    expect(at(root, ['title'])).toMatchObject({ text: 'Uhr' });
    expect(at(root, ['shots', 'beak', 'takes'])).toMatchObject({ value: 3 });
  });

  it('leaves lines that only look odd alone', () => {
    const text = 'a:\n  see https://x.example\nb: a:b\nc:\n  - x:y\nd:\n  4:2:0\nf: [a:b]\n';
    expect(parseDocument(text).problems).toEqual([]);
  });
});
