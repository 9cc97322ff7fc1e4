import { describe, expect, test } from 'vitest';
import { sheetText } from '../../server/views/sheet.ts';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { checkSpec, ownKit, spec } from '../helpers/workspace.ts';

const camera = (more: string) =>
  `camera: { lens: normal, distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 400, aperture: f/8, focus: locked, ${more} }\n`;
const lamps = (...rows: string[]) => `lamps:\n${rows.map((row) => `  ${row}\n`).join('')}`;
const panel = (more: string) => `key: { use: panel, distance: 60 cm, angle: 45°, height: 40 cm, ${more} }`;
const tube = (more: string) => `fill: { use: tube, distance: 70 cm, angle: 310°, height: 30 cm, ${more} }`;
const spot = (more = '') => `key: { use: spot, distance: 80 cm, angle: 45°, height: 40 cm, ${more} }`;

describe('white-balance-off-lamp', () => {
  const rule = 'white-balance-off-lamp';
  const at = (balance: string, lamp: string, more = '') =>
    spec(
      more + camera(`white-balance: ${balance}`) + lamps(panel(`temperature: ${lamp}`), tube(`temperature: ${lamp}`)),
    );

  test('counts in mired: 5000 K and 5600 K are 21 apart, 5600 K and 6500 K are 25', () => {
    // 10^6/5000 - 10^6/5600 = 21.4; 10^6/5600 - 10^6/6500 = 24.7 (definition of the mired; a published photo page).
    expect(messages(at('5600 K', '5000 K'), rule)).toEqual([
      'box: the camera is set for 5600 K, but `key` is 5000 K: the picture will be 21 mired too warm. 5000 K matches.',
    ]);
  });

  test.each([
    ['5600 K', '5000 K', ['info']],
    ['5600 K', '6500 K', ['info']],
    ['6550 K', '5600 K', ['warning']],
    // 100 K is 9.5 mired at 3200 K and 3.1 at 5600 K.
    ['3200 K', '3300 K', []],
    ['3200 K', '3350 K', ['info']],
    ['5600 K', '5900 K', []],
  ])('set for %s in light of %s: %j', (balance, lamp, graded) => {
    expect(severities(at(balance, lamp), rule)).toEqual(graded);
  });

  test('adds what filters add: 3200 K behind half an orange (+109) against 5600 K is 243 too warm', () => {
    // 312.5 + 109 - 178.57 = 242.9 mired; the filter table of a photographic handbook gives 109.
    const kit = `cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lamps: { halogen: { kind: filament, output: 900 lx at 1 m, temperature: 3200 K } }
modifiers: { half-orange: { loses: 0.6 stops, warms: 109 mired }, softbox: { loses: 1 stop } }
`;
    const text = spec(
      `kit: kits/own.kit.yaml\n${camera('white-balance: 5600 K').replace('lens: normal, ', '')}lamps: { halogen: { modifier: [softbox, half-orange], distance: 60 cm, angle: 45° } }\n`,
    );
    expect(messages(text, rule, ownKit(kit))).toEqual([
      'box: the camera is set for 5600 K, but `halogen` is 3200 K with `half-orange` (2372 K): ' +
        'the picture will be 243 mired too warm. 2370 K matches.',
    ]);
  });

  test('a filament turned down is warmer: 2700 K at 20 % is 2207 K, 83 mired', () => {
    // Temperature as light^(0.424 ÷ 3.384) (IES Lighting Handbook, from memory).
    const kit = (kind: string) => `cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lamps: { bulb: { kind: ${kind}, output: 900 lx at 1 m, temperature: 2700 K } }
`;
    const text = (more: string) =>
      spec(
        `kit: kits/own.kit.yaml\n${camera('white-balance: 2700 K').replace('lens: normal, ', '')}lamps: { bulb: { distance: 60 cm, angle: 45°, ${more} } }\n`,
      );
    const filament = ownKit(kit('filament'));
    expect(messages(text('level: 20 %'), rule, filament)).toEqual([
      'box: the camera is set for 2700 K, but `bulb` is 2700 K at 20 % (2207 K): the picture will be 83 mired too warm. 2200 K matches.',
    ]);
    expect(mends(text('level: 20 %'), rule, filament)).toContain('Set white balance to 2200 K');
    // 0.6^0.125 is 0.938: 24 mired, a note; 0.9 is 5, nothing.
    const levels = ['level: 100 %', 'level: 90 %', 'level: 60 %'];
    expect(levels.flatMap((level) => severities(text(level), rule, filament))).toEqual(['info']);
    expect(messages(text('level: 20 %'), rule, ownKit(kit('led')))).toEqual([]);
    // Said in the spec it is what was measured at that level.
    expect(messages(text('level: 20 %, temperature: 2700 K'), rule, filament)).toEqual([]);
  });

  test('a filter on the lens shifts the light too', () => {
    const kit = `cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lamps: { lantern: { output: 900 lx at 1 m, temperature: 3200 K } }
filters: { blue-80a: { kind: colour, loses: 2 stops, warms: -131 mired } }
`;
    const text = (balance: string) =>
      spec(
        `kit: kits/own.kit.yaml\n${camera(`filters: blue-80a, white-balance: ${balance}`).replace('lens: normal, ', '')}lamps: { lantern: { distance: 60 cm, angle: 45° } }\n`,
      );
    const files = ownKit(kit);
    // 3200 K with -131 mired is 5510 K (published).
    expect(messages(text('5500 K'), rule, files)).toEqual([]);
    expect(messages(text('3200 K'), rule, files)[0]).toContain('131 mired too cool. 5500 K matches.');
  });

  test('cool and warm casts on purpose explain one direction each', () => {
    const found = (balance: string, lamp: string) =>
      ['warm-cast', 'cool-cast'].map((word) => messages(at(balance, lamp, `on-purpose: ${word}\n`), rule).length);
    expect(found('5600 K', '3200 K')).toEqual([0, 1]);
    expect(found('3200 K', '5600 K')).toEqual([1, 0]);
  });

  test('fixes set the camera, or all lamps, and clear the finding', () => {
    const text = at('5600 K', '3200 K');
    expect(mends(text, rule)).toEqual(['Set white balance to 3200 K', 'Set `key` and `fill` to 5600 K']);
    const filtered = spec(camera('white-balance: 3500 K') + lamps(spot()));
    expect(mends(filtered, rule)).toEqual([
      'Set white balance to 5600 K',
      'Put `half-orange` on `key` (0.6 stop less from it, 2 mired left)',
    ]);
  });

  test('says nothing of a lamp that is coloured, changes through the setting, or of an automatic balance', () => {
    expect(messages(spec(camera('white-balance: 5600 K') + lamps(spot('colour: "#3355ff"'))), rule)).toEqual([]);
    expect(messages(at('auto', '3200 K'), rule)).toEqual([]);
    const sweep = (balance: string) =>
      spec(
        `${camera(`white-balance: ${balance}`)}${lamps(panel('temperature: 3200 K to 5600 K'))}shots: { box: { record: 12 s, lit: key } }\n`,
      );
    expect(['4300 K', '6500 K'].map((balance) => messages(sweep(balance), rule).length)).toEqual([0, 1]);
  });

  test('window light alone is the key; a film without colour has no cast', () => {
    const room = 'room: { light: 800 lx, source: window, temperature: 6500 K }\nlamps: {}\n';
    const text = (more = '') => spec(`${camera('white-balance: 3200 K')}${room}${more}`);
    expect(messages(text(), rule)[0]).toContain('but the window is 6500 K: the picture will be 159 mired too cool');
    expect(messages(text('grade: { saturation: 0 % }\n'), rule)).toEqual([]);
  });

  test('one finding for all shots that take the setting over, none for a shot that says its own', () => {
    const text = spec(
      `${camera('white-balance: 5600 K')}${lamps(panel('temperature: 3200 K'))}shots:
  one: { record: 12 s }
  two: { record: 12 s }
  three: { record: 12 s, camera: { white-balance: 3200 K } }
cut: [{ shot: one, length: 10 s }]
`,
    );
    expect(messages(text, rule)).toEqual([expect.stringMatching(/^one and two: /)]);
    expect(marked(text, rule)).toEqual(['5600 K']);
    expect(messages(Object.values(fixed(text, rule))[0]!, rule)).toEqual([]);
  });
});

/** A camera that writes log in 8 bits, and in 10 where `ten` says so. */
const pocket = (ten = true) =>
  ownKit(`cameras:
  pocket:
    sensor: 17.3 x 13 mm
    modes:
      - { raster: 3840x2160, rate: 25, bits: 8, colour-space: [bt709, log, hlg], bitrate: 100 Mb/s }
${ten ? '      - { raster: 3840x2160, rate: 25, bits: 10, codec: h265, colour-space: [bt709, log], bitrate: 150 Mb/s }\n' : ''}`);
const shotWith = (more: string, rest = '') =>
  spec(
    `kit: kits/own.kit.yaml\nlamps: {}\ncamera: { distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, ${more} }\n${rest}`,
  );

describe('tone-steps-too-coarse', () => {
  const rule = 'tone-steps-too-coarse';

  test('log in 8 bits keeps 16 steps a stop, in 10 bits 63', () => {
    // 219/14 = 15.6 and 876/14 = 62.6: code ranges of ITU-R BT.709-6; 14 stops: common practice, no source.
    const text = shotWith('colour-space: log, bits: 8', 'grade: { to: bt709 }\n');
    expect(messages(text, rule, pocket())).toEqual([
      'box: log in 8 bits keeps about 16 steps of tone in each stop, and a grade pulls them apart: smooth tones will band. ' +
        'bt709 in 8 bits keeps 41 above middle grey, log in 10 bits 63.',
    ]);
    expect(marked(text, rule, pocket())).toEqual(['8']);
  });

  test('fixes take the mode of 10 bits, then the curve of the display', () => {
    const text = shotWith('colour-space: log, bits: 8', 'grade: { to: bt709 }\n');
    expect(mends(text, rule, pocket())).toEqual([
      'Record 10 bits (150 Mb/s)',
      'Record bt709 (about 2 stops less room for bright tones)',
    ]);
    expect(titles(text, rule, pocket(false))).toEqual(['Record bt709 (about 2 stops less room for bright tones)']);
  });

  test('bits that only the kit says count too', () => {
    const text = shotWith('colour-space: log', 'grade: { to: bt709 }\n');
    expect(marked(text, rule, pocket())).toEqual(['log']);
  });

  test('8 bits bear one stop of brightening, not two', () => {
    // BT.709 codes in a stop at 8 bits: 41 above 18 %, 30 below it, 22 below that.
    const pushed = (stops: string, bits = 8) => shotWith(`bits: ${bits}`, `grade: { brighten: ${stops} }\n`);
    const fine = [pushed('1 stop'), pushed('2 stops', 10)];
    expect(fine.flatMap((text) => messages(text, rule, pocket()))).toEqual([]);
    expect(messages(pushed('2 stops'), rule, pocket())).toEqual([
      'box: brightened by 2 stops in the grade, middle tones come from a stop with 22 steps of tone in 8 bits, ' +
        'where 41 are usual: smooth tones will band. Expose it brighter, or record 10 bits.',
    ]);
    expect(marked(pushed('2 stops'), rule, pocket())).toEqual(['2 stops']);
  });

  test('HLG has no 8 bits', () => {
    expect(messages(shotWith('colour-space: hlg, bits: 8'), rule, pocket())[0]).toContain('BT.2100');
  });

  test('says nothing where neither spec nor kit tells', () => {
    expect(messages(shotWith('colour-space: log'), rule)).toEqual([]);
  });
});

describe('colour-chain-broken', () => {
  const rule = 'colour-chain-broken';
  const log = camera('colour-space: log, bits: 10');
  const hlg = 'film: { raster: 1920x1080, rate: 25, codec: h265, bits: 10, colour-space: hlg }';
  const two = `deliver:\n  ${hlg}\n  shop: { raster: 1920x1080, rate: 25 }\n`;

  test('log needs a grade', () => {
    expect(messages(spec(log), rule)).toEqual([
      'box: recorded in log, delivered in bt709 as `film`, and no grade stands between: it will look grey and flat. Grade it to bt709, or record that.',
    ]);
    const meant = [`${log}grade: { brighten: 0.3 stops }\n`, `on-purpose: flat-grade\n${log}`];
    expect(meant.flatMap((text) => messages(spec(text), rule))).toEqual([]);
  });

  test('both fixes clear it, in the file as it is written', () => {
    const text = spec(log);
    expect(mends(text, rule)).toEqual(['Grade to bt709', 'Record bt709 (about 2 stops less room for bright tones)']);
    expect(fixed(text, rule)['Grade to bt709']).toContain('grade: { to: bt709 }');
  });

  test('one finding for all shots and deliverables of one colour space', () => {
    const text = spec(
      `${log}deliver:\n  film: { raster: 1920x1080, rate: 25 }\n  story: { raster: 1080x1920, rate: 25 }\nshots: { one: { record: 12 s }, two: { record: 12 s } }\ncut: [{ shot: one, length: 5 s }, { shot: two, length: 5 s }]\n`,
    );
    expect(messages(text, rule)).toEqual([
      'one and two: recorded in log, delivered in bt709 as `film` and `story`, and no grade stands between: it will look grey and flat. Grade it to bt709, or record that.',
    ]);
    // Asked for by four findings, written once.
    expect(fixed(text, rule)['Grade to bt709']?.match(/^grade:/gm)).toHaveLength(1);
  });

  test('a deliverable that does not use the shot is left out', () => {
    const text = spec(
      `${camera('bits: 10')}deliver:\n  film: { raster: 1920x1080, rate: 25 }\n  teaser: { raster: 1920x1080, rate: 25, section: 0 s to 5 s }\nshots:\n  one: { record: 12 s }\n  two: { record: 12 s, camera: { colour-space: log } }\ncut: [{ shot: one, length: 5 s }, { shot: two, length: 5 s }]\n`,
    );
    expect(messages(text, rule)).toEqual([
      expect.stringContaining('two: recorded in log, delivered in bt709 as `film`, and'),
    ]);
  });

  test('HLG and PQ have 10 bits or 12 (ITU-R BT.2100)', () => {
    const deliver = (more: string) =>
      spec(`deliver:\n  film: { raster: 1920x1080, rate: 25, colour-space: hlg, ${more} }\ngrade: { to: hlg }\n`);
    expect(messages(deliver('bits: 8'), rule)).toEqual([
      'film: hlg in 8 bits does not exist: its standard (ITU-R BT.2100) has 10 or 12. Deliver 10, or bt709.',
    ]);
    expect(severities(deliver('bits: 8'), rule)).toEqual(['error']);
    expect(marked(deliver('codec: h264'), rule)).toEqual(['hlg']);
    expect(messages(deliver('bits: 10, codec: h265'), rule)).toEqual([]);
    expect(messages(fixed(deliver('bits: 8'), rule)['Deliver 10 bits in h265']!, rule)).toEqual([]);
  });

  test('a grade comes out in one colour space', () => {
    const alone = `deliver:\n  shop: { raster: 1920x1080, rate: 25 }\n`;
    const text = spec(`${log}${alone}grade: { to: hlg }\n`);
    expect(messages(text, rule)).toEqual([
      'shop: the grade comes out in hlg, this is delivered in bt709: it is converted when it is rendered, ' +
        'and nobody has graded it so. Look at it on a screen for bt709.',
    ]);
    expect(severities(text, rule)).toEqual(['info']);
    const open = messages(spec(`${log}${two}grade: { brighten: 0 stops }\n`), rule);
    expect(open).toHaveLength(1);
    expect(open[0]).toContain('nothing says which of them the grade comes out in');
    expect(
      messages(spec(`${log}${two}timeline: { rate: 25, colour-space: log }\ngrade: { brighten: 0 stops }\n`), rule)[0],
    ).toContain('the grade comes out in log, as the edit is');
  });

  test('a bt709 recording in an HLG file', () => {
    const text = spec(`deliver:\n  ${hlg}\n`);
    expect(messages(text, rule)[0]).toContain('recorded in bt709, delivered in hlg');
    mends(text, rule);
  });
});

describe('mixed-light', () => {
  const rule = 'mixed-light';
  const mixed = (key: string, fill: string, more = '') =>
    spec(
      `${camera('white-balance: 5600 K')}${lamps(panel(`temperature: ${key}, level: 40 %, role: key`), tube(`temperature: ${fill}`))}${more}`,
    );

  test('2700 K and 5600 K are 192 mired apart', () => {
    // 10^6/2700 - 10^6/5600 = 370.37 - 178.57 = 191.8 (definition of the mired).
    const text = mixed('5600 K', '2700 K');
    expect(messages(text, rule)).toEqual([
      'box: `fill` is 2700 K and `key` is 5600 K, 192 mired apart, and `fill` gives about 25 % of the light on the product. ' +
        'No white balance suits both: its side will look orange. Give both one white, or leave one out.',
    ]);
    expect(marked(text, rule)).toEqual(['2700 K']);
    expect(messages(text, 'white-balance-off-lamp')).toEqual([]);
    mends(text, rule);
  });

  test('30 mired pass, more do not', () => {
    // 5600 K + 30 mired is 4794.5 K.
    expect(['4800 K', '4790 K'].map((fill) => messages(mixed('5600 K', fill), rule).length)).toEqual([0, 1]);
  });

  test('weak lamps of one white count together: illuminances add up', () => {
    const glow = (name: string, angle: number, temperature = '2800 K') =>
      `  ${name}: { use: panel, temperature: ${temperature}, level: 2 %, distance: 60 cm, angle: ${angle}°, height: 30 cm }\n`;
    const set = (...glows: string[]) =>
      spec(
        `${camera('white-balance: 5600 K')}${lamps(panel('temperature: 5600 K, level: 40 %, role: key'))}${glows.join('')}`,
      );
    expect(messages(set(glow('a', 330)), rule)).toEqual([]);
    const text = set(glow('a', 330), glow('b', 340, '2850 K'), glow('c', 350));
    expect(messages(text, rule)).toEqual([
      expect.stringMatching(
        /^box: `.`, `.` and `.` are 28[05]0 K and `key` is 5600 K, 179 mired apart, and together they give about 20 % of the light on the product\./,
      ),
    ]);
    expect(mends(text, rule)[0]).toMatch(/^Set `.`, `.` and `.` to 5600 K$/);
    // Of two whites neither is a tenth; for lamps that are meant to stand out nothing is added up.
    expect(messages(set(glow('a', 330), glow('b', 340, '4000 K')), rule)).toEqual([]);
    expect(messages(text.replaceAll('level: 2 %', 'level: 2 %, role: accent'), rule)).toEqual([]);
  });

  test('the lamp that the camera is not set for is odd, be it the key', () => {
    const text = mixed('3200 K', '5600 K');
    expect(messages(text, rule)[0]).toMatch(/^box: `key` is 3200 K and `fill` is 5600 K, 134 mired apart/);
    expect(marked(text, rule)).toEqual(['3200 K']);
    expect(messages(text, 'white-balance-off-lamp')).toEqual([]);
    expect(titles(text, rule)[0]).toBe('Set `key` to 5600 K');
  });

  test('less than a tenth of the light does not count, nor do lamps meant to stand out, nor those behind', () => {
    const weak = (level: string) =>
      spec(
        `${camera('white-balance: 5600 K')}${lamps(panel('temperature: 5600 K, role: key'), tube(`temperature: 2700 K, level: ${level}`))}`,
      );
    expect(['50 %', '100 %'].map((level) => messages(weak(level), rule).length)).toEqual([0, 1]);
    for (const role of ['practical', 'rim', 'accent', 'highlight', 'backdrop'])
      expect(messages(mixed('5600 K', `2700 K, role: ${role}`), rule), role).toEqual([]);
    const behind = lamps(
      panel('temperature: 5600 K'),
      'hair: { use: tube, temperature: 2700 K, distance: 50 cm, angle: 170° }',
    );
    const wall = lamps(panel('temperature: 5600 K'), tube('temperature: 2700 K, aim: backdrop'));
    for (const set of [behind, wall])
      expect(messages(spec(`${camera('white-balance: 5600 K')}${set}`), rule)).toEqual([]);
  });

  test('the window counts, and can be shut out', () => {
    const room = 'room: { light: 300 lx, source: window, temperature: 6500 K }\n';
    const text = spec(`${camera('white-balance: 3200 K')}${lamps(panel('temperature: 3200 K, level: 10 %'))}${room}`);
    expect(messages(text, rule)[0]).toContain('the window is 6500 K and `key` is 3200 K, 159 mired apart');
    expect(messages(text, rule)[0]).toContain('will look blue');
    expect(mends(text, rule)).toEqual([
      'Set `key` and the camera to 6500 K',
      expect.stringMatching(/^Shut out the window \([01]\.\d stops? darker\)$/),
    ]);
  });

  test('the kit filter that comes nearest is offered with its price', () => {
    const kit = `cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lamps:
  day: { output: 1000 lx at 1 m, temperature: 5600 K }
  bulb: { output: 600 lx at 1 m, temperature: 3200 K }
modifiers:
  half-blue: { loses: 1 stop, warms: -78 mired }
  full-blue: { loses: 1.5 stops, warms: -137 mired }
`;
    const text = spec(
      `kit: kits/own.kit.yaml\n${camera('white-balance: 5600 K').replace('lens: normal, ', '')}lamps:\n  day: { distance: 60 cm, angle: 45° }\n  bulb: { distance: 60 cm, angle: 310° }\n`,
    );
    const files = ownKit(kit);
    expect(marked(text, rule, files)).toEqual(['bulb']);
    expect(mends(text, rule, files)).toEqual(['Put `full-blue` on `bulb` (1.5 stops less from it, 3 mired left)']);
  });

  test('on purpose, and without colour', () => {
    const blocks = ['on-purpose: mixed-light\n', 'grade: { saturation: 0 % }\n'];
    expect(blocks.flatMap((block) => messages(mixed('5600 K', '2700 K', block), rule))).toEqual([]);
  });
});

const lampKit = (rows: string) =>
  ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lamps:
${rows}`);
const lit = (rows: string, more = '') =>
  spec(
    `kit: kits/own.kit.yaml\n${camera('white-balance: 5600 K').replace('lens: normal, ', '')}lamps:\n${rows}${more}`,
  );

describe('lamp-tint-off', () => {
  const rule = 'lamp-tint-off';
  const two = '  a: { distance: 60 cm, angle: 40°, role: key }\n  b: { distance: 60 cm, angle: 320° }\n';
  const kit = (a: string, b: string, more = '') =>
    lampKit(`  a: { output: 500 lx at 1 m, temperature: 5600 K, duv: ${a} }
  b: { output: 500 lx at 1 m, temperature: 5600 K, duv: ${b} }
${more}`);

  test('two lamps of one face may differ by 0.003', () => {
    expect(messages(lit(two), rule, kit('0.001', '0.004'))).toEqual([]);
    expect(messages(lit(two), rule, kit('0.001', '0.007'))).toEqual([
      'box: `b` has a Duv of +0.007, `a` +0.001: the side that `b` lights goes green by 0.006, ' +
        'with about 50 % of the light on the product. ' +
        'The camera can balance only one of them: use lamps of one kind, or a filter that corrects it.',
    ]);
    expect(messages(lit(two), rule, kit('0.003', '-0.001'))[0]).toContain('goes magenta by 0.004');
    expect(marked(lit(two), rule, kit('0.001', '0.007'))).toEqual(['b']);
  });

  test('daylight is not green: D65 lies at +0.0032 (CIE 015, Ohno 2013)', () => {
    expect(['0.0032', '0.0092'].flatMap((duv) => messages(lit(two), rule, kit(duv, duv)))).toEqual([]);
    const green = lit(two);
    expect(messages(green, rule, kit('0.0095', '0.0095'))).toEqual([
      'box: the key lamp `a` has a Duv of +0.0095 where white of 5600 K has +0.0032: all will look green. ' +
        'Set the tint of the camera on a grey card under it.',
    ]);
    expect(severities(green, rule, kit('0.0095', '0.0095'))).toEqual(['info']);
  });

  test('a free lamp of the kit takes the place at the same light', () => {
    const better = '  c: { output: 1000 lx at 1 m, temperature: 3000 K to 6500 K, duv: 0.002 }\n';
    const files = kit('0.001', '0.007', better);
    expect(mends(lit(two), rule, files)).toEqual(['Use `c` at 50 % for `b` (the same light)']);
    expect(messages(Object.values(fixed(lit(two), rule, files))[0]!, 'setting-not-in-kit', files)).toEqual([]);
  });

  test('coloured lamps and unknown Duv say nothing', () => {
    const coloured = two.replace('angle: 320°', 'angle: 320°, colour: "#22cc44"');
    expect(messages(lit(coloured), rule, kit('0.001', '0.007'))).toEqual([]);
    expect(
      messages(lit(two), rule, lampKit('  a: { output: 500 lx at 1 m, temperature: 5600 K, duv: 0.001 }\n')),
    ).toEqual([]);
  });
});

describe('colour-rendering-poor', () => {
  const rule = 'colour-rendering-poor';
  const one = '  bulb: { distance: 60 cm, angle: 40° }\n';
  const kit = (more: string) => lampKit(`  bulb: { output: 500 lx at 1 m, temperature: 5600 K, ${more} }\n`);
  const severity = (more: string, text = lit(one)) => findings(text, rule, kit(more))[0]?.severity;

  test.each([
    // Bands of the television lighting consistency index (EBU R 137).
    ['tlci: 85', undefined],
    ['tlci: 84', 'info'],
    ['tlci: 75', 'info'],
    ['tlci: 74', 'warning'],
    // The index for cameras wins over Ra, which stands in for it.
    ['tlci: 90, cri: 78', undefined],
    ['cri: 90', undefined],
    ['cri: 89', 'info'],
    ['cri: 80', 'info'],
  ])('%s: %s', (index, expected) => {
    expect(severity(index)).toBe(expected);
  });

  test('says the index and the share of the light', () => {
    expect(messages(lit(one), rule, kit('cri: 79'))).toEqual([
      'box: `bulb` has an Ra of 79 and gives all of the light on the product: colours will be off, and a grade takes long over it. Give its place to a better lamp.',
    ]);
  });

  test('R9 counts where there is red, wood or skin', () => {
    const product = (colour: string) => `product: { size: 9 x 6 x 7 cm, colour: "${colour}" }\n`;
    expect(severity('cri: 92, r9: 40')).toBeUndefined();
    for (const red of ['#7a1020', '#8b5a2b', '#c0392b'])
      expect(severity('cri: 92, r9: 40', lit(one, product(red))), red).toBe('info');
    for (const other of ['#2b5a8b', '#3d7a3d', '#808080', '#d9d4c8'])
      expect(severity('cri: 92, r9: 40', lit(one, product(other))), other).toBeUndefined();
    const hands = lit(one, 'shots: { box: { record: 12 s, people: ada } }\n');
    expect(messages(hands, rule, kit('cri: 92, r9: 40'))[0]).toContain('skin comes out dull and brownish');
  });

  test('less than a fifth of the light does not count', () => {
    const weak = (level: string) =>
      lit(`  bulb: { distance: 60 cm, angle: 320°, level: ${level} }\n  good: { distance: 60 cm, angle: 40° }\n`);
    const files = lampKit(
      '  bulb: { output: 500 lx at 1 m, temperature: 5600 K, cri: 70 }\n  good: { output: 500 lx at 1 m, temperature: 5600 K, cri: 96 }\n',
    );
    expect(['20 %', '30 %'].map((level) => messages(weak(level), rule, files).length)).toEqual([0, 1]);
    expect(messages(lit(one, 'grade: { saturation: 0 % }\n'), rule, kit('cri: 70'))).toEqual([]);
  });
});

describe('daylight-drifts', () => {
  const rule = 'daylight-drifts';
  const day = (light: string, shots: string, more = '') =>
    spec(`room: { light: ${light}, source: window, temperature: 5000 K }\nshots:\n${shots}${more}`);

  test('all takes of a set-up count together', () => {
    // 21 x 12 s and 20 x 3 min between them = 64 min; the sun goes round once in 24 h: 16°.
    const shots = (takes: number) => `  box: { record: 12 s, takes: ${takes}, reset: 3 min }\n`;
    expect(messages(day('3000 lx', shots(21)), rule)).toEqual([
      'box: daylight is about 60 % of the light on the product, and shooting goes on for 1 h 4 min, while the sun moves by 16°. ' +
        'Film in one go what must match, and read the light again before each shot.',
    ]);
    expect(marked(day('3000 lx', shots(21)), rule)).toEqual(['3000 lx']);
    expect(messages(day('3000 lx', shots(19)), rule)).toEqual([]);
  });

  test('the sheet says that daylight is to be read again, however short it is filmed', () => {
    const sheet = (light: string) => sheetText(checkSpec(day(light, '  box: { record: 12 s }\n')))!;
    expect(sheet('3000 lx')).toContain('of the light: read it again before each shot');
    expect(sheet('600 lx')).not.toContain('read it again');
  });

  test('set-ups are counted apart', () => {
    const row = (name: string, setUp: string) =>
      `  ${name}: { set-up: ${setUp}, record: 12 s, takes: 12, reset: 3 min }\n`;
    const ups = 'set-ups: { near: { build: 10 min }, far: { build: 10 min } }\ncut: [{ shot: one, length: 10 s }]\n';
    expect(messages(day('3000 lx', row('one', 'near') + row('two', 'far'), ups), rule)).toEqual([]);
    const together = messages(day('3000 lx', row('one', 'near') + row('two', 'near'), ups), rule);
    expect(together).toEqual([expect.stringMatching(/^one and two: .* shooting in `near` goes on for 1 h 11 min/)]);
  });

  test('shots that meet in the cut are compared, with what is built between them; two days are planned', () => {
    const plan = (build: string, days = '  - { day: 2026-12-02, order: [near, far] }\n') =>
      day(
        '3000 lx',
        '  one: { set-up: near, record: 12 s }\n  two: { set-up: far, record: 12 s }\n',
        `set-ups: { near: { build: 10 min }, far: { build: ${build} } }
cut:\n  - { shot: one, length: 5 s }\n  - { shot: two, length: 5 s }
schedule:\n${days}`,
      );
    expect(messages(plan('190 min'), rule)).toEqual([
      'two: daylight is about 60 % of the light on the product, and one, which it meets in the cut, is begun 3 h 10 min before, while the sun moves by 48°. Film one after the other, or read the light again before each.',
    ]);
    const apart = '  - { day: 2026-12-02, order: [near] }\n  - { day: 2026-12-03, order: [far] }\n';
    expect([plan('170 min'), plan('190 min', apart)].flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('lamps of the room do not drift', () => {
    const text = spec(
      'room: { light: 600 lx, source: battery-lamps, temperature: 5000 K }\nshots:\n  box: { record: 12 s, takes: 10, reset: 3 min }\n',
    );
    expect(messages(text, rule)).toEqual([]);
  });
});
