import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { checkSpec, ownKit, spec } from '../helpers/workspace.ts';

const camera = (more: string) =>
  `camera: { lens: normal, distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 400, aperture: f/8, focus: locked, white-balance: 5000 K, ${more} }\n`;

describe('moving-detail-smears', () => {
  const rule = 'moving-detail-smears';
  const label =
    'product: { size: 9 x 6 x 7 cm, parts: { label: { size: 40 x 15 mm, height: 4 cm, letters: 4 mm } } }\n';
  const spin = (turn: string, more = '') =>
    spec(`${label}shots:\n  spin: { record: 12 s, subject: label, ${more}turn: { ${turn} } }
cut: [{ shot: spin, length: 4.8 s }]\n`);
  const close = 'camera: { lens: macro, distance: 45 cm }, ';

  test('a label at 2 rpm, 45 mm from the axis, close: 2.3 px in 1/50 s', () => {
    // Field of 45 mm on 17.3 mm at 45 cm is 155.7 mm: 12.33 px for each mm; v = 2π·45·2/60 = 9.42 mm/s (rim speed).
    const text = spin('speed: 2 rpm', close);
    expect(messages(text, rule)).toEqual([
      'spin: `label` moves 2.3 pixels in 1/50 s (2 rpm, 45 mm from the axis; 12.3 pixels for each mm in `film`): ' +
        'from 1.5 pixels on what is written on it goes soft. Move it slower, or say that the blur is meant (`smeared-motion`): a shutter of 1/78 s is sharp, but makes it stutter.',
    ]);
    expect(marked(text, rule)).toEqual(['2 rpm']);
    expect(mends(text, rule)).toEqual([
      'Turn at 1.29 rpm (shows 37° instead of 58°)',
      'Say that the blur is meant: `smeared-motion`',
    ]);
  });

  test('a blur of half a stroke at most is a note, of letters 49 pixels high from 3.1 pixels on a warning', () => {
    // 4 mm x 12.33 px/mm; strokes of an eighth of the height are 6 pixels wide (DOD-HDBK-791(AM), 6-5.3.2.3).
    const slow = spin('speed: 2 rpm', close);
    const each = [slow, spin('speed: 2.8 rpm', close), slow.replace('letters: 4 mm', 'letters: 2 mm')];
    expect(each.flatMap((text) => severities(text, rule))).toEqual(['info', 'warning', 'warning']);
  });

  test('a shorter exposure is advised only where half a frame is near enough to it (40°)', () => {
    // 180° of 25 are 1/50 s, and 140° 1/64 s; for 1.5 of 2.3 pixels it would have to be 1/78 s, of 1.75 1/59 s.
    const way = (speed: string, shutter = '1/50 s') =>
      messages(spin(`speed: ${speed}`, `camera: { lens: macro, distance: 45 cm, shutter: ${shutter} }, `), rule)[0];
    expect(way('1.5 rpm')).toContain(
      'Move it slower, expose shorter, or say that the blur is meant (`smeared-motion`).',
    );
    expect(way('2 rpm')).not.toContain('expose shorter');
    // Where it is too short already, that is not said to be the way out of what it is too long for.
    const text = spin('speed: 3 rpm', 'camera: { lens: macro, distance: 45 cm, shutter: 1/100 s }, ');
    expect(messages(text, 'shutter-off-half-frame')).toHaveLength(1);
    expect(messages(text, rule)[0]).toContain('is sharp, but makes it stutter');
    const meant = text.replace('record: 12 s,', 'record: 12 s, on-purpose: staccato-motion,');
    expect(messages(meant, 'shutter-off-half-frame')).toEqual([]);
  });

  test('no turn is offered that the table does not go at: 3 rpm are its most', () => {
    const text =
      spec(`${label}shots:\n  spin: { record: 12 s, subject: label, camera: { distance: 150 cm }, turn: { speed: 60 rpm } }
cut: [{ shot: spin, length: 4.8 s }]\n`);
    expect(mends(text, rule)[0]).toMatch(/^Turn at 3 rpm /);
    expect(mends(text.replace('speed: 60 rpm', 'by: 3600°'), rule)[0]).toMatch(/^Turn by 180° /);
  });

  test('from farther the same turn is sharp', () => {
    expect(messages(spin('speed: 2 rpm'), rule)).toEqual([]);
  });

  test('a zoom in the edit multiplies it', () => {
    const zoomed = (zoom: string) =>
      spec(`${label}shots:\n  spin: { record: 12 s, subject: label, turn: { speed: 3 rpm } }
cut: [{ shot: spin, length: 4.8 s, zoom: ${zoom} }]\n`);
    expect(['1', '1 to 1.5'].map((zoom) => messages(zoomed(zoom), rule).length)).toEqual([0, 1]);
  });

  test('the front of a small turn is nearer to the axis than the side', () => {
    const text = (by: string) => spin(`by: ${by}`, `${close}action: { lasts: 2 s }, `);
    // 40° in 2 s is 3.33 rpm: 30 mm from the axis for the front.
    expect(messages(text('40°'), rule)[0]).toContain('3.33 rpm, 30 mm from the axis');
    expect(messages(text('90°'), rule)[0]).toContain('45 mm from the axis');
    expect(mends(text('40°'), rule)[0]).toMatch(/^Turn by \d+°/);
  });

  test('a slide of 80 mm/s at 10 px for each mm is 16 px (values checked outside)', () => {
    // 80 mm/s x 1/50 s x 10 px/mm = 16 px; 11.5 is a step of 0.6 % of 1920. 25 mm on 17.3 mm: 192 mm wide at 30.25 cm.
    const text = spec(
      `${camera('support: slider').replace('distance: 60 cm', 'distance: 30.25 cm')}shots:\n  pass: { record: 12 s, camera: { slide: 0 cm to 80 cm } }\ncut: [{ shot: pass, length: 10 s }]\n`,
    );
    expect(messages(text, rule)).toEqual([
      'pass: the product moves 16 pixels in 1/50 s (the camera slides at 80 mm/s; 10 pixels for each mm in `film`): from 12 pixels on its detail goes soft. Move it slower, or say that the blur is meant (`smeared-motion`): a shutter of 1/67 s is sharp, but makes it stutter.',
    ]);
    expect(messages(text.replace('80 cm }', '64 cm }'), rule)).toEqual([]);
    expect(marked(text, rule)).toEqual(['0 cm to 80 cm']);
    expect(mends(text, rule)[0]).toBe('Slide 60 cm instead of 80 cm');
  });

  test('a camera that goes round counts like a turn; going round with the turn does not', () => {
    const round = (angle: string, turn = '') =>
      spec(`${label}${camera('').replace('distance: 60 cm', 'distance: 25 cm')}shots:
  ring: { record: 12 s, subject: label, action: { lasts: 5 s }, camera: { angle: ${angle} }${turn} }
cut: [{ shot: ring, length: 5 s }]\n`);
    expect(marked(round('0° to 90°'), rule)).toEqual(['0° to 90°']);
    expect(messages(round('0° to 90°', ', turn: { by: 90° }'), rule)).toEqual([]);
  });

  test('a top that spins is not told to creep', () => {
    const top = (more = '', words = '') =>
      spec(`product: { size: 9 x 6 x 7 cm }\n${words}shots:\n  spin: { record: 12 s, ${more}${close}turn: { speed: 300 rpm } }
cut: [{ shot: spin, length: 4 s }]\n`);
    expect(messages(top(), rule)[0]).toContain('say that the blur is meant (`smeared-motion`)');
    const title = 'Say that the blur is meant: `smeared-motion`';
    expect(mends(top(), rule)).toEqual([title]);
    // The film's words hold for it already.
    const words = 'on-purpose: [low-key, grain]\n';
    expect(fixed(top('', words), rule)[title]).toContain('on-purpose: smeared-motion }');
    expect(fixed(top('on-purpose: low-key, '), rule)[title]).toContain('on-purpose: [low-key, smeared-motion],');
  });

  test('blur that is meant, and shutters that are not known', () => {
    const shots = [`on-purpose: smeared-motion, ${close}`, close.replace('45 cm', '45 cm, shutter: auto')];
    expect(shots.flatMap((shot) => messages(spin('speed: 3 rpm', shot), rule))).toEqual([]);
  });

  test('a tall picture has its own limit', () => {
    const tall = spec(`${label}deliver: { story: { raster: 720x1280, rate: 25, sound: none } }
shots:\n  spin: { record: 12 s, subject: label, ${close}turn: { speed: 3 rpm } }
cut: [{ shot: spin, length: 4.8 s }]\n`);
    // 1.5 px x 1280 / 1920.
    expect(messages(tall, rule)[0]).toContain('from 1 pixel on');
  });
});

describe('move-judders', () => {
  const rule = 'move-judders';
  const screen = 'backdrop: { use: monitor, behind: 70 cm }\n';
  const push = (piece: string, more = screen) => spec(`${more}cut:\n  - { shot: box, ${piece} }\n`);

  test('a push-in at the edge of the picture, against the pan guide', () => {
    // 0.595 % of the width a frame is a full width in 7 s at 24 frames/s ("Motion Picture", chapter 4); 0.6 % of 1920 is 11.5.
    // Half the width x 0.4 / (0.8 s x 25) / 1.0 = 1 % = 19 px; 0.2 / (0.006 x 25) = 1.33 s.
    const text = push('length: 0.8 s, zoom: 1 to 1.4');
    expect(messages(text, rule)).toEqual([
      "box: zoom 1 to 1.4 in 0.8 s moves the picture's edge by 19 pixels a frame in `film` at 25: from 11.5 pixels on it judders. " +
        '1.34 s or longer keeps to that.',
    ]);
    expect(marked(text, rule)).toEqual(['1 to 1.4']);
    const found = (length: string) => messages(push(`length: ${length}, zoom: 1 to 1.4`), rule).length;
    expect([found('1.23 s'), found('1.2 s')]).toEqual([0, 1]);
    expect(mends(text, rule)).toEqual(['Set zoom to `1 to 1.24`']);
  });

  test('before plain paper the outline of the product is what moves', () => {
    expect(messages(push('length: 0.8 s, zoom: 1 to 1.4', ''), rule)).toEqual([]);
    const fast = push('length: 0.3 s, zoom: 1 to 2', '');
    expect(messages(fast, rule)[0]).toContain('moves the product by');
    mends(fast, rule);
  });

  test('a shift across the picture', () => {
    // 30 % in 1 s at 25 is 1.2 % a frame.
    const text = push('length: 1 s, zoom: 1.6, shift: -15 % to 15 %');
    expect(messages(text, rule)[0]).toMatch(/^box: shift -15 % to 15 % in 1 s moves the picture by 23 pixels a frame/);
    mends(text, rule);
    expect(messages(push('length: 2 s, zoom: 1.6, shift: -15 % to 15 %'), rule)).toEqual([]);
  });

  test('at 50 frames a second each step may be half as large', () => {
    const fifty = (length: string) =>
      spec(`${screen}deliver: { film: { raster: 1920x1080, rate: 50, sound: none } }
${camera('').replace('rate: 25', 'rate: 50').replace('1/50', '1/100')}cut: [{ shot: box, length: ${length}, zoom: 1 to 1.4 }]\n`);
    expect(['1.34 s', '1.2 s'].map((length) => messages(fifty(length), rule).length)).toEqual([0, 1]);
  });

  test('an upright picture is judged by its long side', () => {
    // 0.6 % of 1920 px in both: its upper edge is as far from the middle as the side of the other one.
    const tall = (length: string) =>
      spec(`${screen}deliver: { story: { raster: 1080x1920, rate: 25, sound: none } }
cut: [{ shot: box, length: ${length}, zoom: 1 to 1.4 }]\n`);
    expect(messages(tall('1.34 s'), rule)).toEqual([]);
    expect(messages(tall('1.2 s'), rule)[0]).toContain('from 11.5 pixels on');
    mends(tall('0.8 s'), rule);
  });

  test('what smears is reported as that alone', () => {
    const slide = (shutter: string) =>
      spec(`${camera('support: slider').replace('1/50 s', shutter)}shots:\n  pass: { record: 7 s, action: { lasts: 2 s }, camera: { slide: 0 cm to 32 cm } }
cut: [{ shot: pass, length: 2 s }]\n`);
    // 160 mm/s x 4.8 px/mm: 31 px a frame, 15.4 px in 1/50 s, 3.1 px in 1/250 s.
    const found = (shutter: string) => [rule, 'moving-detail-smears'].map((one) => marked(slide(shutter), one).length);
    expect([found('1/50 s'), found('1/250 s')]).toEqual([
      [0, 1],
      [1, 0],
    ]);
    expect(messages(slide('1/250 s'), rule)[0]).toContain(
      'with the camera sliding at 16 cm/s, the product moves by 31 pixels',
    );
    mends(slide('1/250 s'), rule);
  });

  test('a push that is meant to be fast', () => {
    expect(messages(push('length: 0.8 s, zoom: 1 to 1.4', `on-purpose: fast-push-in\n${screen}`), rule)).toEqual([]);
  });

  test('a dolly in is a push too', () => {
    const text =
      spec(`${screen}${camera('support: slider')}shots:\n  near: { record: 4 s, action: { lasts: 1 s }, camera: { distance: 60 cm to 40 cm } }
cut: [{ shot: near, length: 1 s }]\n`);
    expect(messages(text, rule)[0]).toContain('with the camera going from 60 cm to 40 cm');
    expect(marked(text, rule)).toEqual(['60 cm to 40 cm']);
  });
});

describe('turn-misses-angle', () => {
  const rule = 'turn-misses-angle';
  const spin = (turn: string, piece: string, more = '') =>
    spec(`shots:\n  spin: { record: 40 s, turn: { ${turn} }${more} }\ncut:\n  - { shot: spin, ${piece} }\n`);

  test('2 rpm for 4.8 s is 58°, not 90° (6° a second for each rpm)', () => {
    const text = spin('speed: 2 rpm', 'length: 4.8 s, turn-shown: 90°');
    expect(messages(text, rule)).toEqual([
      'spin: 2 rpm for 4.8 s shows 58° of the turn, and 90° are wanted. Turn at 3.13 rpm, or show it for 7.5 s.',
    ]);
    expect(marked(text, rule)).toEqual(['90°']);
    // 3.125 rpm is more than the turntable has; 7.5 s at 2 rpm are 90°.
    expect(mends(text, rule)).toEqual(['Show it for 7.5 s (90°)']);
  });

  // Within 5° it is right, and of what goes on by a seventh more all that must be seen is seen.
  test.each([
    ['-2 rpm', '7.5 s', '90°', 0],
    ['2 rpm', '7.1 s', '90°', 0],
    ['2 rpm', '7 s', '90°', 1],
    ['2 rpm', '8.1 s', '90°', 0],
    ['2 rpm', '8.7 s', '90°', 1],
    ['2 rpm', '5.5 s', '60°', 0],
    ['2 rpm', '6 s', '60°', 1],
  ])('%s for %s of which %s are wanted: %i', (speed, length, shown, count) => {
    expect(messages(spin(`speed: ${speed}`, `length: ${length}, turn-shown: ${shown}`), rule)).toHaveLength(count);
  });

  test('the speed in the cut counts; a slower table is offered where it has it', () => {
    const slow = spin('speed: 2 rpm', 'length: 10 s, speed: 50 %, turn-shown: 45°');
    expect(messages(slow, rule)).toEqual([
      'spin: 2 rpm for 5 s shows 60° of the turn, and 45° are wanted. Turn at 1.5 rpm, or show it for 7.5 s.',
    ]);
    expect(mends(slow, rule)).toEqual(['Turn at 1.5 rpm', 'Show it for 7.5 s (45°)']);
  });

  test('a turn by an angle, of which the piece shows a part', () => {
    const part = spin('by: 90°', 'length: 4 s, turn-shown: 90°', ', action: { lasts: 8 s }');
    expect(messages(part, rule)).toEqual([
      'spin: 90° over an action of 8 s, seen for 4 s shows 45° of the turn, and 90° are wanted. Turn by 180°, or show it for 8 s.',
    ]);
    expect(mends(part, rule)).toEqual(['Turn by 180°']);
    const still = spec('cut:\n  - { shot: box, length: 10 s, turn-shown: 90° }\n');
    expect(messages(still, rule)[0]).toContain('neither the product nor the camera goes round');
  });

  test('beats stay beats', () => {
    const text = spec(`music: { tempo: 100 bpm }
shots:\n  spin: { record: 40 s, turn: { speed: 2 rpm } }\ncut:\n  - { shot: spin, length: 8 beats, turn-shown: 90° }\n`);
    expect(titles(text, rule)).toContain('Show it for 12.5 beats (90°)');
  });

  const loop = (seconds: string, turn: string, product = '') =>
    spec(`${product}deliver: { film: { raster: 1920x1080, rate: 25, sound: none, loop: seamless } }
shots:\n  spin: { record: 60 s, turn: { ${turn} } }\ncut: [{ shot: spin, length: ${seconds} }]\n`);

  test('a loop closes after a whole turn, within one frame', () => {
    expect(messages(loop('30.04 s', 'speed: 2 rpm'), rule)).toEqual([]);
    const open = loop('20 s', 'speed: 2 rpm');
    expect(messages(open, rule)).toEqual([
      'film: from the first frame to the last the product turns by 240°, which is 120° from where it began: the loop jumps. A whole round is 360°.',
    ]);
    expect(marked(open, rule)).toEqual(['seamless']);
    expect(mends(open, rule)).toEqual(['Turn at 3 rpm']);
  });

  test('equal faces close it sooner', () => {
    const product = (symmetry: number) => `product: { size: 9 x 9 x 7 cm, symmetry: ${symmetry} }\n`;
    expect(messages(loop('7.5 s', 'speed: 2 rpm', product(4)), rule)).toEqual([]);
    expect(messages(loop('7.5 s', 'speed: 2 rpm', product(2)), rule)[0]).toContain(
      '180°, as 2 of its faces look alike',
    );
  });

  test('a turn that is hardly seen is told where the film shows no more of it', () => {
    // 6° a second for each turn a minute: 0.5 rpm for 3.6 s are 11°.
    expect(messages(spin('speed: 0.5 rpm', 'length: 3.6 s'), rule)).toEqual([
      'spin: in the cut the turn goes by 11° only, which is hardly seen as one. 1.4 rpm would show 30°, or show it longer.',
    ]);
    const seen = ['length: 5 s', 'length: 3.6 s }\n  - { shot: spin, length: 6 s', 'length: 3.6 s, turn-shown: 11°'];
    expect(seen.flatMap((piece) => messages(spin('speed: 0.5 rpm', piece), rule))).toEqual([]);
  });

  test('no loop, no turn: nothing to say', () => {
    const texts = [spin('speed: 2 rpm', 'length: 10 s'), loop('10 s', 'starts: 30°')];
    expect(texts.flatMap((text) => messages(text, rule))).toEqual([]);
  });
});

describe('move-beyond-kit', () => {
  const rule = 'move-beyond-kit';

  // A table 80 cm deep: with a product of 6 cm at its far edge there are 77 cm before that.
  test.each([
    ['75 cm', 'white laminate, size: 120 x 80 cm', 0],
    ['80 cm', 'white laminate, size: 120 x 80 cm', 1],
    ['60 cm', 'white laminate, size: 120 x 80 cm, front: 50 cm', 1],
    ['80 cm', 'felt, size: 120 x 80 cm', 0],
    ['80 cm', 'slate, size: 40 x 30 cm', 0],
    ['80 cm', 'white laminate, size: 120 x 80 cm, above-table: 2 cm', 0],
  ])('a rail on the table, its lens %s before the middle, on %s: %i finding', (distance, surface, count) => {
    const kit = 'title: A rail\nsupports:\n  rail: { stands-on: table, height: 6 cm to 30 cm, travel: 60 cm }\n';
    const text = spec(`kit: [kits/camera.kit.yaml, kits/rail.kit.yaml]
surface: { material: ${surface}, height: 75 cm }
shots:
  box: { record: 12 s, camera: { support: rail, distance: ${distance} } }
`);
    const said = messages(text, rule, { 'kits/rail.kit.yaml': kit });
    expect(said.filter((one) => one.includes('stands in the air'))).toHaveLength(count);
  });

  // 25 cm before the product and 7 cm of lens behind its front: the camera is 32 cm out, and a head leans 8 cm over.
  test.each([
    ['front: 40 cm', 'tripod', 0],
    ['front: 45 cm', 'tripod', 1],
    ['front: 45 cm, height: 20 cm', 'tripod', 0],
    ['front: 45 cm', 'arm', 0],
  ])('a support on the floor before a table with %s, on a %s: %i finding', (front, support, count) => {
    const kit =
      'title: Legs\nsupports:\n  tripod: { stands-on: floor, height: 10 cm to 170 cm }\n  arm: { stands-on: floor, height: 10 cm to 170 cm, reach: 60 cm }\n';
    const text = spec(`kit: [kits/camera.kit.yaml, kits/legs.kit.yaml]
surface: { material: oak, size: 120 x 80 cm, ${front.includes('height') ? front : `${front}, height: 75 cm`} }
shots:
  box: { record: 12 s, camera: { support: ${support}, distance: 25 cm, height: 3.5 cm } }
`);
    const files = { 'kits/legs.kit.yaml': kit };
    const said = findings(text, rule, files).filter(({ message }) => message.includes('over the table'));
    expect(said).toHaveLength(count);
    if (said[0]) expect(said[0].fixes[0]!.title).toMatch(/^Stand the product 32 cm behind the front edge/);
  });

  const slide = (way: string, record = '12 s', support = 'slider') =>
    spec(`${camera(`support: ${support}`)}shots:\n  pass: { record: ${record}, camera: { slide: ${way} } }
cut: [{ shot: pass, length: 5 s }]\n`);

  test('25 mm/s for 14 s is 35 cm, and 37.5 cm with starting and stopping', () => {
    const kit = ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25 }] } }
lenses: { normal: { focal: 25 mm } }
supports: { rail: { travel: 40 cm, speed: 2 mm/s to 40 mm/s } }
`);
    const text = (way: string) =>
      `${slide(`0 cm to ${way}`, '16 s', 'rail').replace('kits/camera.kit.yaml', 'kits/own.kit.yaml')}lamps: {}\n`.replace(
        /lamps:\n( {2}.*\n)+/,
        '',
      );
    expect(messages(text('35 cm'), rule, kit)).toEqual([]);
    // 30 mm/s: 42 cm of way, more than there is.
    expect(messages(text('42 cm'), rule, kit)).toEqual([
      'pass: the slide from 0 cm to 42 cm is 42 cm, and `rail` travels 40 cm. Make the move shorter.',
    ]);
    expect(findings(text('42 cm'), rule, kit)[0]?.severity).toBe('error');
    // 28 mm/s: 39.2 cm and 2.8 cm more.
    expect(messages(text('39.2 cm'), rule, kit)).toEqual([
      'pass: the slide from 0 cm to 39.2 cm is 39.2 cm, and coming up to 28 mm/s and stopping takes 28 mm more; `rail` travels 40 cm. Make the move shorter, or slower.',
    ]);
    expect(findings(text('39.2 cm'), rule, kit)[0]?.severity).toBe('warning');
    expect(mends(text('42 cm'), rule, kit)).toEqual(['Slide 37.3 cm instead of 42 cm']);
  });

  test('a slide to both sides of the product is shortened on both, one beside it at its far end', () => {
    // 40 mm/s for 5 s are 20 cm, and 4 cm more for starting and stopping.
    const text = (way: string) => /slide: ([^}]*) }/.exec(Object.values(fixed(slide(way, '7 s'), rule))[0]!)?.[1];
    expect(text('-20 cm to 20 cm')).toBe('-10 cm to 10 cm');
    expect(text('20 cm to -20 cm')).toBe('10 cm to -10 cm');
    expect(text('-10 cm to 30 cm')).toBe('-5 cm to 15 cm');
    expect(text('10 cm to 50 cm')).toBe('10 cm to 30 cm');
    expect(text('-50 cm to -10 cm')).toBe('-30 cm to -10 cm');
    expect(mends(slide('-20 cm to 20 cm', '7 s'), rule)[0]).toBe('Slide 20 cm instead of 40 cm');
  });

  test('too fast and too slow', () => {
    const fast = slide('0 cm to 50 cm', '7 s');
    expect(messages(fast, rule)).toEqual([
      'pass: the slide from 0 cm to 50 cm in 5 s is 10 cm/s; `slider` goes no faster than 40 mm/s. Give it more time, or a shorter way.',
    ]);
    mends(fast, rule);
    expect(messages(slide('0 cm to 0.5 cm', '12 s'), rule)[0]).toContain('goes no slower than 1 mm/s');
    expect(messages(slide('0 cm to 30 cm'), rule)).toEqual([]);
  });

  test('a tripod stands still; a support that moves is offered', () => {
    const text = slide('0 cm to 30 cm', '12 s', 'tripod');
    expect(messages(text, rule)).toEqual([
      'pass: the slide from 0 cm to 30 cm moves the camera, and `tripod` has no travel in the kit: it stands still. Use a support that travels, say its `travel` there, or let the camera stand.',
    ]);
    expect(mends(text, rule)).toEqual(['Use `slider`']);
    const dolly =
      spec(`${camera('support: tripod')}shots:\n  near: { record: 12 s, camera: { distance: 60 cm to 40 cm } }
cut: [{ shot: near, length: 5 s }]\n`);
    expect(messages(dolly, rule)[0]).toContain('the way from 60 cm to 40 cm moves the camera');
  });

  test('by hand, or a support that no kit has, says nothing', () => {
    const byHand = spec(`${camera('')}shots:\n  pass: { record: 12 s, camera: { slide: 0 cm to 90 cm } }
cut: [{ shot: pass, length: 5 s }]\n`);
    const crane = slide('0 cm to 90 cm', '12 s', 'crane');
    expect([byHand, crane].flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('the lens above the floor: surface and height together', () => {
    const at = (height: string, surface = '75 cm') =>
      spec(
        `${camera(`support: tripod, height: ${height}`).replace('distance: 60 cm', 'distance: 150 cm')}surface: { height: ${surface} }\n`,
      );
    expect(messages(at('85 cm'), rule)).toEqual([]);
    expect(messages(at('90 cm'), rule)).toEqual([
      'box: the lens stands 90 cm above the surface, 165 cm above the floor; `tripod` holds it between 25 cm and 160 cm.',
    ]);
    expect(marked(at('90 cm'), rule)).toEqual(['90 cm']);
    expect(mends(at('90 cm'), rule)).toEqual(['Set height to 85 cm (the camera then looks from there)']);
    // On the floor it is too low: 8 cm, the tripod begins at 25 cm.
    expect(messages(at('8 cm', '0 cm'), rule)).toHaveLength(1);
  });

  test('the turntable has its speeds', () => {
    const turn = (speed: string) =>
      spec(`shots:\n  spin: { record: 12 s, turn: { ${speed} } }\ncut: [{ shot: spin, length: 5 s }]\n`);
    expect(messages(turn('speed: 3 rpm'), rule)).toEqual([]);
    expect(messages(turn('speed: 4 rpm'), rule)).toEqual([
      'spin: `large` turns no faster than 3 rpm, and 4 rpm is planned.',
    ]);
    expect(mends(turn('speed: -4 rpm'), rule)).toEqual(['Turn at -3 rpm']);
    expect(messages(turn('speed: 0.1 rpm'), rule)[0]).toContain('no slower than 0.2 rpm');
    // 360° in 10 s is 6 rpm.
    expect(messages(turn('by: 360°'), rule)[0]).toContain('and 6 rpm is planned');
  });
});

describe('splash-not-frozen', () => {
  const rule = 'splash-not-frozen';
  const pour = (shutter: string, fastest: string, words: string) =>
    spec(`${words}shots:
  pour: { record: 12 s, camera: { shutter: ${shutter} }, action: { what: the glaze runs, lasts: 4 s, fastest: ${fastest} } }
cut: [{ shot: pour, length: 10 s }]\n`);

  test('2 m/s at 1/50 s is 193 px at 4.8 px for each mm; frozen wants 5', () => {
    // Field of 25 mm on 17.3 mm at 60 cm: 397.9 mm, 4.825 px/mm. After 20 cm of fall v = sqrt(2 x 9.81 x 0.2) = 1.98 m/s.
    const text = pour('1/50 s', '2 m/s', 'on-purpose: frozen-motion\n');
    expect(messages(text, rule)).toEqual([
      'pour: meant to be frozen, but at 2 m/s and 4.8 pixels for each mm in `film`, 1/50 s draws it out by 193 pixels; ' +
        'up to 5 it looks frozen. That takes 1/2000 s, 5.3 stops more light, or a flash as short.',
    ]);
    expect(marked(text, rule)).toEqual(['1/50 s']);
    expect(mends(text, rule)[0]).toMatch(/^Set shutter to 1\/2000 s/);
  });

  test('flowing wants 20 px', () => {
    const flowing = (fastest: string, shutter = '1/50 s') => pour(shutter, fastest, 'on-purpose: flowing-motion\n');
    // 20 px / (0.02 s x 4.825 px/mm) = 207 mm/s, of which half is soft enough.
    expect(['11 cm/s', '10 cm/s'].map((fastest) => messages(flowing(fastest), rule).length)).toEqual([0, 1]);
    mends(flowing('15 cm/s', '1/100 s'), rule);
  });

  test('nothing meant, or no speed said: nothing to say', () => {
    const unsaid = spec('on-purpose: frozen-motion\nshots: { box: { record: 12 s, action: { lasts: 4 s } } }\n');
    expect([pour('1/50 s', '2 m/s', ''), unsaid].flatMap((text) => messages(text, rule))).toEqual([]);
  });
});

describe('action-too-fast', () => {
  const rule = 'action-too-fast';
  // Field of 25 mm on 17.3 mm at 60 cm: 398 mm.
  const thrown = (fastest: string, piece = '', more = '') =>
    spec(`shots:\n  strap: { record: 8 s${more}, action: { what: It flies by., lasts: 2 s, fastest: ${fastest} } }
cut:\n  - { shot: strap, length: 3 s${piece} }\n`);

  test('398 mm at 2.65 m/s are 0.15 s: hardly seen', () => {
    expect(messages(thrown('2.65 m/s'), rule)).toEqual([
      'strap: at 2.6 m/s what happens crosses the picture of `film` in 0.15 s, 4 frames: where it does not stay in the picture, it is hardly seen. Slower than 2.5 m/s, or recorded at a higher rate and played more slowly, it is.',
    ]);
    expect(messages(thrown('1.5 m/s', ', speed: 200 %'), rule)[0]).toContain('at 1.5 m/s played at 200 % what happens');
    // What rolls for a fifth of a second and then lies is seen.
    expect(messages(thrown('2 m/s'), rule)).toEqual([]);
  });

  test('what is meant to be frozen or to flow is judged by another rule', () => {
    const meant = ['frozen-motion', 'flowing-motion', 'smeared-motion'];
    expect(meant.flatMap((word) => messages(thrown('3 m/s', '', `, on-purpose: ${word}`), rule))).toEqual([]);
  });

  test('a part that is drawn out by a third of itself is told, a large one is not', () => {
    const writes = (size: string) =>
      spec(`product: { size: 30 x 30 x 7 cm, parts: { nib: { size: ${size}, height: 3 cm } } }
shots:\n  writes: { record: 8 s, subject: nib, action: { lasts: 6 s, fastest: 20 cm/s } }
cut:\n  - { shot: writes, length: 5 s }\n`);
    // 200 mm/s x 1/50 s x 4.83 px/mm = 19 px, or 4 mm.
    expect(messages(writes('6 x 20 x 6 mm'), rule)).toEqual([
      'writes: at 20 cm/s and 4.8 pixels for each mm in `film`, 1/50 s draws it out by 19 pixels, 67 % of `nib`: while it moves, its shape is not seen. Slower than 12 cm/s, or with 1/81 s, it is.',
    ]);
    expect(severities(writes('6 x 20 x 6 mm'), rule)).toEqual(['sheet']);
    expect(messages(writes('20 x 2 x 20 cm'), rule)).toEqual([]);
  });
});

test('how it stands before and after what the cut uses of a turn brings no finding', () => {
  const turning = (handles: string, starts: string, from: string, record: string) =>
    spec(`product: { size: 40 x 12 x 14 cm, finish: glossy, parts: { label: { size: 60 x 20 mm, height: 5 cm, letters: 5 mm, faces: front } } }
shots:
  box: { record: ${record}, handles: ${handles}, sharp: front, shows: label, turn: { speed: 2 rpm, starts: ${starts} }, camera: { lens: macro, distance: 70 cm, aperture: f/4 } }
  mark: { record: ${record}, handles: ${handles}, subject: label, turn: { speed: 2 rpm, starts: ${starts} }, camera: { lens: macro, distance: 40 cm, aperture: f/4 } }
cut:
  - { shot: box, length: 3 s }
  - { shot: mark, length: 3 s }
  - { shot: box, length: 4 s, from: ${from} }
`);
  // 2 rpm are 12° a second: nine seconds more before the piece, and 108° earlier, show the same.
  const said = (text: string) => checkSpec(text).findings.map(({ message }) => message);
  const [long, short] = [turning('10 s', '-120°', '10 s', '24 s'), turning('1 s', '-12°', '1 s', '6 s')].map(said);
  expect(long!.length).toBeGreaterThan(2);
  expect(long).toEqual(short);
});
