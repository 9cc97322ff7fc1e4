/** What the sheet says is to be packed: all of the kit that is used, as many as are up at once, and nothing that can't be carried. */
import { describe, expect, test } from 'vitest';
import { blocksOf, blocksWith, ticksOf } from '../helpers/sheet.ts';
import { kits } from '../helpers/workspace.ts';

const packed = (blocks: string, kit = '') => ticksOf(blocksOf(blocks, kit), 'To pack');
const there = (blocks: string) => ticksOf(blocksOf(blocks), 'To bring, or to find there');
const phoneKit = kits['kits/phone.kit.yaml']!;
const camera =
  'raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 400, white-balance: 5000 K, focus: locked, distance: 60 cm';

describe('cards and batteries', () => {
  test('are packed as far as the kit has some that fit, whether a day names them or not', () => {
    expect(packed('')).toEqual(expect.arrayContaining(['2 × card fast', '3 × battery pack']));
  });

  test('are those that the days name', () => {
    const two = '  spare: { fits: cam, holds: 64 GB }\nbatteries:\n';
    const kit = kits['kits/camera.kit.yaml']!.replace('\nbatteries:\n', two);
    const cards = (schedule: string) => ticksOf(blocksWith(kit, schedule), 'To pack').filter((one) => /card/.test(one));
    expect(cards('schedule: [{ day: 2026-12-02 }]\n')).toEqual(['2 × card fast', 'card spare']);
    expect(cards('schedule: [{ day: 2026-12-02, cards: spare }]\n')).toEqual(['card spare']);
  });

  test('of a camera on the mains are none; a lamp on its battery takes those that fit it', () => {
    const onMains = `camera: { runs-on: mains, ${camera} }\n`;
    expect(packed(onMains).filter((one) => /battery/.test(one))).toEqual([]);
    expect(packed(onMains)).toContain('mains cables');
    const block = '  block: { fits: tube, count: 2, energy: 20 Wh }\n';
    const lit =
      'lamps: { fill: { use: tube, runs-on: battery, temperature: 5000 K, distance: 70 cm, angle: 310°, height: 30 cm } }\n';
    expect(packed(onMains + lit, block).filter((one) => /battery/.test(one))).toEqual(['2 × battery block']);
  });
});

test('a phone has its lens, its memory and its battery in it, and nobody formats that', () => {
  const blocks = (kit: string) => blocksWith(kit, `camera: { lens: main, support: tripod, ${camera} }\n`);
  const inIt = (kit: string) => ticksOf(blocks(kit), 'To pack').filter((one) => /main$|^lens|^card|battery/.test(one));
  expect(inIt(phoneKit)).toEqual([]);
  expect(ticksOf(blocks(phoneKit), 'Camera')).toContain('Clock set');
  // A second one is outside.
  expect(inIt(`${phoneKit}  bank: { energy: 40 Wh }\n`)).toEqual(['battery inside', 'battery bank']);
});

describe('as many as are up at once', () => {
  const pair = (more: string) => `lamps:
  left: { use: panel, modifier: diffuser, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }
  right: { use: panel, modifier: diffuser, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 315°, height: 40 cm }
${more}`;

  test('lamps, what is on them and what holds them', () => {
    expect(packed(pair(''))).toEqual(expect.arrayContaining(['2 × lamp panel', '2 × lamp stands', '2 × diffuser']));
  });

  test('one after the other needs one', () => {
    const apart = pair(
      `shots: { a: { lit: left, record: 9 s }, b: { lit: right, record: 9 s } }\ncut: [{ shot: a, length: 9 s }]\n`,
    );
    expect(packed(apart)).toEqual(expect.arrayContaining(['lamp panel', 'lamp stand', 'diffuser']));
  });
});

describe('what can’t be carried, or is no gear', () => {
  test('a window has no stand; a board before it is a reflector', () => {
    const window = kits['kits/camera.kit.yaml']!.replace(
      /^lamps:\n/m,
      'lamps:\n  bay: { kind: window, output: 900 lx at 1 m, size: 100 x 120 cm, temperature: 5600 K }\n',
    );
    const items = ticksOf(
      blocksWith(
        window,
        `lamps:
  daylight: { use: bay, distance: 1 m, angle: 90°, height: 40 cm }
  card: { bounces: daylight, distance: 35 cm, angle: 290°, size: 50 x 40 cm }
`,
      ),
      'To pack',
    );
    expect(items.filter((one) => /lamp|stand|reflector|window|bay/.test(one))).toEqual([
      'reflector card, 50 x 40 cm',
      'lamp stand',
    ]);
  });

  test('hands are no support, a gimbal is one', () => {
    const kit = kits['kits/camera.kit.yaml']!.replace(
      /^supports:\n/m,
      'supports:\n  hands: { stands-on: hand }\n  gimbal: { stands-on: hand, load: 2 kg }\n',
    );
    const on = (support: string) =>
      ticksOf(blocksWith(kit, `camera: { lens: normal, support: ${support}, ${camera}, aperture: f/8 }\n`), 'To pack');
    expect(on('hands')).not.toContain('hands');
    expect(on('gimbal')).toContain('gimbal');
  });

  test('the light that the product gives itself comes with it, a lamp beside it does not', () => {
    const kit = kits['kits/camera.kit.yaml']!.replace(
      /^lamps:\n/m,
      'lamps:\n  glow: { output: 2 lm, temperature: 2700 K }\n',
    );
    const lamps = (distance: string) =>
      ticksOf(
        blocksWith(
          kit,
          `lamps: { ring: { use: glow, role: practical, distance: ${distance}, angle: 0°, height: 1 cm, held: surface } }\n`,
        ),
        'To pack',
      ).filter((one) => one.startsWith('lamp'));
    expect(lamps('4 cm')).toEqual([]);
    expect(lamps('12 cm')).toEqual(['lamp glow']);
  });

  test('a landscape is there', () => {
    expect(there('surface: none\nbackdrop: { material: fir wood, size: 60 x 10 m, behind: 20 m }\n')).toEqual([]);
  });

  test('walls and tables may be there; what hangs and lies is said once, with its size', () => {
    expect(there('backdrop: { material: limewashed wall, size: 400 x 260 cm, behind: 150 cm }\n')).toEqual([
      'backdrop limewashed wall, 400 x 260 cm',
      'surface walnut board, 120 x 80 cm',
    ]);
    expect(
      there('surface: none\nbackdrop: { material: paper, size: 200 x 200 cm, behind: 70 cm, bottom: sweep }\n'),
    ).toEqual(['backdrop paper, 200 x 200 cm']);
  });
});

describe('what is ticked off', () => {
  const all = (blocks: string) => [...ticksOf(blocksOf(blocks), 'Camera'), ...ticksOf(blocksOf(blocks), 'Set')];

  test('nothing waits for lamps where there are none, and nobody steams a wall', () => {
    const outside = 'lamps: {}\nbackdrop: { material: beech hedge, behind: 4 m }\n';
    expect(all(outside)).toContain('White balance and exposure locked');
    expect(all(outside)).not.toContain('Backdrop steamed or brushed');
    const kitchen = 'backdrop: { material: painted cupboards, size: 300 x 220 cm, behind: 220 cm, bottom: -75 cm }\n';
    expect(all(kitchen)).not.toContain('Backdrop steamed or brushed');
    expect(all('')).toEqual(
      expect.arrayContaining([
        'White balance and exposure locked after the lamps are warm (10 min)',
        'Backdrop steamed or brushed',
      ]),
    );
  });
});
