import { describe, expect, test } from 'vitest';
import { backdropLightAt } from '../../server/core/derived/backdrop-light.ts';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { checkSpec, kits, ownKit, spec } from '../helpers/workspace.ts';

const box = (camera: string, more = '') => spec(`shots:\n  box: { record: 12 s, camera: { ${camera} }${more} }\n`);

describe('setting-left-automatic', () => {
  const rule = 'setting-left-automatic';
  const spin = (camera: string) =>
    spec(
      `shots:\n  spin: { record: 12 s, camera: { ${camera} }, turn: { speed: 2 rpm } }\ncut:\n  - { shot: spin, length: 10 s }\n`,
    );

  // Common practice, no source.
  test.each(['shutter', 'aperture', 'iso', 'white-balance', 'focus'])(
    '%s: auto is found where it stands',
    (setting) => {
      const text = spin(`${setting}: auto`);
      expect(marked(text, rule)).toEqual(['auto']);
      expect(severities(text, rule)).toEqual(['warning']);
      expect(severities(box(`${setting}: auto`), rule)).toEqual(['info']);
    },
  );

  test('gives the value that the light and the frame want', () => {
    const way = (camera: string) => messages(spin(camera), rule)[0];
    expect(way('white-balance: auto')).toBe(
      'spin: white balance is left to the camera while the product turns: colour can shift within the take. Lock white balance at 5000 K.',
    );
    expect(way('shutter: auto')).toContain('Lock shutter at 1/50 s.');
    expect(way('iso: auto')).toContain('Lock ISO at 500.');
    expect(way('focus: auto')).toContain('focus can hunt. Lock focus on the subject.');
    expect(way('focus: auto, distance: 60 cm to 50 cm')).toContain('Let focus follow the subject.');
  });

  test('what is not said is one finding, and one fix for all who take it over', () => {
    const text = spec(`shots:
  box: { record: 12 s }
  lid: { record: 12 s }
cut:
  - { shot: box, length: 5 s }
  - { shot: lid, length: 5 s }
`)
      .replace('  iso: 400\n', '')
      .replace('  focus: locked\n', '');
    expect(messages(text, rule)).toEqual([
      'box and lid: ISO and focus are not said, so left to the camera, and the shot is cut together with others: brightness can differ from take to take and focus can hunt. Lock ISO at 500 and focus on the subject.',
    ]);
    mends(text, rule);
    for (const after of Object.values(fixed(text, rule)))
      expect(after).toContain('  white-balance: 5000 K\n  iso: 500\n  focus: locked\n');
  });

  test('what is not said anywhere is marked at the camera of the film, not of the shot', () => {
    const text = box('height: 10 cm').replace('  iso: 400\n', '');
    expect(findings(text, rule).map((one) => one.start)).toEqual([text.indexOf('camera:\n')]);
  });

  test('shots that share a setting are one finding, spoken of by the one that moves', () => {
    const text = spec(`shots:
  box: { record: 12 s }
  spin: { record: 12 s, turn: { speed: 2 rpm } }
cut:
  - { shot: box, length: 5 s }
  - { shot: spin, length: 5 s }
`).replace('white-balance: 5000 K', 'white-balance: auto');
    expect(messages(text, rule)).toEqual([
      'box and spin: white balance is left to the camera while things move in some of them: colour can shift within the take. Lock white balance at 5000 K.',
    ]);
  });

  test('is silent about what cannot be read, and about a lens with one aperture', () => {
    const fixedStop = spec('kit: kits/phone.kit.yaml\n')
      .replace('  aperture: f/8\n', '')
      .replace('lens: normal', 'lens: main');
    const silent = [spin('white-balance: 5000'), fixedStop];
    expect(silent.flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('automatic focus is a note where nothing moves, even between other shots', () => {
    const text = spec(`shots:
  box: { record: 12 s, camera: { focus: auto } }
  lid: { record: 12 s, camera: { white-balance: auto } }
cut:
  - { shot: box, length: 5 s }
  - { shot: lid, length: 5 s }
`);
    expect(severities(text, rule)).toEqual(['info', 'warning']);
  });
});

describe('exposure-off', () => {
  const rule = 'exposure-off';
  const phone = (lamp: string, camera = '') =>
    spec(`kit: kits/phone.kit.yaml
camera: { lens: main, distance: 45 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 50, white-balance: 5600 K, focus: locked${camera} }
room: { light: none }
lamps:
  panel: { temperature: 5600 K, ${lamp} }
`);

  test('adds up a near panel', () => {
    // A 30 × 20 cm panel of 1400 lx at 1 m, at 50 cm and 30° off: 1400 × 3.76 × cos 30° (configuration factor of a
    // rectangle, Siegel and Howell) = 4560 lx. ISO 2720: 250 × 1.8² × 50 ÷ 50 = 810 lx, × (1 + 0.0156)² for the distance.
    expect(messages(phone('distance: 50 cm, angle: 30°'), rule)).toEqual([
      'box: `panel` gives 4560 lx where f/1.8, 1/50 s and ISO 50 want 835 lx: 2.4 stops too bright. Turn lamps down, put a filter on the lens or lower the ISO.',
    ]);
    expect(titles(phone('distance: 50 cm, angle: 30°'), rule)).toEqual([
      'Set level of `panel` to 18 %',
      'Move `panel` to 121 cm',
    ]);
  });

  test('what ISO does alone is offered alone, and nothing is set to what it is', () => {
    // ISO 2720: 250 × 16² × 50 ÷ 800 = 4000 lx, and a little more from so near; 2 stops over that, which f/22 can't take.
    const text = spec(`room: { light: none }
lamps:
  key: { use: panel, temperature: 5000 K, measured: 17500 lx, distance: 60 cm, angle: 0°, role: key }
shots:
  box: { record: 12 s, camera: { iso: 800, aperture: f/16 } }
`);
    expect(messages(text, rule)).toHaveLength(1);
    expect(titles(text, rule)).toEqual(['Set ISO to 200 (less noise, then right)']);
  });

  test('names a key that lights the top alone, where what the camera sees is dark', () => {
    const text = spec(`kit: kits/phone.kit.yaml
camera: { lens: main, distance: 45 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 50, white-balance: 5600 K, focus: locked }
room: { light: none }
lamps:
  top: { use: panel, temperature: 5600 K, distance: 85 cm, angle: 0°, height: 88 cm, role: key }
  side: { use: panel, temperature: 5600 K, level: 10 %, distance: 90 cm, angle: 60° }
`);
    expect(messages(text, rule)).toEqual([
      expect.stringContaining(
        // Lambert's cosine law: cos 83.8° = 0.108.
        'too dark. `top` stands 84° round from what is filmed, which leaves 11 % of its light. Bring a lamp round, or turn what is filmed to it.',
      ),
    ]);
  });

  test('nothing is lost by a slant of what was measured on what is filmed', () => {
    const text = spec(`room: { light: none }
lamps:
  key: { use: panel, temperature: 5000 K, measured: 600 lx, distance: 60 cm, angle: 85°, height: 4 cm, role: key }
`);
    const [message] = messages(text, rule);
    expect(message).toContain('gives 600 lx where');
    expect(message).not.toContain('leaves');
    expect(message).toContain('Bring lamps nearer or up');
  });

  describe('words of style have an end', () => {
    // 2178 lx are right; 0.25 and 0.2 of them are 2 and 2.3 stops under, a sixteenth is 4.
    const dim = (lux: number, more: string, blocks = '') =>
      spec(`room: { light: ${lux} lx, source: window, temperature: 5000 K }
lamps: {}
${blocks}shots:
  box: { record: 12 s, on-purpose: low-key${more} }
`);
    const label = 'product: { size: 9 x 6 x 7 cm, parts: { label: { size: 40 x 15 mm, letters: 4 mm } } }\n';
    test.each([
      [500, '', '', 0],
      [150, '', '', 0],
      [130, '', '', 1],
      [600, ', subject: label', label, 0],
      [500, ', subject: label', label, 1],
      [500, '', 'brief: { must-show: [product] }\n', 1],
      [700, '', 'brief: { must-show: [product] }\n', 0],
    ])('low-key at %d lx%s', (lux, more, blocks, count) => {
      expect(messages(dim(lux, more, blocks), rule)).toHaveLength(count);
    });

    test('a silhouette has none', () => {
      expect(messages(dim(20, '').replace('low-key', 'silhouette'), rule)).toEqual([]);
    });
  });

  test('daylight is what lights a shot with a weak rim lamp', () => {
    // 2178 lx are wanted, 2.6 stops under.
    const day = (lux: number, finish = 'satin') =>
      spec(`room: { light: ${lux} lx, source: window, temperature: 5000 K }
product: { size: 9 x 6 x 7 cm, finish: ${finish} }
lamps:
  rim: { use: spot, level: 1 %, distance: 60 cm, angle: 150°, height: 20 cm, role: rim }
`);
    expect(messages(day(359), rule)[0]).toContain('2.6 stops too dark');
    expect(messages(day(20), rule)).toEqual([]);
  });

  test('what is transparent is seen by the light behind it', () => {
    const lit = (finish: string) =>
      spec(`room: { light: none }
product: { size: 9 x 6 x 7 cm, finish: ${finish} }
lamps:
  back: { use: panel, temperature: 5000 K, level: 60 %, distance: 60 cm, angle: 180°, height: 4 cm }
  front: { use: panel, temperature: 5000 K, level: 5 %, distance: 60 cm, angle: 45°, height: 40 cm }
`);
    expect(messages(lit('satin'), rule)).toHaveLength(1);
    expect(messages(lit('transparent'), rule)).toEqual([]);
  });

  test('the face that a part is said to have counts, wherever it is turned to', () => {
    // A bulb 45° left and level: of 1000 lx at 1 m the face gets cos 45° before it, and all turned to it.
    const latch = (faces: string, starts: number) =>
      messages(
        spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
product: { size: 9 x 6 x 7 cm, finish: satin, parts: { latch: { size: 10 x 4 x 12 mm, height: 35 mm, faces: ${faces} } } }
camera: { lens: normal, support: tripod, distance: 60 cm, raster: 3840x2160, rate: 25, bits: 10, shutter: 1/50 s, aperture: f/8, iso: 12800 }
room: { light: 1 lx }
lamps: { key: { use: bulb, distance: 1 m, angle: 45°, height: 35 mm } }
shots:
  box: { record: 12 s, subject: latch, turn: { starts: ${starts}° } }
`),
        rule,
        ownKit('lamps: { bulb: { output: 1000 lx at 1 m, beam: 60° } }\n'),
      ).map((one) => /gives? (\S+) lx/.exec(one)?.[1]);
    expect([latch('front', 0), latch('front', 45), latch('left', -45)]).toEqual([['708'], ['1000'], ['1000']]);
  });

  test('what lies flat is lit by what falls on its top', () => {
    // Straight above; the camera looks 30° down, which leaves less of it on a card that is turned to the lens.
    const slab = (size: string) =>
      messages(
        spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
product: { size: ${size}, finish: matte }
camera: { lens: normal, support: tripod, distance: 60 cm, height: 30 cm, raster: 3840x2160, rate: 25, bits: 10, shutter: 1/50 s, aperture: f/8, iso: 12800 }
room: { light: none }
lamps: { top: { use: bulb, distance: 1 m, angle: 0°, height: 1 m } }
`),
        rule,
        ownKit('lamps: { bulb: { output: 1000 lx at 1 m, beam: 60° } }\n'),
      ).map((one) => Number(/gives? (\S+) lx/.exec(one)?.[1]));
    expect(slab('9 x 9 x 0.2 cm')[0]).toBeCloseTo(1000, -2);
    expect(slab('9 x 9 x 6 cm')[0]).toBeLessThan(700);
  });

  test('a lamp that travels is judged where the cut ends, and is let go less far', () => {
    const walk = (angle: string, length = 10) =>
      spec(`lamps:
  walk: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: ${angle}, height: 12 cm, held: rolling-stand }
shots:
  box: { record: 12 s, lit: walk, action: { lasts: 10 s } }
cut:
  - { shot: box, length: ${length} s }
`);
    expect(messages(walk('30° to 85°'), rule)[0]).toMatch(/^box: at its end, with `walk` at 85°, .* too dark\./);
    expect(messages(walk('30° to 85°', 4), rule)).toEqual([]);
    expect(messages(walk('30° to 50°'), rule)).toEqual([]);
    expect(titles(walk('30° to 85°'), rule)[0]).toMatch(/^Let `walk` go from 30° to [67]\d°$/);
  });

  test('a word of style covers what comes near the number beside it', () => {
    const planned = (iso: number) =>
      messages(box(`iso: ${iso}, exposure: -1 stops`, ', on-purpose: low-key'), rule).length;
    expect([200, 125, 100].map(planned)).toEqual([0, 0, 1]);
  });

  test('nothing is offered for one shot that would part it from those that it meets', () => {
    const offered = (before: number) =>
      Object.keys(
        fixed(
          spec(`shots:
  crank: { record: 12 s, camera: { iso: 500 } }
  box: { record: 12 s, camera: { iso: ${before} } }
  lid: { record: 12 s, camera: { iso: 200 } }
cut:
  - { shot: crank, length: 3 s }
  - { shot: box, length: 4 s }
  - { shot: lid, length: 3 s }
`),
          rule,
        ),
      );
    expect(offered(400)[0]).toMatch(/^Set ISO to 500/);
    expect(offered(250)).toEqual([]);
  });

  test('full level is offered where it comes near enough to right', () => {
    const text = spec(`room: { light: none }
lamps:
  key: { use: panel, temperature: 5000 K, level: 30 %, distance: 60 cm, angle: 0°, height: 4 cm, role: key }
shots:
  box: { record: 12 s, camera: { aperture: f/11, iso: 200 } }
`);
    expect(titles(text, rule)[0]).toMatch(/^Set level of `key` to 100 % \(then 0\.\d stop darker than right\)$/);
  });

  describe('a part is lit from where the lamp stands before the product', () => {
    const bulb = ownKit('lamps: { bulb: { output: 1000 lx at 1 m, beam: 120°, temperature: 5000 K } }\n');
    const knob = (lamp: string, subject = 'knob') =>
      spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
product: { size: 9 x 6 x 60 cm, finish: satin, weight: 420 g, parts: { knob: { size: 2 x 2 x 2 cm, height: 58 cm } } }
camera: { lens: normal, support: tripod, distance: 60 cm, height: 58 cm, raster: 3840x2160, rate: 25, bits: 10, colour-space: bt709, shutter: 1/50 s, aperture: f/8, iso: 12800, white-balance: 5000 K, focus: locked }
room: { light: none }
lamps:
  key: { use: bulb, ${lamp} }
shots:
  box: { record: 12 s, subject: ${subject} }
`);

    test('by its own way to the lamp, and off the beam', () => {
      // 28 cm over the axis of a lamp 50 cm before it: 57.3 cm away, 29.2° off. Inverse square law, and Lambert's cosine
      // for the face and for the lamp: 1000 ÷ 0.573² × cos² 29.2° = 2318 lx.
      expect(messages(knob('distance: 50 cm, angle: 0°, height: 30 cm'), rule, bulb)[0]).toContain(
        '`key` gives 2320 lx',
      );
    });

    test('also by one that stands too low to be measured to the part itself', () => {
      const low = 'distance: 40 cm, angle: 45°, height: 5 cm';
      for (const subject of ['product', 'knob']) {
        expect(severities(knob(low, subject), 'height-beyond-distance')).toEqual([]);
        expect(messages(knob(low, subject), rule, bulb)).toHaveLength(1);
      }
    });
  });

  test.each([
    ['iso: 100', 'warning'],
    ['iso: 400', undefined],
    ['iso: 250', undefined],
    ['iso: 800', undefined],
    ['iso: 1000', 'warning'],
    ['iso: 400, exposure: 2 stops', 'warning'],
    ['iso: auto', undefined],
  ])('%s: %s', (camera, expected) => {
    expect(severities(box(camera), rule)).toEqual(expected ? [expected] : []);
  });

  test('a stop is the limit, from both sides, and the settings file can move it', () => {
    // 1910 lx against 2178 × 400 ÷ ISO: +1 stop is at ISO 912, −1 stop at ISO 228.
    expect([227, 230, 910, 915].map((iso) => messages(box(`iso: ${iso}`), rule).length)).toEqual([1, 0, 0, 1]);
    const files = { 'shootspec.yaml': 'rules:\n  exposure-off: { allow: 0.5 stops, reason: Graded late. }\n' };
    expect(messages(box('iso: 800'), rule, files)).toHaveLength(1);
  });

  test('what was measured wins over what was computed', () => {
    expect(messages(phone('distance: 50 cm, angle: 30°, measured: 835 lx'), rule)).toEqual([]);
  });

  test.each([
    ['iso: 100', 'low-key', 0],
    ['iso: 100', 'silhouette', 0],
    ['iso: 100', 'high-key', 1],
    ['iso: 3200', 'high-key', 0],
    ['iso: 3200', 'low-key', 1],
  ])('on-purpose words, each for its side: %s, %s', (camera, word, count) => {
    expect(messages(box(camera, `, on-purpose: ${word}`), rule)).toHaveLength(count);
  });

  test.each(['angle: 30°', 'distance: 50 cm, angle: 150°', 'distance: 150 cm, angle: 80°, role: rim'])(
    'is silent where the light is not known, or only draws the edge: %s',
    (lamp) => {
      expect(messages(phone(lamp), rule)).toEqual([]);
    },
  );

  test('a lamp that changes is judged by its better end', () => {
    const fading = (level: string) =>
      phone(`distance: 50 cm, angle: 30°, level: ${level}`).replace('shots:\n  box: {', 'shots:\n  box: { lit: panel,');
    const levels = ['1 % to 18 %', '1 % to 100 %', '90 % to 100 %'];
    expect(levels.map((level) => messages(fading(level), rule).length)).toEqual([0, 0, 1]);
  });

  test('a lamp that changes and is named nowhere leaves the set dark', () => {
    expect(messages(phone('distance: 50 cm, angle: 30°, level: 10 % to 18 %'), rule)[0]).toContain('no lamp is lit');
  });

  test('every fix clears it', () => {
    for (const text of [box('iso: 3200'), box('iso: 100'), phone('distance: 50 cm, angle: 30°')]) {
      const fixes = Object.values(fixed(text, rule));
      expect(fixes.length).toBeGreaterThan(1);
      for (const one of fixes) expect(messages(one, rule)).toEqual([]);
    }
  });

  test('where one change is not enough, ISO goes to its base first', () => {
    expect(titles(box('iso: 12800, aperture: f/4'), rule).join()).toMatch(/Set ISO to 200 and /);
  });

  test('a level is only offered where the other shots under the lamps stay right', () => {
    const text = spec(`shots:
  box: { record: 12 s }
  dark: { record: 12 s, camera: { iso: 200, aperture: f/11 } }
cut:
  - { shot: box, length: 10 s }
`);
    expect(titles(text, rule).filter((title) => title.includes('level'))).toEqual([]);
  });
});

describe('iso-off-base', () => {
  const rule = 'iso-off-base';
  const silentKit = { 'kits/camera.kit.yaml': kits['kits/camera.kit.yaml']!.replace(/^\s+noisy-above.*\n/m, '') };
  /** Light that is right for the ISO, so that the exposure stays silent. */
  const lit = (iso: number, more = '', cut = '') =>
    spec(`room: { light: ${Math.round((2178 * 400) / iso)} lx, source: window, temperature: 5000 K }
lamps: {}
shots:
  box: { record: 12 s, camera: { iso: ${iso} }${more} }
cut:
  - { shot: box, length: 10 s${cut} }
`);

  // 4000 electrons × 10 ÷ ISO × (17.3 mm ÷ 1920)²: 23 at ISO 6400 (ISO 12232; the 4000 are an estimate, from memory).
  test.each([
    [200, []],
    [640, []],
    [800, []], // two stops over, but 65
    [1600, []], // 45
    [3200, []], // the kit calls it noisy above that
    [4000, ['warning']],
    [100, ['info']],
  ])('ISO %i', (iso, expected) => {
    expect(severities(lit(iso), rule)).toEqual(expected);
  });

  test.each([
    [3200, []], // 32
    [4000, ['info']], // 29
    [6400, ['info']], // 23
    [8000, ['warning']], // 20
  ])('by the estimate where the kit says nothing: ISO %i', (iso, expected) => {
    expect(severities(lit(iso), rule, silentKit)).toEqual(expected);
  });

  test('says the noise, or what the kit says', () => {
    expect(messages(lit(6400), rule)[0]).toBe(
      'box: ISO 6400 is 5 stops over the base of 200, and the kit calls it noisy above 3200. More light or a wider aperture allows less.',
    );
    expect(messages(lit(6400), rule, silentKit)[0]).toContain('middle grey is about 23 times its noise in a picture');
  });

  test('zooming in brings the noise nearer', () => {
    const zoomed = (cut: string) => severities(lit(2500, '', cut), rule, silentKit);
    expect([zoomed(''), zoomed(', zoom: 1.5')]).toEqual([[], ['info']]);
  });

  test('grain on purpose, and the fixes', () => {
    expect(messages(lit(6400, ', on-purpose: grain'), rule)).toEqual([]);
    expect(mends(lit(6400), rule)).toEqual(['Set ISO to 3200 and aperture to f/5.6 (as bright, shallower focus)']);
  });

  test('yields to an exposure that is off', () => {
    expect(messages(box('iso: 6400'), rule)).toEqual([]);
    expect(messages(box('iso: 6400'), 'exposure-off')).toHaveLength(1);
  });
});

describe('light-uneven-across-product', () => {
  const rule = 'light-uneven-across-product';
  const spot = (place: string, more = '') =>
    spec(`product: { size: 7 x 7 x 7 cm, finish: satin }
camera: { lens: normal, distance: 60 cm, height: 3.5 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 200, white-balance: 5600 K, focus: locked }
room: { light: none }
lamps:
  key: { use: spot, level: 10 %, ${place} }
shots:
  box: { record: 12 s${more} }
`);

  test('a lamp at the side, near', () => {
    // Inverse square over 7 cm: log2((20 + 3.5)² ÷ (20 − 3.5)²) = 1.02 stops at 20 cm, 0.4 at 50 cm (beam of 55°).
    expect(messages(spot('distance: 20 cm, angle: 89°, height: 3.5 cm, role: key'), rule)).toEqual([
      'box: `key` at 20 cm is so near that, all light together, one side of the product gets 1 stop more than the other, 70 mm farther from it. At 41 cm its own light differs by half a stop.',
    ]);
    // log2((27 + 3.5)² ÷ (27 − 3.5)²) = 0.75.
    expect(messages(spot('distance: 27.5 cm, angle: 89°, height: 3.5 cm, role: key'), rule)).toEqual([]);
  });

  test('of corners, it says how much farther from the lamp one is than the other', () => {
    const text = spec(`product: { size: 120 x 1 x 60 cm, finish: satin }
camera: { lens: normal, distance: 250 cm, height: 30 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 200, white-balance: 5600 K, focus: locked }
room: { light: none }
lamps:
  key: { use: spot, distance: 150 cm, angle: 60°, height: 105 cm, role: key }
`);
    // Geometry: the lamp is at (-112.5, 75, -65) from the middle, 94.9 cm from the corner (-60, 30, 0) and 212.1 cm from (60, -30, 0).
    expect(messages(text, rule)[0]).toContain('the near corner of the product gets');
    expect(messages(text, rule)[0]).toContain('more than the opposite one, 118 cm farther from it.');
  });

  test('what the room gives at the dark end counts', () => {
    // 600 lx of room light beside the few that fall on the front at so flat an angle.
    const key = spot('distance: 20 cm, angle: 89°, height: 3.5 cm, role: key');
    expect(messages(key.replace('light: none', 'light: 600 lx'), rule)).toEqual([]);
  });

  test('from top to bottom it is said so, and no lamp is sent out of the room', () => {
    const text = spec(`product: { size: 40 x 250 x 30 cm, finish: satin }
camera: { lens: normal, distance: 4 m, height: 125 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 200, white-balance: 5600 K, focus: locked }
room: { light: none }
lamps:
  key: { use: spot, level: 100 %, distance: 2.8 m, angle: 20°, height: 300 cm, role: key }
`);
    expect(messages(text, rule)[0]).toMatch(
      /the top of the product gets .* than its other end, .*Bring it level with the middle/,
    );
    expect(fixed(text, rule)).toEqual({});
  });

  test('at a window a stop from top to bottom is the light that it gives', () => {
    const chair = (distance: string) =>
      spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
product: { size: 60 x 80 x 110 cm, finish: satin }
camera: { lens: normal, distance: 4 m, height: 75 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/2, iso: 400, white-balance: 5600 K, focus: locked }
room: { light: 40 lx, source: window, temperature: 6000 K }
lamps:
  light: { use: pane, distance: ${distance}, angle: 40°, height: 190 cm, role: key }
`);
    const own = (kind: string) =>
      ownKit(`lamps:\n  pane: { ${kind}output: 2050 lx at 1 m, temperature: 6000 K, size: 120 x 140 cm }\n`);
    expect(messages(chair('200 cm'), rule, own(''))).toEqual([expect.stringContaining('the top of the product gets')]);
    expect(messages(chair('200 cm'), rule, own('kind: window, '))).toEqual([]);
  });

  test.each([
    ['straight in front', spot('distance: 20 cm, angle: 0°, height: 3.5 cm, role: key')],
    ['a rim', spot('distance: 15 cm, angle: 80°, height: 3.5 cm, role: rim')],
    ['what is meant', spot('distance: 15 cm, angle: 80°, height: 3.5 cm, role: key', ', on-purpose: uneven-light')],
    ['a long tube', spot('distance: 20 cm, angle: 89°, height: 3.5 cm, role: key').replace('use: spot', 'use: tube')],
  ])('%s is even enough', (_, text) => {
    expect(messages(text, rule)).toEqual([]);
  });

  test('the fix clears it and keeps the light', () => {
    const text = spot('distance: 20 cm, angle: 70°, height: 3.5 cm, role: key').replace('distance: 20', 'distance: 18');
    expect(mends(text, rule)).toEqual([
      expect.stringMatching(/^Move `key` to \d+ cm and set its level to \d+ % \(as bright\)$/),
    ]);
  });
});

describe('lamp-ratio-off', () => {
  const rule = 'lamp-ratio-off';
  const lamps = (key: number, fill: number, ratio = '') =>
    spec(`${ratio && `key-to-fill: ${ratio}\n`}lamps:
  main: { use: panel, measured: ${key} lx, distance: 60 cm, angle: 45°, role: key }
  soft: { use: panel, level: 50 %, measured: ${fill} lx, distance: 60 cm, angle: 315°, role: fill }
`);

  // log2(980 ÷ 690) = 0.51 stop; log2(980 ÷ 245) = 2 stops, 4:1.
  test.each([
    [980, 690, '2 stops', 1],
    [980, 245, '2 stops', 0],
    [980, 346, '2 stops', 0], // 1.5
    [980, 350, '2 stops', 1],
    [980, 173.5, '2 stops', 0], // 2.5
    [980, 168, '2 stops', 1], // 172 lx with the room's 4, which a meter toward the fill reads too
    [980, 690, '', 0],
    [690, 980, '', 1],
    [690, 980, '-0.5 stops', 0],
  ])('key %d lx, fill %d lx, planned %s: %i', (key, fill, ratio, count) => {
    expect(messages(lamps(key, fill, ratio), rule)).toHaveLength(count);
  });

  test('of a part that is nearer to one of them it is the front of the product that counts', () => {
    // Key 70° and fill 20° round: upright, cos 70° ÷ cos 20° take 1.5 stops of the 2 between them. 25 cm higher the key is farther off.
    const crest = (ratio: string) =>
      spec(`key-to-fill: ${ratio}
product: { size: 9 x 6 x 60 cm, finish: satin, parts: { crest: { size: 4 x 2 cm, height: 55 cm, faces: front } } }
lamps:
  key: { use: panel, temperature: 5000 K, level: 60 %, distance: 80 cm, angle: 70° left, height: 10 cm, role: key }
  fill: { use: panel, temperature: 5000 K, level: 15 %, distance: 80 cm, angle: 20° right, height: 60 cm, role: fill }
shots:
  crest: { record: 12 s, subject: crest, camera: { height: 55 cm, distance: 60 cm } }
`);
    expect(messages(crest('0.8 stops'), rule)).toEqual([]);
    expect(messages(crest('3 stops'), rule)).toHaveLength(1);
  });

  test('says both, and what the fill should give', () => {
    expect(messages(lamps(980, 690, '2 stops'), rule)).toEqual([
      'box: measured toward each lamp, `main` gives 980 lx and `soft` 690 lx, 0.5 stop apart where the plan says 2 stops. `soft` should give 245 lx.',
    ]);
  });

  test('the nearest plan counts: shot, set-up, film', () => {
    const text = lamps(980, 245, '1 stop').replace('box: {', 'box: { key-to-fill: 2 stops,');
    expect(messages(text, rule)).toEqual([]);
  });

  test('the fix changes the fill', () => {
    const text = spec(`key-to-fill: 2 stops
lamps:
  main: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, role: key }
  soft: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 315°, role: fill }
`);
    expect(mends(text, rule)).toEqual(['Set level of `soft` to 10 %']);
  });
});

describe('exposure-jumps-at-cut', () => {
  const rule = 'exposure-jumps-at-cut';
  const order = (...shots: string[]) =>
    spec(`lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm to 100 cm, angle: 45°, height: 40 cm, role: key, held: slider }
  still: { moved-from: key, distance: 60 cm }
shots:
  box: { record: 12 s, lit: key, action: { lasts: 5 s }, camera: { aperture: f/5 } }
  lid: { record: 12 s, lit: still, camera: { aperture: f/5 } }
cut: [${shots.map((shot) => `{ shot: ${shot}, length: 5 s }`).join(', ')}]
`);

  test('holds the end of a move against the start of the next shot', () => {
    // From 60 to 100 cm a panel of 40 x 30 cm loses 1.2 stops (2 log2(100 / 60) = 1.5 for a point): as bright where it starts.
    expect(messages(order('lid', 'box'), rule)).toEqual([]);
    expect(messages(order('box', 'lid'), rule)).toEqual([
      'From `box` (0.3 stop too dark) to `lid` (0.9 stop too bright) the picture jumps by 1.2 stops. Set them alike, so that no grade has to.',
    ]);
  });
});

describe('backdrop-tone-off', () => {
  const rule = 'backdrop-tone-off';
  const tone = (word: string, wall: number, more = '') =>
    spec(`room: { light: 2178 lx, source: window, temperature: 5000 K }
lamps:
  wash: { use: panel, aim: backdrop, measured: ${wall} lx, distance: 80 cm, angle: 40°, role: backdrop }
backdrop: { material: paper, tone: ${word}, size: 200 x 200 cm, behind: 70 cm${more} }
`);

  // The product gets what the settings want, 2178 lx; log2(E × 0.85 ÷ (2178 × 0.18)) = +2.24 at the same light (ISO 2720).
  test.each([
    ['white', 0.01, '', 0],
    ['white', 0.01, ', reflects: 52 %', 0], // +1.53
    ['white', 0.01, ', reflects: 47 %', 1], // +1.38
    ['mid', 0.01, '', 0],
    ['mid', 3800, '', 0], // +1.46
    ['mid', 4100, '', 1], // +1.53
    ['black', 0.01, '', 0], // −2.6
    ['black', 300, '', 1], // −2.4
    ['black', 0.01, ', reflects: 2 %', 0], // −3.2
    ['white', 0.01, ', colour: "#8a8a8a"', 1],
  ])('%s under 2178 + %d lx%s: %i', (word, wall, more, count) => {
    expect(messages(tone(word, wall, more), rule)).toHaveLength(count);
  });

  test('leaves it to the exposure where that is what is off', () => {
    const dim = tone('mid', 0.01, ', reflects: 18 %').replace('light: 2178 lx', 'light: 600 lx');
    expect(messages(dim, rule)).toEqual([]);
    expect(messages(dim, 'exposure-off')).toHaveLength(1);
  });

  test('says what it comes out as', () => {
    expect(messages(tone('white', 0.01, ', reflects: 35 %'), rule)).toEqual([
      'box: the backdrop gets 2180 lx and gives back 35 %: it comes out 1 stop over middle grey, not white. For that it needs 4480 lx.',
    ]);
  });

  test('a white wall on which no light falls comes out black', () => {
    const dark = (lamp: string) =>
      spec(`room: { light: none }
lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 180°, height: 40 cm }
${lamp}backdrop: { material: paper, tone: white, size: 200 x 200 cm, behind: 20 cm }
`);
    expect(messages(dark(''), rule)[0]).toMatch(
      /^box: no light falls on the front of the backdrop, so it comes out black/,
    );
    // To be dark on purpose is not to be without any light.
    expect(messages(`on-purpose: low-key\n${dark('').replace('tone: white', 'tone: mid')}`, rule)[0]).toContain(
      'no light falls',
    );
    // Of what comes through from behind nobody knows how much it is.
    const wash = '  wash: { use: panel, aim: backdrop, distance: 80 cm, angle: 180°, role: backdrop }\n';
    expect(messages(dark(wash).replace('paper', 'tracing paper'), rule)).toEqual([]);
    // Nobody has said how dark the room is.
    expect(messages(dark('').replace('room: { light: none }', 'room: {}'), rule)).toEqual([]);
  });

  test('is hung farther back only where the picture then reaches no farther past it', () => {
    const far = (size: string) =>
      spec(`backdrop: { material: paper, tone: black, reflects: 9 %, size: ${size}, behind: 60 cm }\n`);
    const [title, after] = Object.entries(fixed(far('600 x 600 cm'), rule))[0]!;
    expect(title).toMatch(/^Hang the backdrop \d+ cm behind the product$/);
    expect(messages(after, rule)).toEqual([]);
    // Its edges are in the picture as it hangs: farther back more of them would be.
    expect(messages(far('60 x 60 cm'), 'backdrop-edge-in-shot')).toHaveLength(1);
    expect(messages(far('60 x 60 cm'), rule)).toHaveLength(1);
    expect(fixed(far('60 x 60 cm'), rule)).toEqual({});
  });

  test('needs the place of the backdrop, and a plan', () => {
    const without = (what: string) => messages(tone('white', 0.01, ', reflects: 35 %').replace(what, ''), rule);
    expect([...without(', behind: 70 cm'), ...without('tone: white, ')]).toEqual([]);
  });
});

describe('screen-tone-off', () => {
  const rule = 'screen-tone-off';
  const screen = (settings: string, brightness: string, lux = '0.1 lx') =>
    spec(`kit: [kits/phone.kit.yaml, kits/tv.kit.yaml]
camera: { lens: main, distance: 500 m, raster: 3840x2160, rate: 25, shutter: 1/50 s, white-balance: 5000 K, focus: 500 m, meter: backdrop, ${settings} }
room: { light: ${lux}, source: window }
lamps: {}
backdrop: { use: tv, behind: 70 cm, refresh: 50 Hz, brightness: ${brightness} }
`);
  const files = {
    'kits/tv.kit.yaml': 'title: A screen\nscreens:\n  tv: { size: 60 x 34 cm, refresh: 50 Hz, white: 250 cd/m² }\n',
  };

  test('a white that burns', () => {
    // Mid-grey 12.5 × 1.8² × 50 ÷ 50 = 40.5 cd/m² (ISO 2720, K = 12.5); log2(250 ÷ 40.5) = 2.63.
    expect(messages(screen('iso: 50', '100 %'), rule, files)).toEqual([
      'box: the white of `tv`, 250 cd/m², comes out 2.6 stops over middle grey and burns out. At 64 % it is 2 stops over.',
    ]);
    expect(messages(screen('iso: 50', '65 %'), rule, files)).toEqual([]);
    mends(screen('iso: 50', '100 %'), rule, files);
  });

  test('a white that is muddy', () => {
    // −0.85 and −1.02 stops.
    const found = (brightness: string) => messages(screen('iso: 50', brightness), rule, files).length;
    expect(['9 %', '8 %', '0 %'].map(found)).toEqual([0, 1, 0]);
  });

  test('lamp light that washes it out', () => {
    // Ambient contrast ratio, (W + R) ÷ (W/1000 + R) with R = E × 0.03 ÷ π (IDMS, from memory; 3 % and 1000:1 are practice).
    expect(messages(screen('iso: 50', '70 %', '1260 lx'), rule, files)[0]).toContain('leaves 15:1');
    // 250 × 5 % = 12.5: (12.5 + 7.5) ÷ (0.01 + 7.5); what the lamps put on the white counts too.
    expect(messages(screen('iso: 50', '5 %', '784 lx'), rule, files)[0]).toContain('leaves 2.7:1');
    expect(messages(screen('iso: 50', '70 %', '890 lx'), rule, files)).toEqual([]);
  });

  test('high key and low key explain white and dark', () => {
    const said = (brightness: string, word: string) =>
      messages(screen('iso: 50', brightness).replace('box: {', `box: { on-purpose: ${word},`), rule, files);
    expect([...said('100 %', 'high-key'), ...said('5 %', 'low-key')]).toEqual([]);
  });
});

describe('coloured-light-clips', () => {
  const rule = 'coloured-light-clips';
  const tube = (colour: string, camera = '') =>
    spec(`room: { light: none }
lamps:
  night: { use: panel, colour: "${colour}", level: 50 %, measured: 2178 lx, distance: 60 cm, angle: 45°, role: key }
shots:
  box: { record: 12 s, camera: { iso: 400${camera} } }
`);

  // log2(1 ÷ weight), ITU-R BT.709: blue 0.0722 → 3.8, red 0.2126 → 2.2, green 0.7152 → 0.5.
  test.each([
    ['#0000ff', 'blue channel comes out 3.8 stops'],
    ['#ff0000', 'red channel comes out 2.2 stops'],
    ['#00ff00', undefined],
    ['#ffffff', undefined],
    ['#ffb060', undefined],
  ])('%s: %s', (colour, words) => {
    const found = messages(tube(colour), rule);
    if (words) expect(found[0]).toContain(words);
    else expect(found).toEqual([]);
  });

  test('log holds more', () => {
    const found = (colour: string) => messages(tube(colour, ', colour-space: log'), rule).length;
    expect([found('#ff0000'), found('#0000ff')]).toEqual([0, 1]);
  });

  test('offers a level, and what a meter reads then', () => {
    expect(mends(tube('#0000ff'), rule)).toEqual([
      'Set level of `night` to 14 %, which gives 610 lx (its channel 2 stops over middle grey)',
    ]);
  });

  test('says nothing of a colour whose light nobody measured', () => {
    // Of 500 lx of white a lamp of three colours gives 36 in blue (weights of ITU-R BT.709).
    expect(messages(tube('#0000ff').replace(', measured: 2178 lx', ''), rule)).toEqual([]);
  });

  test('light that is only weak for a meter is not called too dark', () => {
    expect(messages(tube('#0000ff').replace('measured: 2178 lx', 'measured: 600 lx'), 'exposure-off')).toEqual([]);
  });
});

describe('polariser-works-against-shot', () => {
  const rule = 'polariser-works-against-shot';
  const table = (height: string, blocks = '') =>
    spec(`surface: { material: acrylic, finish: glossy, size: 60 x 40 cm, height: 75 cm }
${blocks}shots:
  box: { record: 12 s, camera: { filters: polariser, distance: 100 cm, height: ${height}, iso: 1250 } }
`);

  // Fresnel's equations at an index of 1.49: 31 % is left from 10°, 21 % from 15°, 13 % from 20°, 0 from 34°.
  test.each([
    ['21 cm', 'from 10° above the glossy surface `polariser` leaves at best 31 %'],
    ['29.4 cm', 'from 15° above the glossy surface `polariser` leaves at best 21 %'],
    ['37.7 cm', undefined], // 20°
    ['59.4 cm', undefined], // 34°
    ['3.5 cm', undefined], // level: the table is not seen from above
  ])('from %s: %s', (height, words) => {
    const found = messages(table(height), rule);
    if (words) expect(found[0]).toContain(words);
    else expect(found).toEqual([]);
  });

  test('bare metal has nothing to clear', () => {
    const metal = 'product: { size: 9 x 6 x 7 cm, finish: metallic }\n';
    const text = table('40 cm', metal).replace('finish: glossy', 'finish: matte');
    expect(messages(text, rule)[0]).toContain('clears nothing from bare metal');
    expect(messages(table('40 cm', metal), rule)).toEqual([]);
  });

  test('an LCD goes black', () => {
    const files = {
      'kits/tv.kit.yaml': 'title: A screen\nscreens:\n  tv: { size: 60 x 34 cm, refresh: 50 Hz, panel: lcd }\n',
    };
    const text = table(
      '40 cm',
      'kit: [kits/camera.kit.yaml, kits/tv.kit.yaml]\nbackdrop: { use: tv, behind: 70 cm }\n',
    );
    expect(messages(text, rule, files)[0]).toContain('the light of `tv` is polarised');
    expect(messages(text, rule, { 'kits/tv.kit.yaml': files['kits/tv.kit.yaml'].replace('lcd', 'oled') })).toEqual([]);
  });

  test('every fix clears it', () => {
    expect(mends(table('21 cm'), rule)).toEqual([
      'Set height to 59 cm (34° above the surface)',
      'Leave `polariser` off and set ISO to 400 (0.1 stop darker)',
    ]);
  });

  // f/8, 1/50 s, ISO 200 want 4000 lx (ISO 2720, C = 250), 12000 lx behind a polariser of 1.5 stops.
  test('at the base ISO, in light that wants its loss, a neutral filter stands in its place', () => {
    const kit =
      'kit: [kits/camera.kit.yaml, kits/own.kit.yaml]\nroom: { light: 12000 lx, temperature: 5000 K }\nlamps: {}\n';
    const bright = table('21 cm', kit).replace('iso: 1250', 'iso: 200');
    const nd = ownKit('title: A filter\nfilters:\n  nd-2: { loses: 2 stops }\n');
    expect(titles(bright, rule, nd)).toContain('Put `nd-2` in the place of `polariser` (0.5 stop darker)');
    expect(titles(bright, rule, ownKit('title: None\n')).filter((title) => title.startsWith('Leave'))).toEqual([]);
  });
});

describe('one lamp that is too weak for several shots', () => {
  const rule = 'exposure-off';
  const film = (key: string, side = 'iso: 320, distance: 45 cm') =>
    spec(`lamps:
  key: { use: panel, temperature: 5000 K, ${key}, height: 40 cm, role: key }
shots:
  box: { record: 12 s }
  side: { record: 12 s, camera: { ${side} } }
cut:
  - { shot: box, length: 5 s }
  - { shot: side, length: 5 s }
`);
  const weak = film('level: 20 %, distance: 120 cm, angle: 65°');

  test('is said once, at the lamp, and mended for all of them alike', () => {
    expect(marked(weak, rule)).toEqual(['key']);
    expect(findings(weak, rule).map((one) => one.shots?.toSorted())).toEqual([['box', 'side']]);
    expect(messages(weak, rule)[0]).toContain('Both shots under `key` are too dark.');
    mends(weak, rule);
  });

  test('goes too far in none of them', () => {
    // From f/8, 2.9 stops are f/2.9; of them 2.4, to f/3.5, are enough where ISO 800 leaves less to mend (2 × log2 of the f-numbers).
    const text = film('level: 20 %, distance: 120 cm, angle: 55°', 'iso: 800, distance: 45 cm');
    expect(titles(text, rule)).toContain('Set aperture to f/2.8 in `box` and f/3.5 in `side`');
  });

  test('is not what tells a single shot apart from the others', () => {
    const text = film('level: 60 %, distance: 60 cm, angle: 45°', 'iso: 100');
    expect(marked(text, rule)).toEqual(['100']);
    expect(messages(text, rule)[0]).not.toContain('under `key`');
  });
});

describe('exposure-off and what else is wrong', () => {
  const rule = 'exposure-off';

  test('a value that the kit does not have is its own finding', () => {
    const not = ['iso: 25600', 'aperture: f/1', 'shutter: 1/20 s'];
    expect(not.flatMap((setting) => messages(box(setting), rule))).toEqual([]);
  });

  test('a shutter that is to blame speaks alone, unless it is meant', () => {
    const spin = (words: string) =>
      spec(`shots:
  spin: { record: 12 s, camera: { shutter: 1/500 s }, turn: { speed: 0.5 rpm }${words} }
cut:
  - { shot: spin, length: 10 s }
`);
    expect(messages(spin(''), rule)).toEqual([]);
    expect(messages(spin(''), 'shutter-off-half-frame')).toHaveLength(1);
    expect(messages(spin(', on-purpose: staccato-motion'), rule)).toHaveLength(1);
  });

  test('no way goes under the base ISO of 200', () => {
    const offered = titles(box('iso: 500, aperture: f/4'), rule);
    expect(offered).not.toEqual([]);
    expect(offered.filter((title) => Number(/ISO to (\d+)/.exec(title)?.[1] ?? 200) < 200)).toEqual([]);
  });

  // f/13 wants ISO 1250 in the light of the base spec, 0.3 stop over a second base of 1000 (common practice, no source).
  test('the second base is taken where it is near', () => {
    const kit = kits['kits/camera.kit.yaml']!.replace('base-iso: 200', 'base-iso: [200, 1000]');
    const offered = (files: Record<string, string>) => titles(box('iso: 400, aperture: f/13'), rule, files).join();
    expect(offered({ 'kits/camera.kit.yaml': kit })).toContain('Set ISO to 1000 (more noise');
    expect(offered({})).toContain('Set ISO to 1250 (more noise');
  });

  test('metered for a screen, its white is held against the plan', () => {
    // ISO 2720, K = 12.5: f/8, 1/50 s, ISO 400 put 100 cd/m² at middle grey, so 250 cd/m² lie 1.3 stops over
    // it, less 0.1 that the lens loses at a magnification of 0.04.
    const screen = (exposure: string) =>
      spec(`backdrop: { use: monitor, behind: 70 cm, picture: still, refresh: 50 Hz }
shots:
  box: { record: 12 s, camera: { meter: backdrop, exposure: ${exposure} } }
`);
    expect(messages(screen('+1 stop'), rule)).toEqual([]);
    expect(messages(screen('-1 stop'), rule)[0]).toContain(
      'whose white, 250 cd/m², comes out 1.2 stops over middle grey where -1 stop is planned: 2.2 stops too bright',
    );
  });
});

describe('light through a backdrop', () => {
  const glow = (fields: string) => ({
    files: ownKit('lamps: { cob: { output: 9000 lx at 1 m, beam: 55°, size: 1 x 1 cm } }\n'),
    text: spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
backdrop: { material: tracing paper, size: 200 x 200 cm, behind: 45 cm, tone: white }
lamps:
  glow: { use: cob, aim: backdrop, distance: 70 cm, angle: 180°${fields}, role: backdrop }
`),
  });

  test('a beam of 55° leaves half of its intensity 27.5° off, and 0.5 · cos³ 27.5° = 0.349 of its light on the paper', () => {
    const { files, text } = glow(', measured: 2000 lx');
    const shot = [...checkSpec(text, files).film!.shots.values()][0]!;
    const at = (x: number) => backdropLightAt(shot, 0, { x, y: shot.productMiddleMm, z: 450 })!.lamps[0]!.lux;
    // 70 cm · tan 27.5° = 36.4 cm.
    expect(at(364.4) / at(0)).toBeCloseTo(0.349, 2);
    expect(at(-364.4)).toBeCloseTo(at(364.4), 6);
  });

  test('how much comes through is not known where nobody measured it', () => {
    const { files, text } = glow('');
    expect(messages(text, 'backdrop-uneven', files)).toEqual([]);
  });
});
