/** How the sheet reads: whole sentences, plain words, nothing empty, and what whoever wrote the plan wants to be known. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { sheetOf } from '../../server/views/sheet/content.ts';
import { sheetHtml } from '../../server/views/sheet/html.ts';
import { blocksOf, factsOf, listsOf, rowsOf, textsOf, ticksOf } from '../helpers/sheet.ts';

describe('an action and a note', () => {
  const words = (action: string, note: string) =>
    textsOf(
      blocksOf(`shots: { box: { record: 12 s, action: { what: ${action}, lasts: 5 s }, notes: ${note} } }\n`),
    ).find((one) => one.includes('crank'));

  test('are two sentences, whether the first ends with a stop or not', () => {
    expect(words('A hand turns the crank', 'Mind the cable')).toBe('A hand turns the crank. Mind the cable');
    expect(words('A hand turns the crank.', 'Mind the cable.')).toBe('A hand turns the crank. Mind the cable.');
    expect(words('Who turns the crank?', 'Nobody.')).toBe('Who turns the crank? Nobody.');
  });

  test('a note alone stands as it is written', () => {
    expect(textsOf(blocksOf('shots: { box: { record: 12 s, notes: Mind the cable } }\n'))).toContain('Mind the cable');
  });
});

describe('notes', () => {
  const blocks = blocksOf(`notes: Fridge off.
product: { size: 9 x 6 x 7 cm, notes: Brightness step 3 of 8. }
lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, notes: Cools for ten minutes. }
  key-near: { moved-from: key, distance: 50 cm }
set-ups: { wide: { lit: key, notes: Only before noon. }, near: { lit: key-near } }
shots: { whole: { set-up: wide, record: 12 s }, lid: { set-up: near, record: 12 s } }
cut: [{ shot: whole, length: 10 s }]
schedule: [{ day: 2026-12-02, order: [wide, near], notes: The child comes at ten. }]
care: { precautions: cables-taped, notes: Oily rags go into water in a closed tin. }
`);

  test('of the film, its product and its days stand ahead, those of a set-up and its lamps with it, once', () => {
    expect(listsOf(blocks)).toEqual([
      [
        ['To mind', 'Fridge off.'],
        ['The product', 'Brightness step 3 of 8.'],
        ['2026-12-02', 'The child comes at ten.'],
      ],
      [
        ['To mind', 'Only before noon.'],
        ['key', 'Cools for ten minutes.'],
      ],
      [['key-near', 'Cools for ten minutes.']],
    ]);
  });

  test('about care are ticked off before all other precautions', () => {
    expect(ticksOf(blocks, 'Precautions').slice(0, 2)).toEqual([
      'Oily rags go into water in a closed tin.',
      'Cables taped down',
    ]);
  });
});

describe('in plain words', () => {
  test('a sweep, a camera on its side, lamps of the room, a product that is turned and stands', () => {
    const blocks = blocksOf(`room: { light: 40 lx, source: mains-lamps, temperature: 3000 K }
backdrop: { material: paper, size: 200 x 200 cm, behind: 70 cm, bottom: sweep }
surface: none
camera: { lens: normal, support: tripod, way-up: on-its-side, distance: 60 cm, raster: 3840x2160, rate: 25, iso: 400 }
shots: { box: { record: 12 s, turn: { starts: 30° } } }
`);
    expect(factsOf(blocks, 'Backdrop')).toEqual(['paper, 200 x 200 cm, 70 cm behind, running on under the product']);
    expect(factsOf(blocks, 'Camera')).toEqual(['cam, normal, tripod, on its side']);
    expect(factsOf(blocks, 'Room light')).toEqual(['40 lx, mains lamps, 3000 K']);
    expect(factsOf(blocks, 'Product')).toContain('turned to 30°');
    expect(ticksOf(blocks, 'To pack')).not.toContain('turntable');
  });

  test('daylight alone is all of the light', () => {
    const outdoors = blocksOf('lamps: {}\nroom: { light: 6000 lx, source: window, temperature: 5600 K }\n');
    expect(factsOf(outdoors, 'Daylight')).toEqual(['all of the light: read it again before each shot']);
    expect(outdoors.some((one) => one.kind === 'table' && one.caption === 'Lamps')).toBe(false);
  });

  test('what is meant', () => {
    const cold = blocksOf(
      'on-purpose: warm-cast\ncamera: { lens: normal, support: tripod, distance: 60 cm, height: 8 cm, raster: 3840x2160, rate: 25, bits: 10, shutter: 1/50 s, aperture: f/8, iso: 400, white-balance: 6500 K, focus: locked }\n',
    );
    expect(rowsOf(cold, 'Meant that way').map((row) => row[1])).toEqual(['on purpose: warm cast']);
  });
});

test('the light beside a shot from high above is that on all that the lens sees, its top too', () => {
  const lux = (angle: string) => {
    const [light] = factsOf(
      blocksOf(`product: { size: 20 x 14 x 5.5 cm, parts: { fig: { size: 50 x 50 x 55 mm, height: 3 cm } } }
room: none
lamps: { panel: { use: panel, temperature: 5000 K, distance: 70 cm, angle: 110°, height: 50 cm } }
shots: { cut: { subject: fig, record: 9 s, camera: { distance: 18 cm, angle: ${angle}, height: 15 cm } } }
cut: [{ shot: cut, length: 9 s }]
`),
      'Light',
    );
    return Number(/^(\d+) lx on fig/.exec(light!)![1]);
  };
  // From the fig the lamp stands 42.3° up and the lens 41.8°. From the lamp's side all of its light counts, from 80° round
  // the cosine between the two: cos 42.3° cos 41.8° cos 80° + sin 42.3° sin 41.8° = 0.545 (spherical law of cosines).
  expect(lux('30°') / lux('110°')).toBeCloseTo(0.545, 1);
});

test('a number stays with its unit in sentences and ticks too', () => {
  const html = sheetHtml({
    title: 'Units',
    blocks: [
      { kind: 'text', words: 'About 1 h 36 min: 32 min of recording' },
      { kind: 'ticks', title: 'Camera', items: ['warm (10 min)'] },
    ],
  });
  expect(html).toContain('About 1\u00a0h\u00a036\u00a0min: 32\u00a0min of recording');
  expect(html).toContain('warm (10\u00a0min)');
});

test('no sheet of samples and plans has marks of code, empty tables or values that are none', () => {
  const plans = join(import.meta.dirname, '../plans');
  const folders = readdirSync(plans, { withFileTypes: true }).filter((one) => one.isDirectory());
  // One in five, as pictures are drawn of all.
  const some = folders.filter((_, index) => index % 5 === 0);
  const samples = join(import.meta.dirname, '../../sample-workspace');
  const files = [
    ...some.map(({ name }) => [join(plans, name), 'film.shoot.yaml'] as const),
    ...readdirSync(samples).flatMap((name) => (name.endsWith('.shoot.yaml') ? [[samples, name] as const] : [])),
  ];
  expect(files.length).toBeGreaterThan(20);
  for (const [root, file] of files) {
    const result = new Checker(new NodeHost(root), rules).check(file, readFileSync(join(root, file), 'utf8'))!;
    const html = sheetHtml(sheetOf(result, result.film!)).replace(/<style>[^<]*<\/style>|<svg.*?<\/svg>/gs, '');
    expect(
      html.match(/.{0,40}(?:`|undefined|NaN|\[object|<tbody><\/tbody>|<ul[^>]*><\/ul>|<dl[^>]*><\/dl>).{0,40}/g),
      `${root}/${file}`,
    ).toBeNull();
  }
});
