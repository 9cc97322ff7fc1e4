/** Texts that are twice as long take about twice as long: nothing compares everything with everything. */
import { expect, test } from 'vitest';
import { growth } from '../helpers/quick.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

const lines = (count: number, line: (index: number) => string) =>
  Array.from({ length: count }, (_, at) => line(at)).join('');
const lamp = '{ use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }';

const shapes: readonly (readonly [string, number, (count: number) => string])[] = [
  [
    'shots that 40 lamps light',
    40,
    (count) =>
      spec(
        `lamps:\n${lines(40, (at) => `  l-${at}: ${lamp}\n`)}shots:\n${lines(count, (at) => `  s-${at}: { record: 4 s }\n`)}`,
      ),
  ],
  ['lamps', 300, (count) => spec(`lamps:\n${lines(count, (at) => `  l-${at}: ${lamp}\n`)}`)],
  [
    'lamps that are moved from one to the next',
    300,
    (count) => spec(`lamps:\n  l-0: ${lamp}\n${lines(count, (at) => `  l-${at + 1}: { moved-from: l-${at} }\n`)}`),
  ],
  [
    'comments that accept something',
    2000,
    (count) => spec(`${lines(count, (at) => `# accept x: ${at}\n`)}shots:\n  box: { record: 12 s }\n`),
  ],
  ['lines of the cut', 600, (count) => spec(`cut:\n${lines(count, () => '  - { shot: box, length: 1 s }\n')}`)],
  ['empty shots', 250, (count) => spec(`shots:\n${lines(count, (at) => `  s-${at}:\n`)}`)],
  [
    'shots with a turntable',
    300,
    (count) => spec(`shots:\n${lines(count, (at) => `  s-${at}: { record: 4 s, turn: { by: 90° } }\n`)}`),
  ],
  ['titles', 300, (count) => spec(`titles:\n${lines(count, (at) => `  - { text: "T ${at}", at: 1 s, hold: 2 s }\n`)}`)],
  ['rights', 300, (count) => spec(`rights:\n${lines(count, (at) => `  r-${at}: { kind: music }\n`)}`)],
  [
    'days',
    300,
    (count) =>
      spec(`schedule:\n${lines(count, () => '  - { day: 2026-12-02, hours: 09:00 to 17:00, shots: [box] }\n')}`),
  ],
  [
    'deliverables',
    300,
    (count) =>
      spec(
        `deliver:\n${lines(count, (at) => `  d-${at}: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }\n`)}`,
      ),
  ],
  [
    'set-ups',
    300,
    (count) =>
      spec(
        `set-ups:\n${lines(count, (at) => `  u-${at}: { build: 1 min }\n`)}shots:\n${lines(count, (at) => `  s-${at}: { set-up: u-${at}, record: 4 s }\n`)}`,
      ),
  ],
  [
    'parts',
    300,
    (count) =>
      spec(
        `product:\n  size: 9 x 6 x 7 cm\n  parts:\n${lines(count, (at) => `    p-${at}: { size: 1 x 1 cm, letters: 2 mm }\n`)}`,
      ),
  ],
  ['sounds', 300, (count) => spec(`sounds:\n${lines(count, () => '  - { what: effect, at: 1 s, length: 1 s }\n')}`)],
  ['unknown keys', 2000, (count) => spec(lines(count, (at) => `x-${at}: 1\n`))],
  [
    'names in a list',
    10_000,
    (count) => spec(`shots:\n  box: { record: 12 s, shows: [${lines(count, (at) => `a-${at}, `)}] }\n`),
  ],
];

test.each(shapes)('%s', (_, count, text) => {
  expect(growth(count, (size) => checkerFor().checkAs('shoot', text(size)))).toBeLessThan(3.5);
});
