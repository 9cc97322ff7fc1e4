/** How the sheet reads: whole sentences, plain words, nothing empty, and what whoever wrote the plan wants to be known. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { sheetOf } from '../../server/views/sheet/content.ts';
import type { SheetBlock } from '../../server/views/sheet/blocks.ts';
import { sheetHtml } from '../../server/views/sheet/html.ts';
import { blocksOf, blocksWith, factsOf, listsOf, rowsOf, textsOf, ticksOf } from '../helpers/sheet.ts';
import { kits } from '../helpers/workspace.ts';

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

test('what an eye at the camera judges is to be looked at on the set, and is no finding', () => {
  const small = blocksOf(
    'product: { size: 9 x 6 x 7 cm }\nshots: { box: { record: 12 s, camera: { distance: 230 cm } } }\n',
  );
  expect(ticksOf(small, 'To look at on the set')).toEqual([
    expect.stringMatching(/^box: .* Its detail will be hard to see/),
  ]);
  expect(JSON.stringify(small.filter(({ kind }) => kind === 'findings'))).not.toContain('hard to see');
  expect(ticksOf(blocksOf(''), 'To look at on the set')).toEqual([]);
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
shots: { cut: { subject: fig, sharp: front, record: 9 s, camera: { distance: 18 cm, angle: ${angle}, height: 15 cm } } }
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

describe('the height of the lens', () => {
  const camera = (height: string) =>
    `{ lens: normal, support: tripod, distance: 60 cm${height}, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 400 }`;
  // A frame of 73 cm that hangs 112 cm above the floor has its middle at 112 + 36.5 cm.
  const hung = (more = '') =>
    blocksOf(`product: { size: 53 x 3 x 73 cm, hangs: 112 cm, parts: { heading: { size: 30 x 6 cm, height: 172 cm } } }
surface: { material: pine floor, height: 0 cm }
camera: ${camera('')}
set-ups: { wall: { build: 15 min }, floor: { build: 20 min, camera: { height: 110 cm } } }
shots:
  lies: { set-up: floor, record: 6 s }
  hang: { set-up: wall, record: 6 s }
  words: { set-up: wall, subject: heading, record: 6 s }
cut: [{ shot: lies, length: 4 s }, { shot: hang, length: 3 s }, { shot: words, length: 3 s }]
schedule: [{ day: 2026-12-02, order: [floor, wall] }]
${more}`);

  test('stands with each shot, also where the plan leaves it level with the subject', () => {
    expect(factsOf(hung(), 'Place')).toEqual([
      '60 cm to product, lens 110 cm high',
      '60 cm to product, lens 148.5 cm high (level with it)',
      '60 cm to heading, lens 172 cm high (level with it)',
    ]);
  });

  test('is said where it changes from one set-up to the next, from what it was', () => {
    expect(ticksOf(hung(), 'From the set-up before')).toContain('Camera: lens 148.5 cm high (was 110 cm)');
  });

  test('is not known of something that nobody says the size of', () => {
    const blocks = blocksOf(`product: { finish: satin }\ncamera: ${camera('')}\n`);
    expect(factsOf(blocks, 'Place')).toEqual(['60 cm to product']);
  });

  test('nor is that of a lamp left out', () => {
    const lit = hung('lamps: { key: { use: panel, temperature: 5000 K, distance: 90 cm, angle: 45° } }\n');
    expect(rowsOf(lit, 'Lamps')[0]![1]).toBe('90 cm, at 45°, 148.5 cm high (level with the product)');
  });
});

describe('a time-lapse', () => {
  const blocks = blocksOf(`shots:
  sets: { record: 40 min, interval: 10 s, camera: { shutter: 0.5 s } }
  pours: { record: 12 s }
cut: [{ shot: sets, length: 8 s }, { shot: pours, length: 2 s }]
`);

  // 40 x 60 / 10 pictures; each is exposed by itself, so that no angle of 25 frames a second goes with it.
  test('says how often it takes a picture and how many, and no shutter angle', () => {
    expect(factsOf(blocks, 'Recording')[0]).toMatch(/^3840x2160, a picture every 10 s, 240 of them,/);
    expect(factsOf(blocks, 'Recording')[1]).toMatch(/^3840x2160, 25 frames\/s,/);
    expect(factsOf(blocks, 'Exposure')[0]).toBe('0.5 s, f/8, ISO 400');
    expect(factsOf(blocks, 'Each take')).toEqual(['1 s still at the start and at the end']);
  });

  test('has its light compared with the plan, like any shot', () => {
    // Half a second is 25 times 1/50 s, which are 4.64 stops (log2 25) more than -0.2.
    expect(factsOf(blocks, 'Light')).toEqual([
      expect.stringMatching(/, 4\.5 stops brighter than planned$/),
      expect.stringMatching(/, 0\.2 stop darker than planned$/),
    ]);
  });
});

test('focus on a face that is seen from straight above is laid to its top', () => {
  // 11 cm high, its middle 5.5 cm: a lens at 90.5 cm is 79.5 cm above its top.
  const blocks = blocksOf(`product: { size: 24 x 12 x 11 cm, finish: matte }
shots:
  flour: { record: 8 s, sharp: front, camera: { distance: 85 cm, height: 90.5 cm } }
  loaf: { record: 8 s, sharp: front, camera: { distance: 85 cm, height: 5.5 cm } }
cut: [{ shot: flour, length: 5 s }, { shot: loaf, length: 5 s }]
`);
  expect(factsOf(blocks, 'Focus')).toEqual([
    'locked, the top lies at 79.5 cm',
    // 12 cm deep: its front is 6 cm nearer than its middle.
    'locked, the front lies at 79 cm',
  ]);
});

describe('what turns the product', () => {
  const turning = (kit: string) =>
    blocksOf(`${kit}set-ups: { throwing: { build: 45 min }, splashes: { build: 20 min } }
shots:
  centring: { set-up: throwing, record: 9 s, turn: { speed: 2 rpm } }
  done: { set-up: throwing, record: 9 s }
  water: { set-up: splashes, record: 9 s, turn: { speed: 1 rpm } }
  dry: { set-up: splashes, record: 9 s }
cut: [{ shot: centring, length: 5 s }, { shot: water, length: 5 s }]
schedule: [{ day: 2026-12-02, order: [throwing, splashes] }]
`);
  const about = (blocks: SheetBlock[]) => ({
    packed: ticksOf(blocks, 'To pack').filter((one) => /turn/.test(one)),
    there: ticksOf(blocks, 'To bring, or to find there').filter((one) => /turn/.test(one)),
    steps: ticksOf(blocks, 'From the set-up before').filter((one) => /Product/.test(one)),
    rows: [...factsOf(blocks, 'Turntable'), ...factsOf(blocks, 'Product')].filter((one) => /rpm/.test(one)),
  });

  test('is the turntable of the kit, on which it stays for the next set-up that turns it', () => {
    expect(about(turning(''))).toEqual({
      packed: ['turntable large'],
      there: [],
      steps: [],
      rows: ['large, turns at 2 rpm', 'large, turns at 1 rpm'],
    });
  });

  test('is no turntable where the kit has none: a wheel is there, and nobody packs it', () => {
    expect(about(turning('kit: kits/none.kit.yaml\n'))).toEqual({
      packed: [],
      there: ['what turns the product'],
      steps: [],
      rows: ['turns at 2 rpm', 'turns at 1 rpm'],
    });
  });
});

test('the time between takes is said where it is not the usual minute', () => {
  // 5 min where something happens to a liquid and nobody says how long it takes to clear.
  const blocks = blocksOf(`product: { size: 9 x 6 x 7 cm, finish: satin, hazards: liquid }
shots:
  poured: { record: 9 s, takes: 3, action: { what: Tea is poured., lasts: 5 s } }
  wiped: { record: 9 s, takes: 3, reset: 90 s }
  still: { record: 9 s, takes: 3 }
  once: { record: 9 s, reset: 9 min }
cut: [{ shot: poured, length: 5 s }, { shot: still, length: 5 s }]
`);
  expect(factsOf(blocks, 'Between takes')).toEqual(['5 min', '90 s']);
});

describe('who puts up a lamp reads', () => {
  const blocks = blocksOf(`lamps:
  strip: { use: tube, temperature: 5000 K, level: 50 %, distance: 70 cm, angle: 70° left, height: 45 cm, long-side: upright, kept-off: [backdrop, lens] }
  card: { bounces: strip, size: 50 x 40 cm, distance: 50 cm, angle: 70° right, height: 25 cm }
set-ups: { bare: { lit: strip }, filled: { lit: [strip, card] } }
shots: { a: { set-up: bare, record: 9 s }, b: { set-up: filled, record: 9 s } }
cut: [{ shot: a, length: 5 s }, { shot: b, length: 5 s }]
schedule: [{ day: 2026-12-02, order: [bare, filled] }]
`);

  test('how a strip lies and what a flag keeps its light from', () => {
    expect(rowsOf(blocks, 'Lamps')[0]![2]).toBe('5000 K, 50 %, long side upright, kept off the backdrop and the lens');
  });

  test('how large a board is and whose light it gives back, which has no colour and no level of its own', () => {
    expect(rowsOf(blocks, 'Lamps').at(-1)![2]).toBe('50 x 40 cm, gives back strip');
    expect(ticksOf(blocks, 'From the set-up before')).toEqual([
      'card: up, 50 cm, at 70° right, 25 cm high, 50 x 40 cm, gives back strip',
    ]);
  });
});

describe('who moves the camera reads', () => {
  const blocks = blocksOf(`shots:
  glides: { record: 11 s, action: { what: The camera glides past., lasts: 8 s }, camera: { slide: -10 cm to 10 cm } }
  beside: { record: 9 s, camera: { slide: 4 cm } }
cut: [{ shot: glides, length: 8 s }, { shot: beside, length: 2 s }]
`);

  test('left and right, not minus and plus', () => {
    expect(factsOf(blocks, 'Camera moves')).toEqual(['slide 10 cm left to 10 cm right']);
    expect(factsOf(blocks, 'Place')[1]).toBe('60 cm to product, lens 8 cm high, 4 cm right of its line');
  });

  test('a take whose parts add up to what is recorded', () => {
    expect(factsOf(blocks, 'Each take')[0]).toBe('1 s still, 8 s of action, 2 s still');
  });
});

test('where heights and distances are measured from is said once', () => {
  const said = (more: string) => textsOf(blocksOf(more)).filter((one) => one.startsWith('Heights count'));
  expect(said('lamps: {}\n')).toEqual([
    'Heights count from the surface that the product stands on; distances run from the lens to the middle of what is named.',
  ]);
  const wall = 'lamps: { wash: { use: tube, aim: backdrop, distance: 60 cm, angle: 150°, height: 20 cm } }\n';
  expect(said(wall)[0]).toMatch(/, and from a lamp to the middle of the product or of the backdrop that it lights\.$/);
});

test('a zoom is told with where it is set, in each shot and where it changes', () => {
  const kit = kits['kits/camera.kit.yaml']!.replace(
    /^lenses:\n/m,
    'lenses:\n  zoom: { focal: 14 mm to 42 mm, aperture: f/2.8 to f/16 }\n',
  );
  const blocks = blocksWith(
    kit,
    `camera: { lens: zoom, support: tripod, distance: 60 cm, height: 8 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }
set-ups: { wide: { camera: { focal: 25 mm } }, near: { camera: { focal: 35 mm } } }
shots: { a: { set-up: wide, record: 9 s }, b: { set-up: near, record: 9 s } }
cut: [{ shot: a, length: 5 s }, { shot: b, length: 5 s }]
schedule: [{ day: 2026-12-02, order: [wide, near] }]
`,
  );
  expect(factsOf(blocks, 'Camera')).toEqual(['cam, zoom at 25 mm, tripod', 'cam, zoom at 35 mm, tripod']);
  expect(ticksOf(blocks, 'From the set-up before')).toEqual(['Camera: at 35 mm (was 25 mm)']);
});
