import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, mends, messages, severities } from '../helpers/findings.ts';
import { ownKit, spec } from '../helpers/workspace.ts';

const phone = 'kit: kits/phone.kit.yaml\n';
const camera = (change: string) => spec(`shots:\n  box: { record: 12 s, camera: { ${change} } }\n`);

describe('setting-not-in-kit', () => {
  const rule = 'setting-not-in-kit';

  test('who writes the white behind a filter is told that the filter is reckoned with', () => {
    const text = spec(`lamps:
  key: { use: spot, modifier: half-orange, temperature: 3500 K, distance: 90 cm, angle: 45°, height: 40 cm }
`);
    // 1e6 / 5600 + 109 mired are 287.6 mired.
    expect(messages(text, 'setting-not-in-kit')).toEqual([
      "key: `spot` gives white of 5600 K and no other, so 3500 K can't be set. `half-orange` is reckoned on top and makes 3480 K of it: say what the lamp itself gives.",
    ]);
  });

  test('a mode counts as one row', () => {
    const text = spec(`${phone}shots:
  box: { record: 12 s }
  splash: { record: 12 s, camera: { lens: main, support: tripod, rate: 120, shutter: 1/250 s, aperture: f/1.8, iso: 50 } }
camera: { lens: main, distance: 60 cm, raster: 3840x2160, rate: 25, bits: 10, shutter: 1/50 s, iso: 50, focus: locked }
lamps: {}
cut:
  - { shot: box, length: 10 s }
`);
    expect(messages(text, rule)).toEqual([
      'splash: `phone` has no mode with 3840x2160 at 120, 10 bits: each may exist, but not all at once. ' +
        'Nearest: 3840x2160 at 60; 1920x1080 at 120, 8 bits; 3840x2160 at 30.',
    ]);
    expect(marked(text, rule)).toEqual(['120']);
    expect(mends(text, rule)).toEqual([
      'Record 3840x2160 at 60 (50 % of the frames)',
      'Record 1920x1080 at 120, 8 bits (fewer steps of tone, 50 % of the pixels across)',
      'Record 3840x2160 at 30 (25 % of the frames)',
    ]);
  });

  test('a lens of one focal length has it and nothing else', () => {
    expect(messages(camera('focal: 35 mm'), rule)).toEqual([
      "box: `normal` has 25 mm and nothing else, so 35 mm can't be set.",
    ]);
  });

  test('slow motion keeps its rate first', () => {
    const text = spec(`shots:
  box: { record: 12 s }
  splash: { record: 12 s, camera: { rate: 120, shutter: 1/250 s } }
cut:
  - { shot: box, length: 2 s }
  - { shot: splash, length: 8 s, speed: 25 % }
`);
    const [first] = Object.values(fixed(text, rule));
    expect(first).toContain('raster: 1920x1080, bits: 8');
  });

  test('a rate that no mode has is pointed at, whatever else is asked', () => {
    expect(marked(camera('rate: 48, colour-space: log'), rule)).toEqual(['48']);
    expect(marked(camera('colour-space: pq'), rule)).toEqual(['pq']);
    expect(marked(camera('codec: intra'), rule)).toEqual(['intra']);
  });

  test('23.976 is the exact rate of the kit', () => {
    expect(['rate: 23.976', 'rate: 23.98'].flatMap((rate) => messages(camera(rate), rule))).toEqual([]);
  });

  test('a mark within a tenth of a stop is the mark itself', () => {
    expect(messages(camera('aperture: f/25'), rule)).toEqual([
      "box: `normal` has f/1.7 to f/22, so f/25 can't be set.",
    ]);
    const near = ['aperture: f/22.5', 'iso: 13000'];
    expect(near.flatMap((setting) => messages(camera(setting), rule))).toEqual([]);
    expect(messages(camera('iso: 16000'), rule)).toHaveLength(1);
    expect(messages(camera('iso: 50'), rule)).toEqual(["box: `cam` has ISO 100 to 12800, so ISO 50 can't be set."]);
  });

  test('fixes say what they cost in stops and clear the finding', () => {
    expect(mends(camera('iso: 50'), rule)).toEqual(['Set ISO to 100 (1 stop brighter)']);
    expect(mends(camera('aperture: f/1.2'), rule)).toEqual(['Set aperture to f/1.7 (1 stop darker)']);
  });

  test('no shutter is longer than its frame', () => {
    expect(messages(camera('shutter: 1/24 s'), rule)).toEqual([
      'box: 1/24 s is longer than a frame: at 25 each lasts 1/25 s, and no camera exposes for longer.',
    ]);
    expect(messages(camera('rate: 59.94, shutter: 1/60 s'), rule)).toEqual([]);
    expect(messages(camera('shutter: 400°'), rule)).toHaveLength(1);
    expect(mends(camera('shutter: 1/24 s'), rule)).toEqual([
      'Set shutter to 1/50 s (180°, flicker-free at 50 Hz, 1.1 stops darker)',
      'Set shutter to 1/25 s (360°, 0.1 stop darker)',
    ]);
  });

  test('shutters shorter than the kit has', () => {
    expect(messages(camera('shutter: 1/16000 s'), rule)).toEqual([
      "box: `cam` has 1/8000 s to 1/24 s, so 1/16000 s can't be set.",
    ]);
  });

  test('nothing is said where the kit is not known or says nothing', () => {
    const kit = 'cameras: { cam: { sensor: 17.3 x 13 mm } }\n';
    const text = spec(
      'kit: kits/own.kit.yaml\ncamera: { distance: 60 cm, raster: 640x480, rate: 12, iso: 9, shutter: 1/50 s }\n',
    );
    expect(messages(text, rule, ownKit(kit))).toEqual([]);
    expect(messages(text, rule)).toEqual([]);
  });

  test('four GiB at 75 Mb/s are full after 458 s', () => {
    // 2^32 bytes x 8 / 75e6 = 458.1 s.
    const kit = `cameras:
  phone: { sensor: 9.8 x 7.3 mm, file-limit: 4 GiB, longest-take: 20 min, modes: [{ raster: 3840x2160, rate: 25, bitrate: 75 Mb/s }] }
`;
    const text = (record: string) =>
      spec(`kit: kits/own.kit.yaml
camera: { distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }
lamps: {}
shots:
  box: { record: ${record} }
`);
    const files = ownKit(kit);
    expect(messages(text('458 s'), rule, files)).toEqual([]);
    expect(messages(text('459 s'), rule, files)).toEqual([
      'box: a take of 459 s at 75 Mb/s is 4.3 GB; `phone` ends a file at 4 GiB, after 458 s, and stops or starts another.',
    ]);
    expect(messages(text('21 min'), rule, files)).toEqual([
      'box: a take of 21 min is longer than the 20 min that `phone` records in one go. Record it in parts.',
    ]);
  });

  test('a card that is too slow for the mode', () => {
    const kit = (writes: string) => `cameras:
  phone: { sensor: 9.8 x 7.3 mm, modes: [{ raster: 3840x2160, rate: 25, bitrate: 400 Mb/s }] }
cards:
  old: { fits: phone, holds: 64 GB, writes: ${writes} }
`;
    const text = spec(
      'kit: kits/own.kit.yaml\ncamera: { distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }\nlamps: {}\n',
    );
    // 400 Mb/s = 50 MB/s, a fifth more is 60.
    expect(messages(text, rule, ownKit(kit('60 MB/s')))).toEqual([]);
    expect(messages(text, rule, ownKit(kit('55 MB/s')))).toEqual([
      'box: 400 Mb/s wants a card of 60 MB/s; `old` takes 55 MB/s, so recording can stop by itself. Use a faster card, or a mode with a lower bitrate.',
    ]);
  });

  test('the white and level of lamps', () => {
    const lamps = (use: string) => spec(`lamps:\n  key: { use: ${use}, distance: 60 cm, angle: 45°, height: 40 cm }\n`);
    expect(messages(lamps('tube, temperature: 2600 K'), rule)).toEqual([
      "key: `tube` gives white from 2700 K to 6500 K, so 2600 K can't be set.",
    ]);
    expect(messages(lamps('spot, temperature: 5500 K'), rule)).toEqual([]);
    expect(messages(lamps('spot, temperature: 5000 K'), rule)).toEqual([
      "key: `spot` gives white of 5600 K and no other, so 5000 K can't be set.",
    ]);
    const kit = 'lamps: { ring: { output: 800 lx at 1 m, temperature: 5600 K, level: 10 % to 100 % } }\n';
    const text = spec('kit: kits/own.kit.yaml\nlamps: { ring: { level: 5 %, distance: 60 cm, angle: 0° } }\n');
    expect(messages(text, rule, ownKit(kit))).toEqual(["ring: `ring` goes from 10 % to 100 %, so 5 % can't be set."]);
  });
});

describe('gear-used-twice', () => {
  const rule = 'gear-used-twice';
  const lamps = (rest: string) =>
    spec(`lamps:
  left: { use: tube, level: 60 %, temperature: 5000 K, distance: 60 cm, angle: 60° }
  right: { use: tube, level: 60 %, temperature: 5000 K, distance: 60 cm, angle: 300° }
${rest}`);
  const two = 'shots:\n  box: { record: 12 s, lit: [left] }\n  back: { record: 12 s, lit: [right, left] }\n';

  test('places that are lit in one shot count, not all that are written', () => {
    expect(messages(lamps(''), rule)).toEqual([
      'box: `left` and `right` are all `tube`, lit at once, and the kit has 1. Use another lamp, or do without one.',
    ]);
    expect(marked(lamps(two), rule)).toEqual(['left']);
  });

  test('a place moved from another is lit with it only where the kit has two', () => {
    const text = (use: string) =>
      spec(`lamps:
  key: { use: ${use}, level: 60 %, distance: 60 cm, angle: 60° }
  key-near: { moved-from: key, distance: 40 cm }
shots:
  box: { record: 12 s, lit: [key, key-near] }
`);
    expect(messages(text('tube'), rule)).toHaveLength(1);
    expect(messages(text('panel'), rule)).toEqual([]);
  });

  test('another lamp gives the same light: 120 x 4 cm at 60 cm gives 2.18 times its lux at 1 m', () => {
    // Configuration factor of a parallel rectangle (Siegel & Howell), worked by hand for both lamps:
    // tube K(0.6)/K(1) = 2.182, panel K(0.6)/K(1) = 2.595; 0.6 x 500 x 2.182 / (2600 x 2.595) = 9.70 %.
    expect(mends(lamps(''), rule)[0]).toBe('Use `panel` at 9.7 % for `right` (the same light)');
  });

  test('cloths and filters are counted too', () => {
    const text = spec(`lamps:
  key: { use: panel, modifier: diffuser, level: 60 %, distance: 60 cm, angle: 60° }
  fill: { use: panel, modifier: diffuser, level: 60 %, distance: 60 cm, angle: 300° }
shots:
  box: { record: 12 s, camera: { filters: [nd-3, nd-3] } }
`);
    expect(messages(text, rule).sort()).toEqual([
      'box: `diffuser` is on `key` and `fill` at once, and the kit has 1. Do without one, or bring another.',
      'box: `nd-3` is on the lens 2 times, and the kit has 1. Name it once.',
    ]);
    // It loses a stop, and its 60 x 60 cm are weaker so near than the bare panel of 40 x 30 cm.
    const [[title, after] = ['', '']] = Object.entries(fixed(text, rule));
    expect(title).toMatch(/^Take `diffuser` off `fill` and set its level to 2\d % \(as bright, harder shadows\)$/);
    expect(after).toMatch(/ {2}fill: \{ use: panel, level: 2\d %, distance: 60 cm, angle: 300° \}/);
  });
});

describe('gear-does-not-fit', () => {
  const rule = 'gear-does-not-fit';
  const both = 'kit: [kits/camera.kit.yaml, kits/phone.kit.yaml]\n';

  test('a lens on the wrong camera, with the nearest that fits', () => {
    const text = spec(`${both}shots:
  box: { record: 12 s, camera: { use: cam, lens: tele } }
`);
    expect(messages(text, rule)).toEqual(['box: `tele` fits `phone`, not `cam`. Use one that fits.']);
    expect(mends(text, rule)).toEqual(['Use `normal` (25 mm)', 'Use `macro` (45 mm)']);
  });

  test('a filter that all shots take over is one finding', () => {
    const text = spec(`${both}shots:
  box: { record: 12 s }
  back: { record: 12 s }
camera: { use: phone, lens: main, filters: nd-3, distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }
`);
    expect(marked(text, rule)).toEqual(['nd-3']);
    expect(messages(text, rule)).toEqual([
      'box and back: `nd-3` fits `normal` and `macro`, not `main`. The lens needs one of its own, or 3 stops less light.',
    ]);
  });

  test('cards and batteries of a day', () => {
    const text =
      spec(`${both}camera: { use: phone, lens: main, distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }
schedule:
  - { day: 2026-12-02, cards: [fast], batteries: [pack] }
`);
    expect(messages(text, rule)).toEqual([
      '`fast` fits `cam`, and no shot of this day is filmed with that.',
      '`pack` fits `cam`, and nothing of this day runs on it.',
    ]);
  });

  test('nothing said fits all', () => {
    expect(messages(camera('support: slider, filters: polariser'), rule)).toEqual([]);
  });
});

/** The worked example of four set-ups: A front, B without the turntable, C macro and a lower key, D from above. */
const four = (order: string, rest = '') =>
  spec(`camera: { lens: normal, support: tripod, distance: 60 cm, height: 8 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s }
backdrop: { material: paper, size: 200 x 200 cm, behind: 70 cm }
surface: { material: wood }
lamps:
  key: { use: panel, modifier: diffuser, level: 80 %, distance: 60 cm, angle: 45° }
  key-low: { moved-from: key, level: 60 % }
  fill: { use: panel, level: 30 %, distance: 60 cm, angle: 315° }
set-ups:
  a: { lit: [key, fill] }
  b: { lit: [key, fill] }
  c: { lit: [key-low, fill], camera: { lens: macro } }
  d: { lit: [key-low], camera: { lens: macro, distance: 50 cm, height: 50 cm, support: top-arm }, backdrop: { material: none }, surface: { material: cloth } }
shots:
  one: { record: 12 s, set-up: a, turn: { speed: 1 rpm } }
  two: { record: 12 s, set-up: b }
  three: { record: 12 s, set-up: c }
  four: { record: 12 s, set-up: d }
cut:
  - { shot: one, length: 10 s }
schedule:
  - { day: 2026-12-02, order: [${order}] }
${rest}`);

describe('set-up-order-wasteful', () => {
  const rule = 'set-up-order-wasteful';

  test('A-C-D-B needs 115 minutes, A-B-C-D 62.5 (all 24 orders tried by hand)', () => {
    expect(messages(four('a, c, d, b'), rule)).toEqual([
      'Day 1: in the order as written, changes take about 1 h 55 min; in the order `a`, `b`, `c`, `d` about 1 h 3 min, 46 % less. The cut stays as it is.',
    ]);
  });

  test('nine minutes are not worth it, and the best is silent', () => {
    const good = ['a, c, b, d', 'a, b, c, d', 'd, c, b, a'];
    expect(good.flatMap((order) => messages(four(order), rule))).toEqual([]);
  });

  test('the fix writes the names into their places and keeps comments', () => {
    const text = four('a, c, d, b').replace('[a, c, d, b]', '[a, c, # the slow one\n      d, b]');
    const after = Object.values(fixed(text, rule))[0]!;
    expect(after).toContain('[a, b, # the slow one\n      c, d]');
    expect(messages(after, rule)).toEqual([]);
  });

  test('a set-up that says how long it takes to build takes no longer', () => {
    // 14.5 + 5 + 52.5 = 72 against 10 + 4.5 + 5 = 19.5.
    const text = four('a, c, d, b').replace('  d: { lit', '  d: { build: 5 min, lit');
    expect(messages(text, rule)).toEqual([
      expect.stringContaining('changes take about 1 h 12 min; in the order `a`, `b`, `c`, `d` about 20 min'),
    ]);
  });

  test('what makes a mess stays last', () => {
    const wet = 'product: { size: 9 x 6 x 7 cm, hazards: liquid }\n';
    const pour = (text: string) =>
      text.replace('set-up: b }', 'set-up: b, action: { what: Oil is poured., lasts: 5 s } }');
    // D-C 48 + C-A 14.5 + A-B 10 = 72.5: the best of the six orders that end with B.
    expect(messages(pour(four('a, c, d, b', wet)), rule)).toEqual([
      expect.stringContaining('`d`, `c`, `a`, `b` about 1 h 13 min'),
    ]);
    expect(messages(pour(four('d, c, a, b', wet)), rule)).toEqual([]);
  });
});

describe('cards-too-small', () => {
  const rule = 'cards-too-small';
  const files = ownKit('cards: { small: { fits: cam, holds: 32 GB } }\n');
  const plan = (takes: number, day: string, record = '20 s') =>
    spec(
      `kit: [kits/camera.kit.yaml, kits/own.kit.yaml]\nshots:\n  box: { record: ${record}, takes: ${takes} }\n${day}`,
    );
  const day = (more: string) => `schedule:\n  - { day: 2026-12-02, cards: small${more} }\n`;

  test('96 takes of 20 s at 150 Mb/s are 40.4 GB, and 32 GB give 30.4', () => {
    expect(messages(plan(96, day('')), rule, files)).toEqual([
      'Day 1: 96 takes on `cam` fill about 40.4 GB, and `small` has room for 30.4 GB (95 % of 32 GB). ' +
        'One more card of 32 GB, or empty them during the day, in two copies.',
    ]);
  });

  test('emptying the cards half way helps, early in the day it does not', () => {
    const said = (times: string) => messages(plan(96, day(times)), rule, files);
    expect(said(', hours: 09:00 to 15:00, offload: 09:30')).toEqual([
      expect.stringContaining('about 37 GB between two copies'),
    ]);
    const noon = [', hours: 09:00 to 15:00, offload: 12:00', ', offload: 12:00', ', hours: 09:00, offload: 12:00'];
    expect(noon.flatMap(said)).toEqual([]);
  });

  test('also in a night that goes past midnight', () => {
    const night = (more: string) => plan(96, day(`, hours: 20:00 to 02:00${more}`));
    expect(mends(night(''), rule, files)).toEqual(['Copy and empty the cards at 23:00']);
    expect(messages(night(', offload: [22:00, 00:30]'), rule, files)).toEqual([]);
    expect(messages(night(', offload: 01:30'), rule, files)).toEqual([
      expect.stringContaining('about 37 GB between two copies'),
    ]);
    const late = plan(96, day(', hours: 22:00 to 03:00'));
    expect(mends(late, rule, files)).toEqual(['Copy and empty the cards at 00:30']);
  });

  test('without a schedule all shots are one day on all cards that fit', () => {
    // 2 x 128 GB + 32 GB = 288 GB, 273.6 of use; 650 takes are 273.5 GB.
    expect(messages(plan(650, ''), rule, files)).toEqual([]);
    expect(messages(plan(652, ''), rule, files)).toEqual([
      expect.stringContaining(
        'All shots: 652 takes on `cam` fill about 274.3 GB, and 2 × `fast` and `small` have room for 273.6 GB',
      ),
    ]);
  });

  describe('two cameras', () => {
    const bodies = (fits: string) =>
      ownKit(`cameras:
  one: &body { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25, codec: h265, bits: 10, chroma: "4:2:2", colour-space: bt709, bitrate: 150 Mb/s }] }
  other: *body
lenses: { normal: { focal: 25 mm, aperture: f/1.7 to f/22 } }
cards: ${fits}
`);
    const both = (takes: readonly [number, number]) =>
      spec(`kit: kits/own.kit.yaml
lamps: {}
shots:
  box: { record: 20 s, takes: ${takes[0]}, camera: { use: one } }
  lid: { record: 20 s, takes: ${takes[1]}, camera: { use: other } }
`);

    test('on the same card fill it together', () => {
      const files = bodies('{ small: { holds: 32 GB } }');
      expect(messages(both([36, 36]), rule, files)).toEqual([]);
      expect(messages(both([48, 48]), rule, files)).toEqual([
        'All shots: 96 takes on `one` and `other` fill about 40.4 GB, and `small` has room for 30.4 GB (95 % of 32 GB). ' +
          'One more card of 32 GB, or empty them during the day, in two copies.',
      ]);
      expect(messages(both([96, 0]).replace('takes: 0, ', ''), rule, files)).toHaveLength(1);
    });

    test('each on cards of its own do not', () => {
      const files = bodies('{ small: { fits: one, holds: 32 GB }, tiny: { fits: other, holds: 32 GB } }');
      expect(messages(both([64, 64]), rule, files)).toEqual([]);
      expect(messages(both([64, 96]), rule, files)).toEqual([expect.stringContaining('96 takes on `other` fill')]);
    });

    test('of which one can go to more cards, are held against both', () => {
      const files = bodies('{ small: { fits: one, holds: 32 GB }, common: { holds: 32 GB } }');
      expect(messages(both([120, 24]), rule, files)).toEqual([]);
      expect(messages(both([128, 64]), rule, files)).toEqual([
        expect.stringContaining(
          '192 takes on `one` and `other` fill about 80.8 GB, and `small` and `common` have room',
        ),
      ]);
      expect(messages(both([24, 96]), rule, files)).toEqual([
        expect.stringContaining('96 takes on `other` fill about 40.4 GB, and `common` has room'),
      ]);
    });
  });

  test('silent where the size of a card is not known', () => {
    expect(messages(plan(96, day('')), rule, ownKit('cards: { small: { fits: cam } }\n'))).toEqual([]);
  });
});

describe('battery-runs-out', () => {
  const rule = 'battery-runs-out';
  const files = (count: number) =>
    ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, draw: 9 W } }
lamps: { tube: { output: 300 lx at 1 m, draw: 12 W, battery: 30 Wh } }
batteries: { pack: { fits: cam, count: ${count}, energy: 16 Wh } }
`);
  const plan = (takes: number, lamps = '{}') =>
    spec(
      `kit: kits/own.kit.yaml\nlamps: ${lamps}\nshots:\n  box: { record: 20 s, takes: ${takes}, reset: 100 s }\nschedule:\n  - { day: 2026-12-02 }\n`,
    );

  test('9 W for 1 h 58 min are 17.8 Wh, one pack of 16 Wh gives 12.8 and two 25.6', () => {
    // 60 x 20 s and 59 x 100 s.
    expect(messages(plan(60), rule, files(1))).toEqual([
      'Day 1: `cam` draws 9 W for about 1 h 58 min, 17.8 Wh; `pack` gives 12.8 Wh (80 % of 16). 1 more of `pack`, mains, or charging on the day.',
    ]);
    expect(messages(plan(60), rule, files(2))).toEqual([]);
    expect(messages(plan(42), rule, files(1))).toEqual([]);
  });

  test('lamps on battery draw at their level', () => {
    const lamp = (more: string) => `{ tube: { distance: 60 cm, angle: 45°, level: 100 %${more} } }`;
    // 12 W for 75 x 20 s and 74 x 100 s are 29.7 Wh of 24; 7.2 W 17.8 Wh, and half an hour of building 3.6 Wh more.
    expect(messages(plan(75, lamp(', runs-on: battery')), rule, files(9))).toEqual([
      'Day 1: `tube` draws 12 W for about 2 h 28 min, 29.7 Wh; its own battery gives 24 Wh (80 % of 30). Run it on mains, or charge it on the day.',
    ]);
    expect(messages(plan(75, lamp('')), rule, files(9))).toEqual([]);
    expect(messages(plan(75, lamp(', runs-on: battery').replace('100 %', '60 %')), rule, files(9))).toEqual([]);
  });
});

describe('day-too-long', () => {
  const rule = 'day-too-long';

  test('build, changes and takes against the hours', () => {
    // 60 + 115 + 4 x 12 s = 175.8 min, of single takes, after which nothing is made ready again.
    const text = (hours: string) =>
      four('a, c, d, b').replace('{ day: 2026-12-02,', `{ day: 2026-12-02, hours: ${hours},`);
    expect(messages(text('10:00 to 12:46'), rule)).toEqual([]);
    expect(messages(text('10:00 to 12:45'), rule)).toEqual([
      'Day 1: about 2 h 56 min of work in 2 h 45 min. Building is 1 h (taken so, no `build` is said), changes 1 h 55 min, takes 1 min.',
    ]);
    expect(messages(text('23:00 to 01:45'), rule)[0]).toContain('about 2 h 56 min of work in 2 h 45 min.');
    expect(['23:00 to 01:46', '23:00'].flatMap((hours) => messages(text(hours), rule))).toEqual([]);
    expect(mends(text('10:00 to 12:30'), rule)).toEqual(['Work in the order a, b, c, d (saves 53 min)']);
  });

  test('a stated build is the time of each set-up, and changes between the shots of one cost their minutes', () => {
    const text = (shots: string) =>
      spec(`set-ups: { wide: { build: 30 min }, near: { build: 20 min, camera: { distance: 40 cm } } }
shots:
${shots}schedule:
  - { day: 2026-12-02, hours: 10:00 to 10:10 }
`);
    const two = '  a: { set-up: wide, record: 12 s }\n  b: { set-up: near, record: 12 s }\n';
    expect(messages(text(two), rule)[0]).toContain('Building is 30 min, changes 20 min');
    // 3 min for the camera's place and 4 for the lens, there and back.
    const back = 'record: 12 s, camera: { lens: macro, angle: 20° }';
    const four = `  a: { set-up: wide, record: 12 s }\n  b: { set-up: wide, ${back} }\n  c: { set-up: wide, record: 12 s }\n`;
    expect(messages(text(four), rule)[0]).toContain('Building is 30 min, changes 14 min');
  });

  test('breaks are those that are written, and a day of one shot is told how many takes fewer would do', () => {
    const text = (breaks: string, takes = 120) =>
      spec(
        `shots:\n  box: { record: 60 s, takes: ${takes} }\nschedule:\n  - { day: 2026-12-02, hours: 09:00 to 13:40${breaks} }\n`,
      );
    // 60 min + 120 x 1 min + 119 x 1 min.
    expect(messages(text(''), rule)).toEqual([
      'Day 1: about 4 h 59 min of work in 4 h 40 min. Building is 1 h (taken so, no `build` is said), changes 0 min, takes 3 h 59 min. 10 takes fewer of `box` would be enough.',
    ]);
    expect(messages(text(', breaks: 30 min', 80), rule)).toEqual([]);
    expect(messages(text(', breaks: 30 min', 116), rule)[0]).toContain('takes 3 h 51 min, breaks 30 min.');
    // One take of ten hours can't be left out.
    const long = 'shots: { box: { record: 10 h, interval: 60 s } }\nschedule: [{ hours: 09:00 to 17:00 }]\n';
    expect(messages(spec(long), rule)[0]).toMatch(/takes 10 h\.$/);
  });

  test('a day that is too long only by a build that nobody said is a note', () => {
    const day = (hours: string, build = '') =>
      spec(`set-ups: { table: { ${build} } }
shots:
  box: { record: 12 s, takes: 10, reset: 2 min, set-up: table }
schedule:
  - { day: 2026-12-02, hours: ${hours} }
`);
    // 60 min and 10 x 12 s + 9 x 2 min are 80 min.
    expect(severities(day('14:00 to 15:00'), rule)).toEqual(['info']);
    expect(severities(day('14:00 to 15:00', 'build: 60 min'), rule)).toEqual(['warning']);
    expect(severities(day('14:00 to 14:09'), rule)).toEqual(['warning']);
  });

  test('liquids take five minutes to clear, shine two minutes of cleaning', () => {
    const text = spec(`product: { size: 9 x 6 x 7 cm, finish: glossy, hazards: liquid }
shots:
  pour: { record: 60 s, takes: 20, action: { what: Tea is poured., lasts: 5 s } }
schedule:
  - { day: 2026-12-02, hours: 09:00 to 11:00 }
`);
    expect(messages(text, rule)[0]).toContain(
      'Building is 1 h (taken so, no `build` is said), changes 0 min, takes 1 h 55 min, cleaning 2 min.',
    );
  });

  test('of two days without an order nobody knows which does what', () => {
    const text = spec(
      'shots:\n  box: { record: 60 s, takes: 300 }\nschedule:\n  - { day: 2026-12-02, hours: 09:00 to 13:00 }\n  - { day: 2026-12-03, hours: 09:00 to 13:00 }\n',
    );
    expect(messages(text, rule)).toEqual([]);
  });
});

describe('battery-runs-out, shared batteries', () => {
  const rule = 'battery-runs-out';
  const files = (packs: string) =>
    ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, draw: 9 W } }
lamps: { tube: { output: 300 lx at 1 m, draw: 12 W, battery: 10 Wh } }
batteries: ${packs}
`);
  const plan = (level: string) =>
    spec(`kit: kits/own.kit.yaml
lamps: { tube: { distance: 60 cm, angle: 45°, level: ${level}, runs-on: battery } }
shots:
  box: { record: 20 s, takes: 60, reset: 100 s }
schedule:
  - { day: 2026-12-02 }
`);

  test('a camera and a lamp for 1 h 58 min: 17.8 Wh, and 23.7 Wh less the 8 that the lamp has in it', () => {
    expect(messages(plan('100 %'), rule, files('{ pack: { energy: 16 Wh, count: 2 } }'))).toEqual([
      'Day 1: `cam` (17.8 Wh) and `tube` (15.7 Wh) take 33.4 Wh from the same batteries, and 2 × `pack` give 25.6 Wh (80 % of 32). 1 more of `pack`, mains, or charging on the day.',
    ]);
    expect(messages(plan('100 %'), rule, files('{ pack: { energy: 16 Wh, count: 3 } }'))).toEqual([]);
  });

  test('a lamp with enough of its own takes nothing from the camera', () => {
    // 8 Wh at a third of 12 W, as much as is left of 10 Wh.
    expect(messages(plan('33 %'), rule, files('{ pack: { energy: 23 Wh } }'))).toEqual([]);
    expect(messages(plan('33 %'), rule, files('{ pack: { energy: 22 Wh } }'))).toEqual([
      expect.stringContaining('`cam` draws 9 W for about 1 h 58 min, 17.8 Wh; `pack` gives 17.6 Wh'),
    ]);
  });
});

describe('product-leaves-too-early', () => {
  const rule = 'product-leaves-too-early';
  const plan = (dates: string, days: string, takes = 1) =>
    spec(
      `product: { size: 9 x 6 x 7 cm, ${dates} }\nshots:\n  box: { record: 60 s, takes: ${takes} }\nschedule:\n${days}`,
    );

  test('days before it comes and after it goes', () => {
    const day = '  - { day: 2026-12-02 }\n';
    expect(messages(plan('arrives: 2026-12-02, returns: 2026-12-02', day), rule)).toEqual([]);
    expect(messages(plan('returns: 2026-12-01', day), rule)).toEqual([
      'The product goes back on 2026-12-01, and `box` is planned for 2026-12-02. Change days, or ask to keep it longer: there is no second chance.',
    ]);
    expect(messages(plan('arrives: 2026-12-03', day), rule)).toEqual([
      'The product comes on 2026-12-03, and `box` is planned for 2026-12-02. Change days.',
    ]);
    expect(messages(plan('returns: 2026-12-02', `${day}  - { day: 2026-12-03 }\n`), rule)).toEqual([
      expect.stringContaining('and filming is planned for 2026-12-03'),
    ]);
    const two = plan('arrives: 2026-12-03', day).replace('shots:', 'shots:\n  lid: { record: 10 s }');
    expect(messages(two, rule)).toEqual([expect.stringContaining('`lid` and `box` are planned')]);
  });

  test('no time to look at the takes on the day of return', () => {
    // 1 h to build, 60 takes of 1 min and as much between two, 71.1 GB: 43 min to copy and 30 to look.
    const at = (hours: string) =>
      findings(plan('returns: 2026-12-02', `  - { day: 2026-12-02, hours: ${hours} }\n`, 60), rule);
    expect([...at('09:00 to 13:15'), ...at('21:00 to 01:15')]).toEqual([]);
    expect(at('21:00 to 01:10')).toMatchObject([{ severity: 'info' }]);
    const evening = '  - { day: 2026-12-02, hours: 18:00 to 23:00, order: late }\n';
    const twoParts = plan('returns: 2026-12-02', `  - { day: 2026-12-02, hours: 09:00 to 13:10 }\n${evening}`, 60);
    const late = twoParts.replace('shots:', 'set-ups: { late: {} }\nshots:\n  lid: { set-up: late, record: 10 s }');
    expect(findings(late, rule)).toEqual([]);
    expect(at('09:00 to 13:10').map((one) => [one.severity, one.message])).toEqual([
      [
        'info',
        'The product goes back on 2026-12-02, the last day of the shoot, and about 2 h 59 min of work leave no time for two copies of 71.1 GB and a look at them (about 1 h 13 min more in 4 h 10 min).',
      ],
    ]);
  });
});

describe('due-before-shoot', () => {
  const rule = 'due-before-shoot';
  const dated = (due: string, more = '') =>
    spec(`brief: { due: ${due} }\nschedule:\n  - { day: 2026-12-02 }\n  - { day: 2026-12-04 }\n${more}`);

  test('after the last day it holds, on it there is no time, before it cannot be', () => {
    expect(messages(dated('2026-12-05'), rule)).toEqual([]);
    expect(severities(dated('2026-12-04'), rule)).toEqual(['warning']);
    expect(messages(dated('2026-12-03'), rule)).toEqual([
      'The files are owed on 2026-12-03, and filming goes on until 2026-12-04: 1 day too late. Film earlier, or ask for another date.',
    ]);
  });

  test('a film that goes out before its files are owed', () => {
    const text = dated('2026-12-10').replace('length: 10 s, codec', 'length: 10 s, published: 2026-12-08, codec');
    expect(messages(text, rule)).toEqual([
      'film: it goes out on 2026-12-08, and the files are owed on 2026-12-10 only. Ask the client which date holds.',
    ]);
    expect(messages(text.replace('due: 2026-12-10', 'due: 2026-12-08'), rule)).toEqual([]);
  });

  test('without a date or a schedule nothing is said', () => {
    expect(messages(spec('brief: { due: 2026-12-03 }\n'), rule)).toEqual([]);
  });
});
