import { describe, expect, test } from 'vitest';
import { fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const turning = (camera: string, more = '') =>
  spec(
    `shots:\n  spin: { record: 12 s, camera: { ${camera} }, turn: { speed: 2 rpm }${more} }\ncut:\n  - { shot: spin, length: 10 s }\n`,
  );

/** A room lit by LED bulbs on mains and nothing else. */
const bulbs = (blocks: string) =>
  spec(`room: { light: 2200 lx, source: mains-lamps, temperature: 5000 K }\nlamps: {}\n${blocks}`);
const wide = (camera: string) =>
  `shots:\n  wide: { record: 12 s, camera: { ${camera} } }\ncut:\n  - { shot: wide, length: 10 s }\n`;

describe('shutter-off-half-frame', () => {
  const rule = 'shutter-off-half-frame';

  test('a piece that steps over frames is not mended by a rate at which it still does', () => {
    // Every 8th frame of 50 at 400 %: 1/100 s is 22.5°. At 25 it is every 4th, and 1/50 s would be 45°.
    const text = spec(`shots:
  spin: { record: 60 s, turn: { speed: 2 rpm }, camera: { rate: 50, shutter: 1/100 s } }
cut:
  - { shot: spin, length: 10 s, speed: 400 % }
`);
    expect(messages(text, rule)[0]).toContain('1/100 s at 50, played at 400 % in a 25 film, is 22.5°');
    expect(fixed(text, rule)).toEqual({});
  });

  // 180° and its angles: published conversion tables of shutter angle; the window of 40° is common practice, no source.
  test.each([
    ['rate: 25, shutter: 1/60 s', 0], // 150°, published for 25 frames/s under 60 Hz
    ['rate: 24, shutter: 1/50 s', 0], // 172.8°, published for 24 frames/s under 50 Hz
    ['rate: 23.976, shutter: 1/60 s', 0], // 143.9°
    ['rate: 30, shutter: 1/50 s', 0], // 216°
    ['rate: 25, shutter: 140°', 0],
    ['rate: 25, shutter: 139.9°', 1],
    ['rate: 25, shutter: 220°', 0],
    ['rate: 25, shutter: 220.1°', 1],
    ['rate: 25, shutter: 1/30 s', 1],
  ])('%s of a turning box: %i', (camera, count) => {
    const deliver = /rate: ([\d.]+)/.exec(camera)![1]!;
    const text = turning(camera).replace('rate: 25, length', `rate: ${deliver}, length`);
    expect(messages(text, rule)).toHaveLength(count);
  });

  test('says the angle, and the shutter that is half a frame', () => {
    expect(messages(turning('shutter: 1/200 s'), rule)).toEqual([
      'spin: 1/200 s at 25 is 45° where 180° is usual: what moves will stutter. 180° is 1/50 s.',
    ]);
  });

  test('steps that do not judder are a note, those of less than a pixel nothing', () => {
    // A face 6 cm from the axis (the box is 12 cm deep), 4.6 pixels for each mm: 2π · 60 · rpm / 60 / 25 · 4.6.
    const at = (speed: string) =>
      severities(
        spec(
          `shots:\n  spin: { record: 12 s, camera: { shutter: 1/200 s, iso: 1600 }, turn: { speed: ${speed} } }\ncut:\n  - { shot: spin, length: 10 s }\n`,
        ),
        rule,
      );
    expect(['0.5 rpm', '2 rpm', '8 rpm', '20 rpm'].flatMap((speed) => [at(speed)])).toEqual([
      [],
      ['info'],
      ['info'],
      ['warning'],
    ]);
    expect(messages(turning('shutter: 1/200 s, iso: 1600'), rule)[0]).toContain(
      'what moves goes 2 pixels a frame in `film` and stutters a little.',
    );
    // Nobody says how fast hands go.
    expect(severities(turning('shutter: 1/200 s, iso: 1600', ', people: hands'), rule)).toEqual(['warning']);
  });

  test('is silent when nothing moves, and about a shutter left to the camera', () => {
    expect(messages(spec('shots:\n  box: { record: 12 s, camera: { shutter: 1/500 s } }\n'), rule)).toEqual([]);
    expect(messages(turning('shutter: auto'), rule)).toEqual([]);
  });

  test('judges frames that are skipped by the step that the viewer sees', () => {
    // 1/100 s at 50 is 180° there, but 90° in a film that shows every second frame.
    expect(messages(turning('rate: 50, shutter: 1/100 s'), rule)).toEqual([
      'spin: 1/100 s at 50, played at 100 % in a 25 film, is 90° where 180° is usual: what moves will stutter. 180° is 1/50 s.',
    ]);
    expect(
      messages(
        spec(
          'shots:\n  spin: { record: 12 s, camera: { rate: 50, shutter: 1/100 s }, turn: { speed: 2 rpm } }\ncut:\n  - { shot: spin, length: 10 s, speed: 50 % }\n',
        ),
        rule,
      ),
    ).toEqual([]);
  });

  test('played a little fast it hops alike, whichever rate gives the steps', () => {
    const fast = (camera: string) =>
      spec(
        `shots:\n  spin: { record: 20 s, camera: { ${camera} }, turn: { speed: 2 rpm } }\ncut:\n  - { shot: spin, length: 10 s, speed: 150 % }\n`,
      );
    expect(messages(fast('shutter: 1/50 s'), rule)).toEqual([]);
    expect(messages(fast('rate: 50, shutter: 1/50 s'), rule)).toEqual([]);
    expect(messages(fast('rate: 50, shutter: 1/100 s'), rule)).toHaveLength(1);
  });

  test('staccato and frozen motion explain a short shutter, smeared motion a long one', () => {
    const said = (word: string) =>
      ['1/200 s', '1/25 s'].map((one) => messages(turning(`shutter: ${one}`, `, on-purpose: ${word}`), rule).length);
    expect(said('staccato-motion')).toEqual([0, 1]);
    expect(said('smeared-motion')).toEqual([1, 0]);
  });

  test('one finding where several shots take the shutter over, and one fix in its place', () => {
    const shots = `shots:
  left: { record: 12 s, turn: { speed: 2 rpm } }
  right: { record: 12 s, turn: { speed: 1 rpm } }
cut:
  - { shot: left, length: 5 s }
  - { shot: right, length: 5 s }
`;
    const text = spec(shots).replace('shutter: 1/50 s', 'shutter: 1/250 s');
    expect(messages(text, rule)).toEqual([
      'left and right: 1/250 s at 25 is 36° where 180° is usual: what moves will stutter. 180° is 1/50 s.',
    ]);
    expect(Object.values(fixed(text, rule))[0]).toContain('shutter: 1/50 s\n');
  });

  test('a fix that brightens by stops lets ISO pay, and clears the finding', () => {
    expect(mends(turning('shutter: 1/200 s, iso: 1600'), rule)).toEqual([
      'Set shutter to 1/50 s and ISO to 500 (180°, flicker-free at 50 Hz, 0.3 stop brighter)',
    ]);
  });

  test('where no shutter reaches half a frame, recording at the rate of the film does', () => {
    expect(
      mends(turning('rate: 60, shutter: 1/250 s').replace('rate: 25, length', 'rate: 24, length'), rule)[0],
    ).toContain('Set rate to 24 and shutter to 1/50 s');
  });
});

describe('mains-light-flickers', () => {
  const rule = 'mains-light-flickers';

  test('says swing, beat and bands', () => {
    // |sin(πFt) ÷ (πFt)| for 1/50 s under 120 Hz is 12.61 %; times 2 × 30 % ripple. 120 Hz beats 5 times a second at 25.
    expect(messages(bulbs(`region: US\n${wide('shutter: 1/50 s')}`), rule)).toEqual([
      "wide: 1/50 s under 60 Hz mains makes the picture's brightness swing by 7.6 % (0.11 stop) in about 2 bands, 5 times a second: the room's lamps pulse 120 times a second, by 30 % either way (usual, not stated in the kit). 1/60 s holds 2 whole pulses and is steady (150°).",
    ]);
  });

  test.each(['100 %', '100 % to 0 %', '0 % to 100 %'])('a bulb at %s', (level) => {
    const bulb = {
      'kits/bulb.kit.yaml':
        'lamps: { bulb: { output: 800 lx at 1 m, temperature: 3000 K, pulses: mains, kind: led } }\n',
    };
    const text = spec(`kit: [kits/camera.kit.yaml, kits/bulb.kit.yaml]
region: US
room: { light: 4 lx, source: window, temperature: 5000 K }
lamps:
  ceiling: { use: bulb, level: ${level}, distance: 1 m, angle: 0° }
shots:
  wide: { record: 12 s, lit: [ceiling], camera: { shutter: 1/50 s } }
`);
    expect(messages(text, rule, bulb)).toHaveLength(1);
  });

  test.each([
    ['DE', '1/50 s', 0],
    ['DE', '1/100 s', 0],
    ['DE', '1/60 s', 1],
    ['US', '1/60 s', 0],
    ['US', '1/120 s', 0],
    ['US', '1/59.94 s', 0], // 0.1 % is left
    ['BR', '1/50 s', 1],
    ['JP 50 Hz', '1/50 s', 0],
    ['JP 60 Hz', '1/50 s', 1],
    ['JP', '1/50 s', 0], // its own finding says that the half is needed
  ])('%s, %s: %i', (region, shutter, count) => {
    // Mains by country: IEC World Plugs.
    expect(messages(bulbs(`region: ${region}\n${wide(`shutter: ${shutter}`)}`), rule)).toHaveLength(count);
  });

  test('is a note under 5 % and silent under 2 %', () => {
    const mixed = (lux: number) =>
      spec(`region: US\nroom: { light: ${lux} lx, source: mains-lamps }\n${wide('shutter: 1/50 s')}`);
    // 7.6 % × share, on the paper behind the product, which gets less of the lamps than the product.
    expect([50, 300, 9000].map((lux) => severities(mixed(lux), rule))).toEqual([[], ['info'], ['warning']]);
  });

  test('windows and batteries do not pulse', () => {
    const room = (source: string) =>
      messages(spec(`region: US\nroom: { light: 9000 lx, source: ${source} }\n${wide('shutter: 1/50 s')}`), rule);
    expect([...room('window'), ...room('battery-lamps')]).toEqual([]);
  });

  const kit = (lamp: string) => ({
    'kits/bulb.kit.yaml': `title: One bulb\nlamps:\n  bulb: { output: 2600 lx at 1 m, temperature: 5000 K, ${lamp} }\n`,
  });
  const lit = (more = '') =>
    spec(
      `kit: [kits/camera.kit.yaml, kits/bulb.kit.yaml]\nregion: US\nlamps:\n  bulb: { distance: 1 m, angle: 0°${more} }\n${wide('shutter: 1/50 s')}`,
    );

  test.each(['kind: filament', 'kind: fluorescent', 'pulses: mains, ripple: 40 %'])('a lamp of %s counts', (lamp) => {
    expect(messages(lit(), rule, kit(lamp))).toHaveLength(1);
  });

  test.each([
    ['pulses: mains, ripple: 0 %', ''],
    ['kind: led, pulses: none', ''],
    ['kind: led, pulses: 20 kHz', ''],
    ['kind: led, battery: 20 Wh', ''],
    ['kind: flash', ''],
    ['pulses: mains', ', runs-on: battery'],
    ['cri: 95', ''],
  ])('a lamp of %s%s does not', (lamp, more) => {
    expect(messages(lit(more), rule, kit(lamp))).toEqual([]);
  });

  test('a lamp on the backdrop alone makes the backdrop flicker', () => {
    const text = spec(`kit: [kits/camera.kit.yaml, kits/bulb.kit.yaml]
region: US
lamps:
  key: { use: panel, temperature: 5000 K, level: 45 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key }
  wash: { use: bulb, aim: backdrop, distance: 80 cm, angle: 60°, role: backdrop }
${wide('shutter: 1/50 s')}`);
    expect(messages(text, rule, kit('kind: fluorescent'))[0]).toContain('`wash` pulses 120 times a second');
  });

  test('every fix clears it', () => {
    const text = spec(`region: US\nroom: { light: 1500 lx, source: mains-lamps }\n${wide('shutter: 1/50 s')}`);
    expect(mends(text, rule)).toEqual([
      'Set shutter to 1/60 s (150°, flicker-free at 60 Hz, 0.3 stop darker)',
      "Put out the room's lamps (0.8 stop darker)",
    ]);
  });
});

describe('region-has-two-mains', () => {
  const rule = 'region-has-two-mains';
  const mains = 'room: { light: 40 lx, source: mains-lamps, temperature: 5000 K }\n';

  test.each([
    ['JP 100 V', ['JP 100 V']],
    ['JP 50 Hz', []],
    ['JP 100 V 60 Hz', []],
    ['DE', []],
    ['60 Hz', []],
  ])('%s', (region, expected) => {
    expect(marked(spec(`region: ${region}\n${mains}`), rule)).toEqual(expected);
  });

  test('both halves are offered, volts kept', () => {
    expect(mends(spec(`region: JP 100 V\n${mains}`), rule)).toEqual([
      'Set region to JP 100 V 50 Hz (the east)',
      'Set region to JP 100 V 60 Hz (the west)',
    ]);
  });

  test('the settings file can say it too, and is not rewritten from here', () => {
    const files = { 'shootspec.yaml': 'region: JP\n' };
    const text = spec(mains).replace('region: DE\n', '');
    expect(messages(text, rule, files)).toHaveLength(1);
    expect(fixed(text, rule, files)).toEqual({});
  });
});

describe('rate-foreign-to-region', () => {
  const rule = 'rate-foreign-to-region';
  const falls = (region: string, camera: string, edit = 25, speed = '25 %') =>
    bulbs(`region: ${region}
deliver:
  film: { raster: 1920x1080, rate: ${edit}, length: 10 s, sound: none }
shots:
  falls: { record: 12 s, camera: { raster: 1920x1080, bits: 8, ${camera} }, action: { what: the lid falls, lasts: 2 s } }
cut:
  - { shot: falls, length: 10 s, speed: ${speed} }
`);

  test('says why no shutter is steady', () => {
    // 120 × 1/120 s is one pulse of 60 Hz light; at 100 frames/s that is 300° (published table of shutter angles).
    expect(messages(falls('US', 'rate: 100, shutter: 1/200 s'), rule)).toEqual([
      "falls: at 100 no shutter near half a frame is steady under 60 Hz mains, as 1/120 s is 300°, and the room's lamps would flicker. Light it with lamps that do not pulse, or record at another rate.",
    ]);
    expect(messages(falls('DE', 'rate: 120, shutter: 1/250 s', 30), rule)[0]).toContain(
      'as 1/100 s, one pulse, is longer than the frame',
    );
  });

  // Published: 24 under 50 Hz at 172.8°, 25 under 60 Hz at 150°; 30 under 50 Hz is 216°.
  test.each([
    ['DE', 24],
    ['DE', 25],
    ['DE', 30],
    ['DE', 50],
    ['US', 23.976],
    ['US', 24],
    ['US', 25],
    ['US', 30],
    ['US', 60],
  ])('in %s, %d has a steady shutter', (region, fps) => {
    const text = falls(region, `rate: ${fps}, shutter: 180°`, fps, '100 %').replace('1920x1080, bits: 8', '3840x2160');
    expect(messages(text, rule)).toEqual([]);
  });

  test('speaks alone: neither the shutter nor the flicker is reported beside it', () => {
    const text = falls('US', 'rate: 100, shutter: 1/1000 s');
    expect(messages(text, rule)).toHaveLength(1);
    expect(messages(text, 'shutter-off-half-frame')).toEqual([]);
    expect(messages(text, 'mains-light-flickers')).toEqual([]);
  });

  test('is silent where nothing moves and a longer shutter is steady, and where a word explains it', () => {
    const text = falls('US', 'rate: 100, shutter: 1/120 s');
    const still = text.replace(', action: { what: the lid falls, lasts: 2 s }', '');
    const meant = text.replace('falls: {', 'falls: { on-purpose: smeared-motion,');
    expect([text, still, meant].map((one) => messages(one, rule).length)).toEqual([1, 0, 0]);
  });

  test('offers a rate of the kit that has a steady shutter', () => {
    const kit = `title: One camera
cameras:
  cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 1920x1080, rate: [60, 100], bits: 8, bitrate: 100 Mb/s }] }
`;
    // Not in the cut yet, so that no piece would lack frames.
    const text = falls('US', 'rate: 100, shutter: 1/250 s', 30, '50 %')
      .replace('kits/camera', 'kits/small')
      .replace('shot: falls,', 'colour: "#000000",');
    expect(mends(text, rule, { 'kits/small.kit.yaml': kit })[0]).toBe(
      'Set rate to 60 and shutter to 1/120 s (180°, flicker-free at 60 Hz, 1.1 stops brighter)',
    );
    // At 25 % in a 25 film, every rate of this raster but 100 steps unevenly.
    expect(fixed(falls('US', 'rate: 100, shutter: 1/250 s'), rule)).toEqual({});
  });

  const broadcast = (rate: number, territory: string, region = 'DE') =>
    spec(`region: ${region}
deliver:
  fair: { raster: 1920x1080, rate: ${rate}, length: 10 s, shown-on: [broadcast, web], territory: ${territory}, sound: none }
`);

  test.each([
    [25, 'DE', 0],
    [50, '[DE, FR]', 0],
    [30, 'DE', 1],
    [24, 'EEA', 1],
    [29.97, 'US', 0],
    [25, 'US', 1],
    [25, '[DE, US]', 1],
    [29.97, 'JP', 0], // 50 Hz mains in the east, but one television (from memory)
    [25, 'JP', 1],
    [25, 'worldwide', 0], // the region's, DE
    [30, 'worldwide', 1],
  ])('broadcast at %d in %s: %i', (rate, territory, count) => {
    expect(messages(broadcast(rate, territory), rule)).toHaveLength(count);
  });

  test('broadcast findings name the country and the rates, and the fix clears them', () => {
    const text = broadcast(30, 'FR');
    expect(messages(text, rule)).toEqual([
      'fair: for broadcast at 30, but broadcasters in FR usually take 25 or 50. Ask them before you shoot, or change the rate.',
    ]);
    expect(mends(text, rule)).toEqual(['Set rate of `fair` to 25']);
    expect(messages(broadcast(30, 'FR').replace('[broadcast, web]', 'web'), rule)).toEqual([]);
  });
});

describe('rates-do-not-conform', () => {
  const rule = 'rates-do-not-conform';
  const joint = (recorded: string, edit: string, piece = '', seconds = 10) =>
    spec(`deliver:
  film: { raster: 1920x1080, rate: ${edit}, length: ${seconds} s, sound: none }
shots:
  spin: { record: ${seconds + 2} s, camera: { rate: ${recorded}, shutter: 180° }, turn: { speed: 2 rpm } }
cut:
  - { shot: spin, length: ${seconds} s${piece} }
`);
  // Exact rates: ITU-R BT.709-6; the rest is arithmetic.
  test.each([
    ['25', '25', []],
    ['50', '25', []],
    ['60', '30', []],
    ['59.94', '29.97', []],
    ['30', '25', ['warning']],
    ['24', '25', ['warning']],
    ['60', '25', ['warning']],
    ['24', '23.976', ['info']],
    ['29.97', '30', ['info']],
    ['25', '50', ['info']],
  ])('%s recorded for %s', (recorded, edit, expected) => {
    expect(severities(joint(recorded, edit, '', 60), rule)).toEqual(expected);
  });

  test('what slips by less than a frame in all that is shown', () => {
    expect(messages(joint('24', '23.976', '', 41), rule)).toEqual([]);
    expect(messages(joint('24', '23.976', '', 42), rule)).toHaveLength(1);
  });

  test.each([
    ['30', '25', 'a frame is dropped, 5 times a second'],
    ['24', '30', 'a frame is shown twice, 6 times a second'],
    ['60', '25', 'the step from frame to frame is uneven, 5 times a second'],
    ['24', '23.976', 'a frame is dropped every 41.7 s'],
    ['30', '29.97', 'a frame is dropped every 33.4 s'],
    ['25', '50', 'each frame is shown twice'],
  ])('%s for %s: %s', (recorded, edit, words) => {
    expect(messages(joint(recorded, edit, '', 60), rule)[0]).toContain(words);
  });

  test('a declared speed, a still and a shot where nothing moves are not its business', () => {
    const still = joint('30', '25').replace(', turn: { speed: 2 rpm }', '');
    const silent = [joint('30', '25', ', speed: 50 %'), joint('30', '25', ', speed: 0 %'), still];
    expect(silent.flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('every fix clears it, and the speed gives whole steps', () => {
    expect(mends(joint('30', '25'), rule)).toEqual(['Set rate to 25', 'Play it at 83.33 % (every frame is used)']);
  });

  test('deliverables of two rates need a timeline, and one that fits both is found', () => {
    const two = (more = '') =>
      spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, sound: none }
  abroad: { like: film, rate: 30 }
${more}shots:
  spin: { record: 12 s, turn: { speed: 2 rpm } }
cut:
  - { shot: spin, length: 10 s }
`);
    expect(messages(two(), rule)).toEqual([
      'The deliverables have different rates (25 for `film` and 30 for `abroad`) and no timeline says which one the cut is made at. Say it, such as `timeline: { rate: 25 }`.',
    ]);
    expect(messages(two('timeline: { rate: 25 }\n'), rule)).toEqual([
      'abroad: 30 out of a 25 timeline, so a frame is shown twice, 5 times a second, and what moves jumps. Deliver at 25, or cut at 30.',
    ]);
    expect(messages(Object.values(fixed(two(), rule))[0]!, rule)[0]).toContain('abroad: 30 out of a 25');
  });
});

describe('pulsed-light-bands', () => {
  const rule = 'pulsed-light-bands';
  const kit = (lamp: string) => ({
    'kits/strip.kit.yaml': `title: A strip\nlamps:\n  strip: { output: 2600 lx at 1 m, temperature: 5000 K, ${lamp} }\n`,
  });
  const strip = (level: string, shutter = '1/50 s', more = '') =>
    spec(`kit: [kits/camera.kit.yaml, kits/strip.kit.yaml]
room: { light: none }
lamps:
  glow: { use: strip, level: ${level}, distance: 1 m, angle: 0°${more} }
${wide(`shutter: ${shutter}`)}`);
  test('says swing and bands', () => {
    // 480 × 1/50 = 9.6 pulses; 9.6 whole pulses leave min(0.6, 0.25) − 0 = 0.25 of one: 0.25 ÷ (9.6 × 0.25) = 10.4 %,
    // a little more with the clock 1 % off. 480 Hz × 16 ms = 7.7 bands. Arithmetic of a rectangular wave.
    expect(messages(strip('25 %'), rule, kit('pulses: 480 Hz'))).toEqual([
      "wide: `glow` at 25 % pulses 480 times a second, and 1/50 s holds 9.6 of its pulses: the picture's brightness swings by up to 10.5 % in about 8 bands. At full level it would not pulse.",
    ]);
  });

  test.each([
    ['25 %', '480 Hz', ['warning']],
    ['25 %', '2 kHz', ['info']],
    ['25 %', '5 kHz', []], // 100 pulses: 1 %
    ['25 %', '20 kHz', []],
  ])('at %s with %s', (level, hz, expected) => {
    expect(severities(strip(level), rule, kit(`pulses: ${hz}`))).toEqual(expected);
  });

  // The third is out at first and full at last: on its way it pulses.
  const ways = ['25 % to 100 %', '100 % to 25 %', '0 % to 100 %', '25 % to 25 %'];
  test.each(ways)('a lamp that is turned up or down pulses too: %s', (level) => {
    const lit = strip(level).replace('wide: { ', 'wide: { lit: [glow], ');
    expect(severities(lit, rule, kit('pulses: 480 Hz'))).toEqual(['warning']);
    expect(severities(lit, rule, kit('pulses: 20 kHz'))).toEqual([]);
  });

  test('the other lamp is turned down: what is left pulses more and more', () => {
    const two = (level: string) =>
      strip(
        '50 %',
        '1/50 s',
        ' }\n  sky: { use: strip, distance: 30 cm, angle: 0°, runs-on: battery, level: ' + level,
      ).replace('wide: { ', 'wide: { lit: [glow, sky], ');
    const found = (level: string) =>
      messages(two(level), rule, kit('pulses: 480 Hz')).filter((one) => one.includes('`glow`'));
    expect(found('100 %')).toEqual([]);
    expect(found('0 % to 100 %')).toEqual(found('100 % to 0 %'));
    expect(found('100 % to 0 %')).toHaveLength(1);
  });

  test.each(['pulses: 480 Hz, dimming: steady', 'pulses: mains', 'pulses: none'])('%s is not its business', (lamp) => {
    expect(messages(strip('25 %'), rule, kit(lamp))).toEqual([]);
  });

  test('20 kHz are not enough for a very short shutter', () => {
    expect(messages(strip('25 %', '1/2000 s'), rule, kit('pulses: 20 kHz'))).toHaveLength(1);
  });

  test('offers whole pulses and full level', () => {
    const files = kit('pulses: 480 Hz');
    const fixes = fixed(strip('25 %'), rule, files);
    expect(Object.keys(fixes)).toEqual([
      'Set shutter to 1/48 s (187.5°, 0.1 stop brighter, swing 4 % at worst)',
      'Set level of `glow` to 100 % (no pulses, its light 2 stops brighter)',
    ]);
    const [whole, full] = Object.values(fixes);
    expect(severities(whole!, rule, files)).toEqual(['info']);
    expect(severities(full!, rule, files)).toEqual([]);
  });

  test('a lamp that ripples at full level too, as its kit says', () => {
    // 120 × 1/50 = 2.4 ripples: 2 × 0.8 × |sin 2.4π ÷ 2.4π| = 20 %, a little more with the clock 1 % off (sinc).
    const files = kit('pulses: 120 Hz, ripple: 80 %');
    expect(messages(strip('100 %'), rule, files)).toEqual([
      expect.stringMatching(
        /^wide: `glow` at 100 % pulses 120 times a second, and 1\/50 s holds 2\.4 of its pulses: the picture's brightness swings by up to 20\.\d % in about 2 bands\. Take a lamp that is steady\./,
      ),
    ]);
    expect(messages(strip('100 %'), rule, kit('pulses: 120 Hz'))).toEqual([]);
  });

  test('a lamp that is meant to be seen, in its own picture', () => {
    const candle = (role: string) =>
      spec(`kit: [kits/camera.kit.yaml, kits/strip.kit.yaml]
lamps:
  key: { use: panel, temperature: 5000 K, level: 100 %, distance: 60 cm, angle: 45°, height: 40 cm }
  candle: { use: strip, level: 10 %, distance: 3 m, angle: 200°${role} }
${wide('shutter: 1/500 s')}`);
    expect(messages(candle(''), rule, kit('pulses: 200 Hz'))).toEqual([]);
    expect(messages(candle(', role: practical'), rule, kit('pulses: 200 Hz'))[0]).toContain(
      '`candle` at 10 % pulses 200 times a second, and 1/500 s holds 0.4 of its pulses: its own brightness swings by up to',
    );
  });

  test('a strobe splits frames between the lines', () => {
    const text = strip('100 %', '1/50 s', ', flashes: 2 Hz');
    expect(messages(text, rule, kit('kind: flash'))[0]).toContain('flashes for less than the 16 ms');
  });
});

describe('screen-out-of-step', () => {
  const rule = 'screen-out-of-step';
  const screen = (backdrop: string, camera = 'shutter: 1/50 s', deliver = 25) =>
    spec(`deliver:
  film: { raster: 1920x1080, rate: ${deliver}, length: 10 s, sound: none }
backdrop: { use: monitor, behind: 70 cm, ${backdrop} }
${wide(camera)}`);

  test.each([
    ['refresh: 75 Hz, footage: clouds', 0],
    ['refresh: 60 Hz', 0],
    ['refresh: 60 Hz, picture: moving', 1],
    ['refresh: 60 Hz, footage: clouds, brightness: 0 %', 0],
    ['footage: clouds', 0], // not known which of its refreshes it is set to
  ])('%s at 25: %i', (backdrop, count) => {
    expect(messages(screen(backdrop), rule)).toHaveLength(count);
  });

  test('a thousandth is forgiven: 59.94 pictures of a 60 Hz screen', () => {
    const text = screen('refresh: 60 Hz, footage: clouds', 'rate: 29.97, shutter: 1/60 s', 29.97);
    expect(messages(text, rule)).toEqual([]);
  });

  test('says how uneven, and what the kit can do', () => {
    const text = screen('refresh: 60 Hz, footage: clouds');
    expect(messages(text, rule)).toEqual([
      'wide: `monitor` shows a moving picture at 60 Hz and the camera records 25: its steps are uneven 10 times a second. Set the screen to 50 Hz.',
    ]);
    mends(text, rule);
  });

  test('a shutter shorter than a refresh tears moving pictures', () => {
    const text = screen('refresh: 50 Hz, footage: clouds', 'shutter: 1/100 s');
    expect(messages(text, rule)[0]).toContain('`monitor` takes 1/50 s to draw a picture');
    mends(text, rule);
    expect(messages(screen('refresh: 50 Hz, picture: still', 'shutter: 1/100 s'), rule)).toEqual([]);
  });

  test('a dimmed backlight that pulses flickers, at full brightness it does not', () => {
    const kit = (more: string) => ({
      'kits/tv.kit.yaml': `title: A screen\nscreens:\n  tv: { size: 60 x 34 cm, refresh: 50 Hz, white: 250 cd/m², ${more} }\n`,
    });
    const tv = (brightness: string) =>
      screen(`brightness: ${brightness}`)
        .replace('monitor', 'tv')
        .replace('kit: kits/camera.kit.yaml', 'kit: [kits/camera.kit.yaml, kits/tv.kit.yaml]');
    expect(messages(tv('40 %'), rule, kit('pulses: 240 Hz'))[0]).toContain(
      'the light of `tv` pulses 240 times a second',
    );
    expect(messages(tv('100 %'), rule, kit('pulses: 240 Hz'))).toEqual([]);
    expect(messages(tv('100 %'), rule, kit('pulses: 240 Hz, panel: oled'))[0]).toContain(
      'taken as lit 90 % of the time',
    );
    expect(messages(tv('40 %'), rule, kit('pulses: none'))).toEqual([]);
  });
});

describe('slow-motion-lacks-frames', () => {
  const rule = 'slow-motion-lacks-frames';
  const played = (rate: number, speed: string, more = '') =>
    spec(`shots:
  pour: { record: 12 s, camera: { rate: ${rate}, shutter: 180° }, action: { what: tea is poured, lasts: 9 s }${more} }
cut:
  - { shot: pour, length: 10 s, speed: ${speed} }
`);
  // k = speed × recorded ÷ timeline; arithmetic.
  test.each([
    [25, '100 %', []],
    [25, '200 %', []],
    [25, '50 %', ['warning']],
    [50, '51 %', []], // 1.02
    [50, '52 %', ['info']], // 1.04
    [50, '49.9 %', ['info']],
    [50, '44 %', ['warning']],
    [60, '50 %', ['info']], // 1.2
    [60, '41.67 %', []],
    [60, '-41.67 %', []],
    [25, '0 %', []],
    [25, '150 %', ['info']],
  ])('%d at %s', (rate, speed, expected) => {
    expect(severities(played(rate, speed), rule)).toEqual(expected);
  });

  test('says what is needed', () => {
    expect(messages(played(25, '40 %'), rule)).toEqual([
      'pour: 25 recorded and played at 40 % gives 0.4 of a frame for each frame of the 25 film, so frames are held and the motion stutters. It needs 62.5 frames a second.',
    ]);
  });

  test('of 59.94 and 60, offers the one that the edit is made of', () => {
    const text = (edit: string) => played(24, '50 %').replace('rate: 25, length', `rate: ${edit}, length`);
    expect(titles(text('30'), rule)[0]).toContain('Set rate to 60');
    expect(titles(text('29.97'), rule)[0]).toContain('Set rate to 59.94');
  });

  test('offers a rate of the kit, with what its mode gives up', () => {
    const text = played(25, '25 %').replace('shutter: 180°', 'shutter: 1/50 s');
    expect(mends(text, rule)[0]).toBe(
      'Set rate to 100, shutter to 1/200 s and ISO to 2000 (0.3 stop brighter, 1920x1080, 8 bits)',
    );
  });

  test('held frames on purpose are explained', () => {
    expect(messages(played(25, '50 %', ', on-purpose: stuttering-speed'), rule)).toEqual([]);
  });
});
