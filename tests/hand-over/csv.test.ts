/** Tables are read back by csv-parse, which follows RFC 4180 where it is told nothing else. */
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { handed, type Handing, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

type Row = Readonly<Record<string, string>>;

const rows = (text: string): Row[] => parse(text, { columns: true, record_delimiter: '\r\n' });
const sample = (table: Handing['table']) => rows(sampleHanded('music-box.shoot.yaml', 'csv', { table }).text);

test('shots stand in the order of work, with a unit at each number', () => {
  const shots = sample('shots');
  expect(shots.map((row) => row['shot'])).toEqual(['opening', 'hand-turns', 'teeth', 'from-above']);
  expect(shots[1]).toMatchObject({
    'set-up': 'close',
    lens: 'macro',
    'distance (mm)': '400',
    'shutter (s)': '0.02',
    takes: '6',
    lamps: 'key-near; back; fill',
  });
});

test('what to pack, with how many', () => {
  const packed = sample('packing').map(({ item, name, count }) => `${count} ${item} ${name}`.trim());
  for (const one of [
    '1 camera cam',
    '1 lens macro',
    '2 lamp panel',
    '1 modifier half-orange',
    '1 turntable large',
    '1 supply cable reel',
  ])
    expect(packed).toContain(one);
  expect(packed.some((one) => / card fast$/.test(one))).toBe(true);
});

test('takes of all sheets', () => {
  expect(sample('takes').map(({ shot, clip, judged }) => `${shot} ${clip!.slice(-9)} ${judged}`)).toContain(
    'opening C0013.MP4 best',
  );
  expect(sample('takes')[0]).toMatchObject({ notes: 'The felt slipped.', day: '2026-12-02' });
  expect(() => handed('csv', { table: 'takes' })).toThrow('There is no take yet');
});

test('words that a spreadsheet would reckon stay words, numbers stay numbers', () => {
  const text = spec(String.raw`shots:
  box:
    record: 12 s
    camera: { height: -2 cm }
    action: { what: "=HYPERLINK(\"http://x\",\"y\")", lasts: 2 s }
  lid: { record: 12 s, action: { what: "+1, \"two\"\nthree", lasts: 2 s } }
  pin: { record: 12 s, action: { what: "\t@SUM(A1)\u0007", lasts: 2 s } }
`);
  const shots = rows(handed('csv', {}, text).text);
  expect(shots.map((row) => row['action'])).toEqual([
    `'=HYPERLINK("http://x","y")`,
    `'+1, "two"\nthree`,
    String.raw`'@SUM(A1)\u{7}`,
  ]);
  expect(shots[0]!['height (mm)']).toBe('-20');
});
