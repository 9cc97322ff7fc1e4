/** What the sheet knows of the day: steps between set-ups, changes of cards and batteries by the clock, and what goes back. */
import { describe, expect, test } from 'vitest';
import { sheetHtml } from '../../server/views/sheet/html.ts';
import { blocksOf, blocksWith, factsOf, rowsOf, ticksOf } from '../helpers/sheet.ts';
import { kits } from '../helpers/workspace.ts';

const day = `lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }
  key-near: { moved-from: key, distance: 50 cm }
  fill: { use: tube, temperature: 5000 K, level: 50 %, distance: 70 cm, angle: 310°, height: 30 cm }
  back: { use: tube, temperature: 5000 K, level: 50 %, distance: 70 cm, angle: 200°, height: 30 cm }
set-ups:
  wide: { build: 30 min, lit: [key, fill, back] }
  near: { build: 20 min, lit: [back, key-near], camera: { distance: 50 cm, height: 12 cm } }
  last: { build: 20 min, lit: [key, fill] }
shots:
  whole: { set-up: wide, record: 12 s, turn: { starts: 30° } }
  lid: { set-up: near, record: 12 s, backdrop: { behind: 90 cm } }
  again: { set-up: last, record: 12 s }
schedule: [{ day: 2026-12-02, hours: 09:00 to 15:00, order: [wide, near, last] }]
cut: [{ shot: whole, length: 4 s }, { shot: lid, length: 4 s }, { shot: again, length: 2 s }]
`;

describe('from one set-up to the next', () => {
  const steps = ticksOf(blocksOf(day), 'From the set-up before');

  test('what stands around comes first, then the lamps once round the set, the camera, and the product last', () => {
    expect(steps.slice(0, 6)).toEqual([
      'Backdrop: 90 cm behind (was 70 cm)',
      'key-near: 50 cm (was 60 cm)',
      'fill: off, and leave it there (again in again)',
      'Camera: 50 cm to product (was 60 cm to product), lens 12 cm high (was 8 cm)',
      'Product: its front to 0° (was 30°)',
      'Backdrop: 70 cm behind (was 90 cm)',
    ]);
  });

  test('a lamp that stood there is switched on again, and one that is done goes', () => {
    expect(steps.slice(6)).toEqual([
      'key: 60 cm (was 50 cm)',
      'back: take down',
      'fill: on again',
      'Camera: 60 cm to product (was 50 cm to product), lens 8 cm high (was 12 cm)',
    ]);
  });
});

test('a backdrop goes down for the set-up or the shot that has none, and up again', () => {
  const bare = day
    .replace('near: { build: 20 min,', 'near: { build: 20 min, backdrop: none,')
    .replace(', backdrop: { behind: 90 cm }', '');
  const steps = ticksOf(blocksOf(bare), 'From the set-up before').filter((step) => /backdrop/i.test(step));
  expect(steps).toEqual(['Take the backdrop down', 'Backdrop: paper, #d9d4c8', 'Backdrop: 70 cm behind']);

  const shots = 'shots: { a: { record: 12 s }, b: { record: 12 s, backdrop: none }, c: { record: 12 s } }\n';
  expect(factsOf(blocksOf(`${shots}cut: [{ shot: b, length: 9 s }]\n`), 'Before it')).toEqual([
    'Take the backdrop down',
    'Backdrop: paper, #d9d4c8, Backdrop: 70 cm behind',
  ]);
});

test('a window is shut out and not carried away', () => {
  const windows = '\nlamps:\n  bay: { kind: window, output: 900 lx at 1 m, size: 100 x 120 cm, temperature: 5600 K }\n';
  const kit = kits['kits/camera.kit.yaml']!.replace(/^lamps:\n/m, windows.slice(1));
  const blocks = blocksWith(
    kit,
    `lamps:
  daylight: { use: bay, distance: 1 m, angle: 90°, height: 1 m }
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }
set-ups: { day: { lit: daylight }, night: { lit: key } }
shots: { a: { set-up: day, record: 12 s }, b: { set-up: night, record: 12 s } }
cut: [{ shot: a, length: 10 s }]
`,
  );
  expect(ticksOf(blocks, 'From the set-up before')).toEqual([
    'key (panel): on, 60 cm, at 45°, 40 cm high, 5000 K, 40 %',
    'daylight: shut out',
  ]);
});

describe('what holds for all shots', () => {
  const blocks = blocksOf(day);

  test('stands once', () => {
    const facts = blocks.flatMap((one) => (one.kind === 'facts' ? one.rows : []));
    const times = (name: string) => facts.filter(([row]) => row === name).length;
    expect(
      ['White balance', 'Recording', 'Surface', 'Backdrop', 'Exposure'].map((name) => [name, times(name)]),
    ).toEqual([
      ['White balance', 1],
      ['Recording', 1],
      ['Surface', 1],
      // One of the three has it elsewhere.
      ['Backdrop', 3],
      ['Exposure', 3],
    ]);
    const said = blocks.flatMap((one) =>
      one.kind === 'text' && one.words.startsWith('On the mains') ? one.words : [],
    );
    expect(said).toEqual([expect.stringMatching(/Most of all in wide\.$/)]);
  });

  test('also of twenty set-ups', () => {
    const names = Array.from({ length: 20 }, (_, index) => `s${index}`);
    const many = blocksOf(`set-ups:\n${names.map((name) => `  ${name}: { build: 10 min }\n`).join('')}shots:
${names.map((name) => `  of-${name}: { set-up: ${name}, record: 12 s, takes: 4 }\n`).join('')}
cut: [{ shot: of-s0, length: 10 s }]
schedule: [{ day: 2026-12-02, hours: 07:00 to 21:00, order: [${names.join(', ')}] }]
`);
    const html = sheetHtml({ title: 'Twenty', blocks: many });
    expect(html.match(/On the mains/g)).toHaveLength(1);
    expect(html.match(/walnut board/g)!.length).toBeLessThan(10);
  });
});

describe('by the clock', () => {
  const long = (schedule: string) => `shots: { box: { record: 20 min, takes: 6, reset: 10 min } }
cut: [{ shot: box, length: 10 s }]
schedule: [{ day: 2026-12-02, hours: 09:00 to 15:00, ${schedule} }]
`;
  const order = (text: string) => rowsOf(blocksOf(text), 'Order of work');

  test('a battery of 16 Wh gives 12.8: a camera of 9 W that is on for 2 h 50 min, 25.5 Wh, has the first half of that from it', () => {
    // An hour to build, then six takes of 20 min with 10 min between two of them.
    const rows = order(long('batteries: pack'));
    expect(rows.filter(([, what]) => what!.startsWith('new battery'))).toEqual([['11:30', 'new battery in cam']]);
  });

  // 150 Mb/s for 20 min are 22.5 GB and a little: 95 % of 128 GB hold five takes.
  test('a card that copies have emptied serves again', () => {
    const cards = (text: string) => order(text).filter(([, what]) => what!.includes('card'));
    const [all, emptied] = [cards(long('cards: fast')), cards(long('cards: fast, offload: [11:00, 13:00]'))];
    expect(all).toEqual([['12:30', 'new card in cam']]);
    expect(emptied).toEqual([]);
  });
});

test('before the product goes back, each thing that must be shown has its shots', () => {
  const items = ticksOf(
    blocksOf(`brief: { must-show: [crank, lid] }
product: { size: 9 x 6 x 7 cm, returns: 2026-12-04, units: 3, parts: { crank: { size: 2 x 2 x 3 cm, height: 3 cm } } }
shots: { box: { record: 12 s }, turning: { subject: crank, record: 12 s } }
cut: [{ shot: box, length: 10 s }]
`),
    'Before the product goes back on 2026-12-04',
  );
  expect(items[0]).toBe('Seen sharp on a take that was watched: crank (turning)');
  expect(items.at(-1)).toBe('3 of it counted, with box and loose parts, and photographed as it goes back');
});
