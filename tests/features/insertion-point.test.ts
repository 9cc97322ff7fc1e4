/** What can be written at a place, told by the text alone: `‸` is the cursor. */
import { describe, expect, it } from 'vitest';
import { LineMap } from '../../server/core/document/lines.ts';
import { insertionPointAt } from '../../server/features/completion/insertion-point.ts';
import { split } from '../helpers/cursor.ts';

/** `key shots.a.camera [word]`: kind, path and the characters that would be replaced. */
function shown(marked: string): string {
  const { text, offset } = split(marked);
  const spot = insertionPointAt(text, new LineMap(text), offset);
  return spot ? `${spot.kind} ${spot.path.join('.')} [${text.slice(spot.start, spot.end)}]` : 'nothing';
}

function siblings(marked: string): Record<string, string> {
  const { text, offset } = split(marked);
  return Object.fromEntries(insertionPointAt(text, new LineMap(text), offset)!.siblings);
}

describe('a place in lines is', () => {
  it.each([
    ['the top of an empty file', '‸', 'key  []'],
    ['the top', 'title: A\nca‸\n', 'key  [ca]'],
    ['the top, under a block', 'camera:\n  iso: 100\n‸', 'key  []'],
    ['in a block', 'camera:\n  ‸', 'key camera []'],
    ['in a block between lines', 'camera:\n  iso: 100\n  sh‸\n  rate: 25\n', 'key camera [sh]'],
    ['in a deeper block', 'shots:\n  a:\n    camera:\n      is‸\n', 'key shots.a.camera [is]'],
    ['back out of it', 'shots:\n  a:\n    camera:\n      iso: 100\n    ‸', 'key shots.a []'],
    ['a name', 'shots:\n  a: {}\n  ‸', 'key shots []'],
    ['behind a dash', 'cut:\n  - ‸', 'key cut.0 []'],
    ['behind a dash, half typed', 'cut:\n  - shot: a\n  - sh‸\n', 'key cut.1 [sh]'],
    ['in an item', 'cut:\n  - shot: a\n  - shot: b\n    ‸', 'key cut.1 []'],
    ['in a list that stands as far left as its key', 'cut:\n- shot: a\n- ‸', 'key cut.1 []'],
    ['a list before its first dash', 'cut:\n  ‸', 'key cut []'],
    ['behind a colon', 'camera:\n  shutter: ‸\n', 'value camera.shutter []'],
    ['right behind a colon', 'camera:\n  shutter:‸\n', 'value camera.shutter []'],
    ['in a value', 'camera:\n  shutter: 1/2‸00 s # short\n', 'value camera.shutter [1/200 s]'],
    ['in a quoted value', 'backdrop:\n  colour: "#7a‸3b2e" # clay\n', 'value backdrop.colour ["#7a3b2e"]'],
    ['behind a colon in an item', 'cut:\n  - shot: a\n  - shot: ‸\n', 'value cut.1.shot []'],
    ['in a list of words', 'shots:\n  a:\n    lit:\n      - key\n      - ‸\n', 'key shots.a.lit.1 []'],
    ['a key that has its colon', 'camera:\n  sh‸utter: 1/50 s\n', 'key camera [shutter]'],
    ['a quoted key', 'shots:\n  "a":\n    ‸\n', 'key shots.a []'],
    ['with Windows line ends', 'camera:\r\n  iso: 100\r\n  ‸\r\n', 'key camera []'],
    ['under a comment', 'camera: # all\n  # note\n  ‸', 'key camera []'],
    ['a line that is indented too far', 'camera:\n  iso: 100\n      ‸', 'key camera []'],
    ['a line that is indented too little', 'camera:\n    iso: 100\n  ‸', 'key camera []'],
    [
      'in a list of blocks of a kit',
      'cameras:\n  cam:\n    modes:\n      - raster: 1x1\n        ‸',
      'key cameras.cam.modes.0 []',
    ],
  ])('%s', (_, text, expected) => {
    expect(shown(text)).toBe(expected);
  });
});

describe('a place in braces and brackets is', () => {
  it.each([
    ['a key', 'camera: { ‸ }\n', 'key camera []'],
    ['a key behind a comma', 'camera: { iso: 100, sh‸ }\n', 'key camera [sh]'],
    ['a value', 'camera: { shutter: ‸ }\n', 'value camera.shutter []'],
    ['a value that is there', 'camera: { shutter: 1/5‸0 s, iso: 100 }\n', 'value camera.shutter [1/50 s]'],
    ['a word of a list', 'shots:\n  a: { lit: [key, ‸] }\n', 'value shots.a.lit.1 []'],
    ['a word of a list, half typed', 'shots:\n  a: { lit: [ke‸y, fill] }\n', 'value shots.a.lit.0 [key]'],
    ['in an item', 'cut:\n  - { shot: a }\n  - { ‸ }\n', 'key cut.1 []'],
    ['nested', 'shots: { a: { camera: { iso: ‸ } } }\n', 'value shots.a.camera.iso []'],
    ['a list of blocks', 'cut: [{ shot: a }, { shot: ‸ }]\n', 'value cut.1.shot []'],
    ['over several lines', 'camera: {\n  iso: 100,\n  shutter: ‸\n}\n', 'value camera.shutter []'],
    ['over several lines, nested', 'lamps: {\n  key: { use: panel,\n    level: ‸ } }\n', 'value lamps.key.level []'],
    ['not closed yet', 'camera: { iso: 100, ‸\nshots:\n  a: {}\n', 'key camera []'],
    ['quoted', 'titles:\n  - { text: "a, b: {", at: ‸ }\n', 'value titles.0.at []'],
    ['in quotes', 'titles:\n  - { panel: "#7‸a", at: 2 s }\n', 'value titles.0.panel ["#7a"]'],
  ])('%s', (_, text, expected) => {
    expect(shown(text)).toBe(expected);
  });
});

describe('a place is found in a broken file', () => {
  it.each([
    ['below a bracket that nothing closes', 'room: { light: 4 lx,\ncamera:\n  ‸', 'key camera []'],
    ['below one that nothing closes in a block', 'shots:\n  a: { record: 3 s\n  b:\n    ‸', 'key shots.b []'],
    ['below a quote that nothing closes', 'title: "A\ncamera:\n  iso: ‸', 'value camera.iso []'],
    ['below a tab', '\tx\ncamera:\n  iso: ‸', 'value camera.iso []'],
    ['above a line that is none', 'camera:\n  iso: ‸\n  %%%: [\n', 'value camera.iso []'],
  ])('%s', (_, text, expected) => {
    expect(shown(text)).toBe(expected);
  });
});

describe('nothing is offered', () => {
  it.each([
    ['in a comment', 'camera: # sh‸\n'],
    ['in a comment of its own', 'camera:\n  # ‸\n'],
    ['in a comment inside braces', 'camera: {\n  iso: 100, # ‸\n}\n'],
    ['in a text over several lines', 'notes: |\n  so ‸\n'],
    ['behind closed braces', 'camera: { iso: 100 } ‸\n'],
    ['before a word', 'camera:\n ‸ iso: 100\n'],
    ['in the line of a second document', 'title: A\n---‸\n'],
  ])('%s', (_, text) => {
    expect(shown(text)).toBe('nothing');
  });
});

describe('the keys that are there already', () => {
  it('are those before and behind, with their values', () => {
    expect(siblings('camera:\n  iso: 100 # base\n  ‸\n  rate: 25\nshots:\n  a: {}\n')).toEqual({
      iso: '100',
      rate: '25',
    });
    expect(siblings('cut:\n  - { shot: a, ‸, length: 2 s }\n')).toEqual({ shot: 'a', length: '2 s' });
    expect(siblings('cut:\n  - shot: a\n    ‸\n    length: 2 s\n  - shot: b\n')).toEqual({ shot: 'a', length: '2 s' });
    expect(siblings('cut:\n  - { shot: a, length: ‸\n  - { shot: b }\n')).toEqual({ shot: 'a' });
  });
});

it('answers at every place of every text, however broken', () => {
  const texts = [
    'a: {b: [c, "d',
    "- - x: 'y\n - z",
    'a:\n\tb: |\n  c\n- {',
    '{[}]: #',
    '? a\n: b',
    '"a" : &x *x',
    ':::\n- :',
    '\ufeffshots:\r  a:\r    ',
  ];
  for (const text of texts)
    for (let at = 0; at <= text.length; at++) {
      const spot = insertionPointAt(text, new LineMap(text), at);
      if (spot)
        expect(spot.start <= at && at <= spot.end && spot.end <= text.length, `${JSON.stringify(text)} ${at}`).toBe(
          true,
        );
    }
});
