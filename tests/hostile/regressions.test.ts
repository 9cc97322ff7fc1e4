/** What spoilt texts have brought to light, each in the fewest words that show it. */
import { describe, expect, test } from 'vitest';
import { parseRate } from '../../server/calc/rate.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { lengthMm, raster } from '../../server/core/units.ts';
import { hoverAt } from '../../server/features/hover.ts';
import { quick } from '../helpers/quick.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';
import { expectFinding } from './sound.ts';

/** All findings with all fixes, which must be plain and inside the text. */
function look(text: string): { rules: string[]; messages: string } {
  const { findings } = checkSpec(text);
  for (const finding of findings) expectFinding(finding, text);
  const messages = findings.map(({ message }) => message).join('\n');
  return { rules: findings.map(({ rule }) => rule), messages };
}

const base = spec('');

describe('numbers beyond anything', () => {
  test('longer than the format allows are not read', () => {
    expect([lengthMm('1234567890 cm'), lengthMm('0.1234567890 cm'), raster('123456x1')]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(lengthMm('999999999 mm')).toBe(999_999_999);
    const long = base.replace('behind: 70 cm', `behind: ${'70'.repeat(36)} cm`);
    expect(look(long).rules).toEqual(['out-of-range']);
  });

  test.each([
    ['a backdrop', base.replace('behind: 70 cm', 'behind: 999999999 m')],
    ['a lamp', base.replace('level: 40 %, distance: 60 cm', 'level: 40 %, distance: 999999999 m')],
    ['the camera', base.replace('  distance: 60 cm', '  distance: 999999999 m')],
    ['a zoom', spec('cut:\n  - { shot: box, length: 10 s, zoom: 999999999 }\n')],
    [
      'a rate',
      base.replace('rate: 25, length', 'rate: 999999, length').replace('length: 10 s }', 'length: 999999999 h }'),
    ],
    ['a piece', spec('cut:\n  - { colour: "#ffffff", length: 999999999 h }\n')],
  ])('far out: %s is looked at in no time', (_, text) => {
    quick(1000, () => look(text));
  });

  test('a rate that rounds to nothing is no pulled-down rate', () => {
    expect(parseRate('0.00025')).toEqual({ num: 1, den: 4000 });
  });

  test.each([
    ['no temperature', base.replace('temperature: 5000 K, level: 40 %', 'temperature: -0 K, level: 40 %')],
    ['a zoom of nothing', spec('cut:\n  - { shot: box, length: 10 s, zoom: 0.000000001 }\n')],
    [
      'no speed',
      spec(
        'shots:\n  box: { record: 12 s, action: { from: 1 s, to: 2 s, fastest: 0 cm/s }, on-purpose: flowing-motion }\n',
      ),
    ],
    ['a thin product', base.replace('size: 9 x 6 x 7 cm', 'size: 9 x 0.000000001 x 7 cm')],
    ['a cut of nothing', base.replace('- { shot: box, length: 10 s }', '- { shot: box, length: 0.000001 s }')],
  ])('%s gives no number that is none', (_, text) => {
    look(text);
  });

  test('nothing is computed from what the format refuses', () => {
    const { rules, messages } = look(base.replace('temperature: 5000 K, level: 40 %', 'temperature: 0 K, level: 40 %'));
    expect(rules).toContain('out-of-range');
    expect(rules).not.toContain('white-balance-off-lamp');
    expect(messages).not.toContain('mired');
  });
});

test.each([
  ['people in a shot', 'people', 'Ana'],
  ['things in a shot', 'shows', 'lid'],
])('30,000 %s with one name are counted in no time', (_, key, name) => {
  const all = Array.from({ length: 30_000 }, () => name).join(', ');
  const text = spec(`shots:\n  box: { record: 12 s, ${key}: [${all}] }\nrights:\n  lid: { kind: artwork }\n`);
  quick(1000, () => checkSpec(text));
});

test('a product that reaches past the camera is said to', () => {
  const { messages } = look(base.replace('size: 9 x 6 x 7 cm', 'size: 9 x 300 x 7 cm'));
  expect(messages).toContain('reaches past the camera, which stands');
});

test('lamps that share a value through an alias get one edit for it', () => {
  const lamps = `lamps:
  key: &lamp { use: panel, temperature: 5000 K, level: 100 %, distance: 30 cm, angle: 45°, height: 40 cm }
  fill: *lamp
`;
  const text = spec(lamps);
  const fixes = checkSpec(text).findings.flatMap((finding) => finding.fixes);
  expect(fixes.length).toBeGreaterThan(0);
  for (const fix of fixes) expect(applyEdits(text, fix.edits)).toBeDefined();
});

test('a word that belongs elsewhere is offered a neighbour, and never changed by itself', () => {
  const text = base.replace('  height: 8 cm', '  weight: 8 cm');
  const [found] = checkSpec(text).findings.filter(({ rule }) => rule === 'unknown-key');
  expect(found!.fixes.map(({ title, safe }) => ({ title, safe }))).toEqual([{ title: 'Write `height`', safe: false }]);
});

test('a name with signs of YAML in it is not spread by fixes', () => {
  const text = spec('shots:\n  "4 { record": { record: 12 s }\ncut:\n  - { shot: box, length: 10 s }\n');
  const { findings } = checkSpec(text);
  expect(findings.map(({ rule }) => rule)).toContain('name-not-defined');
  for (const fix of findings.flatMap((finding) => finding.fixes))
    expect(parseDocument(applyEdits(text, fix.edits)!).broken).toBe(false);
});

test('an escape character goes with the sequence that it starts', () => {
  const text = 'title: \u001b[31mred\n';
  const [found] = parseDocument(text).problems;
  expect(found!.fixes[0]!.title).toBe('Delete U+001B and the `[31m` that belongs to it');
  expect(applyEdits(text, found!.fixes[0]!.edits)).toBe('title: red\n');
});

test('a film without a cut is not to be promised as 0 s', () => {
  const text = spec('cut:\n  - { shot: box, length: 0.001 s }\n');
  const titles = checkSpec(text).findings.flatMap((finding) => finding.fixes.map(({ title }) => title));
  expect(titles.filter((title) => title.startsWith('Promise 0 s'))).toEqual([]);
});

test.each(['x](https://example.org) <b>www.example.org', 'x_www.example.org'])(
  'a name is text in a hover: %s',
  (name) => {
    const title = 'titles:\n  - { text: One two three, at: 2 s, hold: 3 s, letters: 5 % }\n';
    const text = spec(title).replace('  film:', `  ${JSON.stringify(name)}:`);
    // How high the letters are is said of each deliverable by its name.
    const { markdown } = hoverAt(checkSpec(text), text.indexOf('letters: 5'), () => undefined)!;
    expect(markdown).toMatch(/www&#46;example/);
    expect(markdown).not.toMatch(/[^\\]\]\(|[^\\]<b|:\/\/|www\./);
  },
);
