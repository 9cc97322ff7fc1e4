import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { at, child } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { expectProblems, fixed } from '../helpers/problems.ts';
import { quick } from '../helpers/quick.ts';

describe('files that are not read', () => {
  it('merge conflicts are one finding', () => {
    const text =
      'title: a\n⟦<<<<<<< HEAD\nkit: "a\n||||||| base\nkit: c\n=======\nkit: b\n>>>>>>> topic⟧\nregion: DE\n';
    expect(expectProblems(text, 'conflict-marks').broken).toBe(true);
    expectProblems(text.replaceAll('\n', '\r\n'), 'conflict-marks');
    expectProblems('⟦<<<<<<< HEAD\na: 1\n=======\na: 2\n>>>>>>>⟧', 'conflict-marks');
  });

  it('conflict marks inside text are text', () => {
    expectProblems('a: |\n  <<<<<<< HEAD\n  >>>>>>> b\n');
  });

  it('files that are not text', () => {
    expectProblems('title: a⟦\0⟧b\n', 'not-text: Save it again as UTF-8');
    expectProblems('\u0089PNG\r\n\u001a\n⟦\0⟧\0\0\rIHDR', 'not-text');
    const { problems } = parseDocument('\u0001\u0002\u0003\ufffdabc');
    expect(problems.map(({ rule }) => rule)).toEqual(['not-text']);
  });

  it('files over 1 MiB of UTF-8', () => {
    const line = 'a: é\n';
    const bytes = 6;
    const most = Math.floor((1024 * 1024) / bytes);
    expect(parseDocument(`# ${'é'.repeat(512 * 1024)}`).problems.map(({ rule }) => rule)).toEqual(['spec-too-big']);
    expect(parseDocument(line.repeat(most + 1)).problems).toMatchObject([{ rule: 'spec-too-big', start: 0, end: 0 }]);
    expect(parseDocument(`# ${'é'.repeat(512 * 1024 - 2)}`).problems).toMatchObject([{ rule: 'empty-file' }]);
  });

  it('nesting without end', () => {
    expect(parseDocument('['.repeat(64) + ']'.repeat(64)).problems).toEqual([]);
    for (const depth of [65, 1000, 100_000]) {
      for (const text of [
        '['.repeat(depth),
        '['.repeat(depth) + ']'.repeat(depth),
        '- '.repeat(depth),
        '{ a: '.repeat(depth),
      ]) {
        const { problems, broken, root } = parseDocument(text);
        expect(problems.map(({ rule }) => rule)).toEqual(['nested-too-deep']);
        expect({ broken, root }).toEqual({ broken: true, root: undefined });
      }
    }
  });
});

describe('empty and many', () => {
  it.each(['', '\n\n', '# only a comment\n', '---\n', '\ufeff', '\r'])('an empty file: %j', (text) => {
    const { problems, root, broken } = parseDocument(text);
    expect(problems.map(({ rule }) => rule)).toEqual(['empty-file']);
    expect({ root, broken }).toEqual({ root: undefined, broken: false });
  });

  it('only null', () => {
    expectProblems('⟦null⟧\n', 'empty-file');
    expectProblems('# a\n⟦~⟧ # b\n', 'empty-file');
  });

  it('a second document is one finding, and the first is read', () => {
    const { root } = expectProblems('title: a\n⟦---⟧\ntitle: "b\n---\nc: 1\n', 'several-documents');
    expect(child(root, 'title')).toMatchObject({ text: 'a' });
    expectProblems('a: 1\n...\n⟦b⟧: 2\n', 'several-documents');
  });

  it('one document may have its marks', () => {
    expectProblems('---\na: 1\n...\n# end\n');
    expectProblems('%YAML 1.2\n---\na: 1\n');
  });
});

describe('names', () => {
  it('a name that stands twice: the first counts, the second is reported', () => {
    const { text, root, problems } = expectProblems(
      'iso: 100\nlens: a\n⟦iso⟧: 200\n⟦"lens"⟧: b\n',
      'name-twice',
      'name-twice',
    );
    expect(child(root, 'iso')).toMatchObject({ value: 100 });
    expect(problems[0]?.related).toMatchObject([{ start: 0, end: 3 }]);
    expect(text.slice(problems[1]?.related[0]?.start, problems[1]?.related[0]?.end)).toBe('lens');
    expectProblems('a: { b: 1, ⟦b⟧: 2 }\nb: 1\n', 'name-twice');
    expectProblems('007: a\n7: b\n');
  });

  it('a name that stands twice is deleted at either place', () => {
    const deleted = (text: string) =>
      parseDocument(text).problems[0]?.fixes.map(({ title, edits }) => [title, applyEdits(text, edits)]);
    expect(deleted('a:\n  iso: 100 # x\n  b: 1\n  iso: 200 # y\n')).toEqual([
      ['Delete this `iso`, which is not read', 'a:\n  iso: 100 # x\n  b: 1\n'],
      ['Delete the first `iso`, so that this one counts', 'a:\n  b: 1\n  iso: 200 # y\n'],
    ]);
    expect(deleted('- { a: 1, a: 2 }\n')?.map(([, text]) => text)).toEqual(['- { a: 1 }\n', '- { a: 2 }\n']);
    expect(deleted('- a: 1\n  a:\n    b: 2\n')?.map(([, text]) => text)).toEqual(['- a: 1\n', '- a:\n    b: 2\n']);
    // What may be repeated elsewhere stays.
    expect(deleted('a: &x 1\na: *x\n')?.map(([title]) => title)).toEqual(['Delete this `a`, which is not read']);
    expect(deleted('a: 1\r\na: 2')?.map(([, text]) => text)).toEqual(['a: 1\r\n', 'a: 2']);
  });

  it('names that are no plain words', () => {
    expectProblems('⟦?⟧ ⟦[a]⟧\n: b\n', 'complex-key: question mark', 'complex-key: a list or a block');
    expectProblems('{ ⟦[a, b]⟧: 1 }', 'complex-key');
    expectProblems('a: &x b\n⟦*x⟧ : 1\n', 'complex-key: `*x`');
    expectProblems('⟦:⟧ a\n', 'complex-key: no name before this colon');
    expectProblems('⟦?⟧ a\n', 'complex-key: question mark');
  });

  it('merge keys that take over no block', () => {
    expectProblems('a: &base 5\nb:\n  ⟦<<⟧: *base\n  y: 2\n', 'merge-key: `*base` stands for no block');
    expectProblems('b: { ⟦<<⟧: { x: 1 } }\n', 'merge-key: `<<: *name`');
    expectProblems('b: { ⟦<<⟧: }\n', 'merge-key');
    expectProblems('b: { <<: ⟦*gone⟧, y: 2 }\n', 'unknown-alias');
    expectProblems('"<<": a\n');
  });
});

describe('aliases', () => {
  it('unknown ones', () => {
    const { root, broken } = expectProblems('a: ⟦*x⟧\nb: &x 1\nc: *x\n', 'unknown-alias: none above');
    expect(broken).toBe(true);
    expect(child(root, 'a')).toMatchObject({ value: null, alias: 'x' });
    expect(child(root, 'c')).toMatchObject({ value: 1 });
  });

  it('circles, near and far', () => {
    expectProblems('&a [⟦*a⟧]', 'alias-circle');
    expectProblems('x: &a\n  y:\n    - z: ⟦*a⟧\n', 'alias-circle');
    expectProblems('x: &a { y: &a [ ⟦*a⟧ ] }\n', 'alias-circle');
  });

  it('bombs', () => {
    const lines = ['a0: &a0 [x, x, x, x, x, x, x, x, x, x]'];
    for (let i = 1; i < 30; i++)
      lines.push(
        `a${i}: &a${i} [${Array(10)
          .fill(`*a${i - 1}`)
          .join(', ')}]`,
      );
    const { root, problems, broken } = quick(500, () => parseDocument(lines.join('\n')));
    expect(problems.map(({ rule }) => rule)).toEqual(['alias-bomb']);
    expect(broken).toBe(true);
    expect(at(root, ['a9', 0])).toMatchObject({ value: null, alias: 'a8' });
  });

  it('many honest ones in no time', () => {
    const text = `a: &x { b: 1 }\nc:\n${'  - *x\n'.repeat(20_000)}`;
    expect(quick(2000, () => parseDocument(text)).problems).toEqual([]);
  });

  it('chains that go deeper than anyone may follow', () => {
    const lines = ['a0: &a0 [x]'];
    for (let i = 1; i < 70; i++) lines.push(`a${i}: &a${i} [*a${i - 1}]`);
    expect(parseDocument(lines.join('\n')).problems.map(({ rule }) => rule)).toEqual(['nested-too-deep']);
  });
});

describe('other parts of YAML that mean nothing here', () => {
  it('tags', () => {
    expectProblems('a: ⟦!!js/function⟧ x\n', 'yaml-tag: `!!js/function`');
    expectProblems('a: ⟦!!binary⟧ R0lG\nb: ⟦!mine⟧ { c: 1 }\nc: ⟦!<tag:x>⟧ y\n', 'yaml-tag', 'yaml-tag', 'yaml-tag');
    expectProblems('a: ⟦!!set⟧ { b }\nc: ⟦!e!x⟧ d\n', 'yaml-tag', 'yaml-tag');
    expectProblems('a: "!b"\nc: d !e\nf: |\n  !g\n');
  });

  it('directives', () => {
    expectProblems('⟦%YAML 1.1⟧\n---\na: no\n', 'yaml-version');
    expectProblems('⟦%TAG ! tag:x,2000:⟧\n---\na: 1\n', 'yaml-version');
    expectProblems('⟦%foo⟧\na: 1\n', 'yaml-version');
  });
});

describe('odd characters', () => {
  it('in values, names and comments', () => {
    expectProblems('a: x⟦\u001b⟧[31m\n', 'odd-character: U+001B');
    expectProblems('a⟦\u202e⟧b: 1\n# c ⟦\u2066\u2069⟧\n', 'odd-character: U+202E', 'odd-character: U+2066, U+2069');
    expectProblems('a: ⟦\ud83c⟧ 🎬 ⟦\udfac⟧\n', 'odd-character: U+D83C', 'odd-character: U+DFAC');
    expectProblems('\ufeffa: b⟦\ufeff⟧c\n', 'odd-character: U+FEFF');
    expectProblems('a: Gl⟦\ufffd⟧ser\n', 'odd-character: not UTF-8');
  });

  it('may be deleted', () => {
    expect(fixed('a: x\u202ey\n')).toBe('a: xy\n');
  });

  it('that right-to-left text may need are only warned about', () => {
    expect(expectProblems('a: x⟦\u200f⟧y\n', 'odd-character').problems[0]?.severity).toBe('warning');
  });

  it('behind an escape', () => {
    expectProblems('a: ⟦"x\\u202ey"⟧\nb: ⟦"\\0"⟧\n', 'odd-character: U+202E', 'odd-character: U+0000');
    expectProblems('a: "\\u00e9\\n\\t"\nb: \'\\u202e\'\n');
  });

  it('not among letters, symbols and emoji of all kinds', () => {
    expectProblems('title: Größe 45° ½ “fine” — 時計 👩\u200d🎨 \u00a0\n');
  });
});

describe('text that YAML cuts off in silence', () => {
  it('at a hash and a number', () => {
    const { problems } = expectProblems('text: Batch ⟦#7⟧\n', 'text-cut-by-hash: only `Batch` is read');
    expect(problems[0]?.severity).toBe('warning');
    expect(fixed('text: Batch #7\n')).toBe('text: "Batch #7"\n');
    expectProblems('- paint ⟦#7a3b2e wall⟧\n', 'text-cut-by-hash');
  });

  it('not at what is surely a comment', () => {
    expectProblems('a: Batch  #7\nb: Batch # 7\nc: Batch #seven\nd: "Batch" #7\ne: 25 #7\n#7\nf: #7 lamps\n');
  });

  it('at a colour', () => {
    const { problems } = expectProblems('⟦colour: #fff⟧ # white\n', 'text-cut-by-hash: `"#fff"`');
    expect(problems[0]?.severity).toBe('error');
    expect(fixed('colour: #7a3b2e\nb: 1\n')).toBe('colour: "#7a3b2e"\nb: 1\n');
    expectProblems('colour: "#fff"\nnotes: #faded\n');
  });

  it('at a comma in braces', () => {
    expectProblems('a: { text: Poured, ⟦by hand⟧ }\n', 'comma-in-braces: only `Poured` is read');
    expect(fixed('a: { b: 1, text: Poured, by hand, slowly, c: 2 }\n')).toBe(
      'a: { b: 1, text: "Poured, by hand, slowly", c: 2 }\n',
    );
    expectProblems('a: { lit: key, ⟦fill⟧, b: 1 }\n', 'comma-in-braces: names stand in brackets, `[key, fill]`');
    expect(fixed('a: { lit: key, fill, b: 1 }\n')).toBe('a: { lit: [key, fill], b: 1 }\n');
    expectProblems('a: { text: "Poured, by hand", list: [a, b] }\nb: Poured, by hand\n');
  });

  it('at no comma before a name that is being typed', () => {
    for (const number of ['2 cm/s', '1/50 s', 'f/2.8', '1 to 2', '60 %']) expectProblems(`a: { b: ${number}, mov }\n`);
    expectProblems('a: { b: 2 cm/s, ⟦then it leaves⟧ }\n', 'comma-in-braces: only `2 cm/s` is read');
  });

  it('at a comma in a number in braces', () => {
    expectProblems('a: { iso: ⟦1,600⟧ }\n', 'comma-in-braces: `1600`, with nothing between thousands, or `1.600`');
    expect(fixed('a: { iso: 1,600 }\n')).toBe('a: { iso: 1600 }\n');
    expect(fixed('a: { zoom: 1,2 }\n')).toBe('a: { zoom: 1.2 }\n');
  });

  it.each([
    ['0,5 s', '0.5 s'],
    ['24,5 s', '24.5 s'],
    ['-12,5°', '-12.5°'],
    ['f/2,8', 'f/2.8'],
    ['1/12,5 s', '1/12.5 s'],
    ['0,125 s', '0.125 s'],
    ['1,5 to 2,5', '1.5 to 2.5'],
    ['9,5 x 6,5 x 7 cm', '9.5 x 6.5 x 7 cm'],
    ['2,600 lx at 1 m', '2600 lx at 1 m'],
  ])('reads %s in braces as it is meant', (written, meant) => {
    const { root } = expectProblems(`a: { b: ⟦${written}⟧, c: 1 }\n`, `comma-in-braces: \`${meant}\``);
    expect(at(root, ['a', 'b'])).toMatchObject({ text: meant });
    expect(fixed(`a: { b: ${written}, c: 1 }\n`)).toBe(`a: { b: ${meant}, c: 1 }\n`);
  });

  it('offers a colon where a name may have lost it', () => {
    expect(fixed('a: { angle: 45°, height 40 cm }\n', 'Put a colon')).toBe('a: { angle: 45°, height: 40 cm }\n');
    expect(fixed('a: { what: The lid goes back, then leaves. }\n', 'Put a colon')).toBeUndefined();
    expect(fixed('a: { text: Poured, by hand }\n', 'Put quotes')).toBe('a: { text: "Poured, by hand" }\n');
  });

  it('takes other text with commas for text', () => {
    for (const text of ['1,2,3 go', '7,5 cm tall', 'f/2,8 is wide', '2, 3 and more']) {
      expect(fixed(`a: { b: ${text} }\n`)).toBe(`a: { b: "${text}" }\n`);
    }
  });
});
