import { describe, expect, test } from 'vitest';
import { sheetText } from '../../server/views/sheet.ts';
import { findings, messages, severities } from '../helpers/findings.ts';
import { checkerFor, checkSpec, ownKit, spec } from '../helpers/workspace.ts';

const flash =
  'This is a reminder, not a safety assessment: whoever shows the film tests it, local rules decide, and no limit takes all risk away.';

/** A dark room with one lamp that flashes; 25 frames a second unless said. */
const alarm = (lamp: string, rest = '') =>
  spec(`room: { light: none }
lamps:
  alarm: { use: tube, temperature: 5000 K, distance: 50 cm, angle: 330°, height: 20 cm, ${lamp} }
${rest}`);

/** Plain colours, each for so many frames. */
const colours = (frames: number, pairs: number, [one, other] = ['#ffffff', '#000000'], rest = '') =>
  spec(`lamps: {}
${rest}
cut:
  - { shot: box, length: 5 s }
${`  - { colour: "${one}", length: ${frames} frames }\n  - { colour: "${other}", length: ${frames} frames }\n`.repeat(pairs)}`);

const errors = (text: string, rule: string) =>
  findings(text, rule).flatMap(({ severity, message }) => (severity === 'error' ? [message] : []));

describe('flashes-general', () => {
  const rule = 'flashes-general';

  test('more than three flashes a second are over the limit (WCAG 2.3.1, BT.1702-3)', () => {
    expect(errors(alarm('flashes: 4 Hz'), rule)).toEqual([
      'box: `alarm` at 4 Hz makes 4 flashes in one second of `film`, over the whole picture (taken so, because ' +
        '`flash-area` is not said), for 9.8 s. The published limit is 3, or less than a quarter of the picture. ' +
        `Flash at 3 Hz or slower, or keep it small. ${flash}`,
    ]);
  });

  const played = (speed: string) =>
    `shots:\n  box: { record: 30 s }\ncut:\n  - { shot: box, length: 10 s, speed: ${speed} }\n`;
  const at = (rate: number) =>
    `deliver:\n  film: { raster: 1920x1080, rate: ${rate}, codec: h264, bitrate: 16 Mb/s, sound: none }\ntimeline: { rate: ${rate} }\n`;
  test.each([
    ['three in a second', alarm('flashes: 3 Hz'), 0],
    // 0.006 sr of a 10° field, WCAG 2.3.1.
    ['a quarter of the picture', alarm('flashes: 4 Hz, flash-area: 25 %'), 0],
    ['more than a quarter of it', alarm('flashes: 4 Hz, flash-area: 26 %'), 1],
    ['played at half speed', alarm('flashes: 4 Hz', played('50 %')), 0],
    ['held as a still', alarm('flashes: 4 Hz', played('0 %')), 0],
    // 50 Hz at 25 frames a second with 1/50 s: every frame gets one whole cycle.
    ['faster than the frames can show it', alarm('flashes: 50 Hz'), 0],
    [
      'a lamp that gives less than 10 % of the light',
      spec(
        `room: { light: 9000 lx }\nlamps:\n  alarm: { use: tube, temperature: 5000 K, level: 20 %, distance: 1 m, angle: 0°, flashes: 4 Hz }\n`,
      ),
      0,
    ],
    ['warned people, who do not change the film', alarm('flashes: 4 Hz', 'care: { precautions: flash-warned }\n'), 1],
    // BT.1702-3: 360 ms at 25 and 334 ms at 30, nine and ten frames, are three in a second.
    ['8 frames apart at 25', colours(4, 6, undefined, at(25)), 1],
    ['9 frames apart at 25', colours(4.5, 6, undefined, at(25)), 0],
    ['8 frames apart at 30', colours(4, 6, undefined, at(30)), 1],
    ['10 frames apart at 30', colours(5, 6, undefined, at(30)), 0],
    ['two bright colours', colours(3, 6, ['#ffffff', '#f4f4f4']), 0],
    ['two dark colours', colours(3, 6, ['#303030', '#101010']), 0],
    ['a middle and a dark one', colours(3, 6, ['#a0a0a0', '#505050']), 1],
    // White first: what the shot before it looks like is not known, so that the first change counted is the one back to white.
    ['three pairs of changes', colours(3, 4), 0],
    ['four', colours(3, 5), 1],
  ])('%s', (_, text, count) => {
    expect(errors(text, rule)).toHaveLength(count);
  });

  test('what counts is film time', () => {
    const [message] = errors(alarm('flashes: 2 Hz', played('200 %')), rule);
    expect(message).toContain('box: `alarm` at 2 Hz, played at 200 %, makes 4 flashes in one second of `film`');
    expect(message).toContain('Flash at 1.5 Hz or slower');
  });

  test('only the deliverables that show it count, and they are named together', () => {
    const two = (section: string) =>
      colours(
        3,
        6,
        undefined,
        `deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
  teaser: { like: film, section: ${section} }
`,
      );
    expect(errors(two('0 s to 4 s'), rule)[0]).toContain('in one second of `film`,');
    expect(errors(two('4 s to 6 s'), rule)[0]).toContain('in one second of `film` and `teaser`,');
  });

  test('a screen counts with the most of the picture that it can fill', () => {
    // 24 x 13.5 cm of a field of about 86 x 48 cm behind the product: 8 %.
    const screen = (size: string) =>
      spec(`lamps: {}\nbackdrop: { use: monitor, size: ${size}, behind: 70 cm, flashes: 4 Hz }\n`);
    expect(errors(screen('24 x 13 cm'), rule)).toEqual([]);
    expect(errors(screen('60 x 34 cm'), rule)[0]).toMatch(
      /box: the screen at 4 Hz makes 4 flashes .* over up to 4\d % of the picture/,
    );
  });

  test('people on the set are thought of whatever the film shows; a warning leaves that to the sheet', () => {
    const rule = 'flashes-on-set';
    const text = alarm('flashes: 10 Hz, flash-area: 5 %');
    expect(severities(text, rule)).toEqual(['warning']);
    expect(messages(text, rule)[0]).toContain('`alarm` flashes at 10 Hz on the set.');
    const warned = findings(`${text}care: { precautions: flash-warned }\n`, rule);
    expect(warned.map((one) => one.isForSet)).toEqual([true]);
    expect(warned[0]?.message).toContain(
      'You say that people are warned of the flashes (`flash-warned`); nobody has checked it.',
    );
    expect(messages(alarm('flashes: 2 Hz, flash-area: 5 %'), rule)).toEqual([]);
    expect(messages(alarm('flashes: 61 Hz, flash-area: 5 %'), rule)).toEqual([]);
  });

  test('people on the set are thought of where the film itself is over the limit, too, and where that is accepted', () => {
    expect(messages(alarm('flashes: 4 Hz'), 'flashes-on-set')).toHaveLength(1);
    const accepted = alarm('flashes: 4 Hz }  # accept flashes-general: It is shown at the workshop only.\n  #');
    expect(messages(accepted, 'flashes-general')).toEqual([]);
    expect(messages(accepted, 'flashes-on-set')).toHaveLength(1);
  });

  test('over five seconds at the limit is a note (BT.1702-3)', () => {
    const cut = (seconds: number) => `cut:\n  - { shot: box, length: ${seconds} s }\n`;
    const notes = (text: string) => messages(text, rule).filter((one) => one.includes('caution even so'));
    expect(notes(alarm('flashes: 3 Hz', cut(8)))).toHaveLength(1);
    expect(notes(alarm('flashes: 3 Hz', cut(4)))).toEqual([]);
    expect(notes(alarm('flashes: 2 Hz', cut(8)))).toEqual([]);
  });
});

describe('flashes-red', () => {
  const rule = 'flashes-red';

  test('red counts at any brightness, and is then the only finding', () => {
    const red = alarm('flashes: 4 Hz, colour: "#ff0000"');
    expect(errors(red, rule)[0]).toContain('makes 4 flashes of saturated red in one second of `film`');
    expect(messages(red, 'flashes-general')).toEqual([]);
    // Less red would be over the general limit: that is no way out.
    expect(errors(red, rule)[0]).not.toContain('less red');
    expect(errors(alarm('flashes: 3 Hz, colour: "#ff0000"'), rule)).toEqual([]);
  });

  test('dark red is too dim for the general limit and counts all the same', () => {
    // #700000: 0.162 of linear red, (R − G − B) × 320 = 52; luminance 0.034, under the 10 % of the general limit.
    const text = colours(3, 6, ['#700000', '#000000']);
    expect(errors(text, rule)[0]).toContain('or take a colour with less red');
    expect(errors(text, 'flashes-general')).toEqual([]);
  });

  test('amber leaves only the general limit', () => {
    // #ffb000: linear 1, 0.434, 0: 0.70 red.
    const text = alarm('flashes: 4 Hz, colour: "#ffb000"');
    expect(errors(text, rule)).toEqual([]);
    expect(errors(text, 'flashes-general')).toHaveLength(1);
  });
});

test('care findings offer no fixes and never say that something is safe', () => {
  for (const text of [alarm('flashes: 4 Hz'), alarm('flashes: 4 Hz, colour: "#ff0000"'), colours(3, 6)]) {
    for (const finding of checkSpec(text).findings.filter((one) => /^flashes/.test(one.rule))) {
      expect(finding.fixes).toEqual([]);
      expect(finding.message).not.toMatch(/\b(?:is|are) (?:safe|fine|compliant|approved)\b/);
      expect(finding.message).toContain('This is a reminder, not a safety assessment');
    }
  }
});

const electric = 'This is a reminder, not a safety assessment: local codes and a licensed electrician decide.';

describe('circuit-overloaded', () => {
  const rule = 'circuit-overloaded';
  // 1440 W of lamps at a power factor of 0.9 are 1600 VA; 2 panels of 65 W are 144.4 VA.
  const plan = (region: string, circuit: string, also: string, hours = '10:00 to 14:00') =>
    spec(`region: ${region}
lamps:
  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45° }
  fill: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 300° }
schedule:
  - { day: 2026-12-02, hours: ${hours} }
care: { circuit: ${circuit}, also-on-circuit: ${also} }
`);

  test('15 A at 120 V takes 1800 VA, and 1440 for 3 hours or more (NEC 210.20(A), Art. 100)', () => {
    // (65 + 65 + 1200) / 0.9 = 1478 VA.
    expect(messages(plan('US', '15 A', '1200 W'), rule)).toEqual([
      'box: 1478 VA at once on a circuit of 15 A at 120 V, which takes 1440 VA (80 % of its rating, because it carries that for 4 h, and from 3 h on that counts). ' +
        `Move \`key\` (72 VA) to another circuit. ${electric}`,
    ]);
    expect(severities(plan('US', '15 A', '1200 W', '10:00 to 12:30'), rule)).toEqual(['info']);
  });

  test('a night that goes past midnight is as long as it is', () => {
    expect(messages(plan('US', '15 A', '1200 W', '20:00 to 02:00'), rule)[0]).toContain(
      'because it carries that for 6 h',
    );
    expect(severities(plan('US', '15 A', '1200 W', '23:00 to 01:30'), rule)).toEqual(['info']);
    expect(severities(plan('US', '15 A', '1200 W', '09:00'), rule)).toEqual(['info']);
  });

  test('16 A at 230 V takes 3680 VA however long (IEC 60364)', () => {
    expect(messages(plan('DE', '16 A', '1170 W'), rule)).toEqual([]);
    // (130 + 2520) / 0.9 = 2944 = 80 % of 3680.
    const near = findings(plan('DE', '16 A', '2520 W'), rule);
    expect(near.map((one) => [one.severity, one.message])).toEqual([
      ['info', `box: 2944 VA at once on a circuit of 16 A at 230 V, which takes 3680 VA: 80 % of it. ${electric}`],
    ]);
    expect(severities(plan('DE', '16 A', '3200 W'), rule)).toEqual(['error']);
  });

  test('15 A at 100 V takes 1500 VA (JP)', () => {
    expect(severities(plan('JP 50 Hz', '15 A', '1230 W'), rule)).toEqual(['error']);
    expect(severities(plan('JP 50 Hz', '15 A', '1210 W'), rule)).toEqual(['info']);
  });

  test('only lamps that are lit at once count, and none on battery', () => {
    const text = (shots: string, runs = '') =>
      spec(`region: JP 50 Hz
lamps:
  key: { use: spot, distance: 60 cm, angle: 45°${runs} }
  fill: { use: panel, distance: 60 cm, angle: 300° }
shots:
${shots}care: { circuit: 2 A }
`);
    // 110 / 0.9 = 122 VA and 72 VA of 200.
    expect(messages(text('  box: { record: 12 s }\n'), rule)).toHaveLength(1);
    expect(messages(text('  box: { record: 12 s, lit: key }\n  back: { record: 12 s, lit: fill }\n'), rule)).toEqual(
      [],
    );
    expect(messages(text('  box: { record: 12 s }\n', ', runs-on: battery'), rule)).toEqual([]);
  });

  test('what is left out of the sum is said', () => {
    const kit =
      'lamps: { big: { output: 5000 lx at 1 m, draw: 1500 W, kind: filament }, old: { output: 500 lx at 1 m } }\n';
    const text = spec(`kit: kits/own.kit.yaml
lamps:
  big: { distance: 2 m, angle: 45° }
  old: { distance: 2 m, angle: 300° }
region: DE
care: { circuit: 6 A }
`);
    const [message] = messages(text, rule, ownKit(kit));
    expect(message).toContain('1500 VA at once on a circuit of 6 A at 230 V, which takes 1380 VA');
    expect(message).toContain(
      'Not counted, because the kit states no draw: `old`. What else is on the circuit is not said.',
    );
  });
});

describe('reel-left-wound', () => {
  const rule = 'reel-left-wound';
  const plan = (reel: string, also: string, more = '') =>
    spec(
      `lamps:\n  key: { use: panel, distance: 60 cm, angle: 45° }\n${more}care: { cable-reel: ${reel}, also-on-circuit: ${also} }\n`,
    );
  const kit = ownKit('reels: { drum: { wound: 500 W, unwound: 2300 W } }\n');
  const both = 'kit: [kits/camera.kit.yaml, kits/own.kit.yaml]\n';

  test('500 W wound and 2300 W unwound (photographed label)', () => {
    expect(messages(plan('wound', '436 W', both), rule, kit)).toEqual([
      'A wound reel carries 501 W here, and `drum` may carry 500 W wound. Wound cable heats itself: unwind it fully, ' +
        `keep it uncovered and in sight. ${electric}`,
    ]);
    const found = (reel: string, also: string) => messages(plan(reel, also, both), rule, kit).length;
    expect([found('wound', '435 W'), found('unwound', '2235 W'), found('none', '2300 W')]).toEqual([0, 0, 0]);
    expect(found('unwound', '2300 W')).toBe(1);
  });

  test('without a label: from 500 W on, however long', () => {
    expect(messages(plan('wound', '400 W'), rule)).toEqual([]);
    expect(messages(plan('wound', '436 W'), rule)).toHaveLength(1);
    const day = 'schedule:\n  - { day: 2026-12-02, hours: 10:00 to 12:00 }\n';
    expect(messages(plan('wound', '100 W', day), rule)).toEqual([]);
  });
});

const fire =
  'This is a reminder, not a safety assessment: the safety sheet, local fire rules and a competent person decide.';

describe('what settings can not take away', () => {
  const rule = 'liquid-near-mains';
  const plan = (comment = '') => spec(`product: { size: 9 x 6 x 7 cm, hazards: liquid }${comment}\n`);
  const graded = (text: string, files = {}) =>
    checkerFor(files)
      .check('tea.shoot.yaml', text)!
      .findings.filter((one) => one.rule === rule)
      .map((one) => one.severity);

  test('a rule stays as a note, and a finding is accepted where it stands with a reason only', () => {
    expect(graded(plan())).toEqual(['warning']);
    const off = { 'shootspec.yaml': `rules:\n  ${rule}: { severity: none, reason: Never spilt yet. }\n` };
    expect(graded(plan(), off)).toEqual(['info']);
    expect(graded(plan(`  # accept ${rule}`))).toEqual(['warning']);
    const text = plan(`  # accept ${rule}: The bottle is sealed.`);
    expect(graded(text)).toEqual([]);
    const { silenced } = checkSpec(text);
    expect(silenced).toMatchObject([{ finding: { rule }, by: { reason: 'The bottle is sealed.' } }]);
  });
});

describe('heat-too-near', () => {
  const rule = 'heat-too-near';
  const kit = (lamp: string) => ownKit(`lamps: { fresnel: { ${lamp} } }\n`);
  const plan = (place: string, rest = '') =>
    spec(`kit: kits/own.kit.yaml\nlamps:\n  key: { use: fresnel, ${place} }\n${rest}`);

  test('the clearance that the maker states, to the nearest side of the product', () => {
    const marked = kit('output: 3000 lx at 1 m, clearance: 50 cm');
    // 9 x 6 x 7 cm: before its front 3 cm less than along the tape.
    const box = (distance: string, rest = '') => messages(plan(`distance: ${distance}, angle: 0°`, rest), rule, marked);
    expect(box('52 cm')).toEqual([
      'box: `key` is 49 cm from the product (52 cm from its middle), and its maker wants 50 cm to anything that could burn. ' +
        `Move it back, and let nothing hang into that space. ${fire}`,
    ]);
    expect(box('53 cm')).toEqual([]);
    // Turned a quarter its side of 9 cm looks there, round its radius.
    const stands = (rest: string) => `shots:\n  box: { record: 12 s, lit: key, ${rest} }\n`;
    expect(box('53.5 cm', stands('turn: { starts: 90° }'))[0]).toContain('is 49 cm from the product');
    expect(box('53.5 cm', stands('turn: { speed: 1 rpm }'))).toEqual([]);
    const jar = 'product: { size: 8 x 8 x 9 cm, symmetry: round }\n';
    expect(box('53 cm', jar)[0]).toContain('is 49 cm from the product');
    expect(box('54 cm', jar)).toEqual([]);
    expect(box('80 cm to 40 cm', stands('takes: 1'))).toHaveLength(1);
  });

  test.each([
    ['80 cm', 'output: 3000 lx at 1 m, kind: filament', 1],
    ['8 cm', 'output: 300 lx at 1 m, kind: led, draw: 60 W', 1],
    ['8 cm', 'output: 300 lx at 1 m, kind: led, draw: 50 W', 0],
    ['8 cm', 'output: 300 lx at 1 m', 0],
  ])('unmarked, 1 m for filament and 10 cm for LED over 50 W: %s, %s', (distance, lamp, count) => {
    expect(messages(plan(`distance: ${distance}, angle: 45°`), rule, kit(lamp))).toHaveLength(count);
  });

  test('12 000 lx of filament light are about 600 W/m², of LED light about 38', () => {
    const wax = 'product: { size: 9 x 6 x 7 cm, hazards: melts }\n';
    const at = (kind: string) => kit(`output: 12000 lx at 1 m, kind: ${kind}, beam: 40°`);
    const text = plan('distance: 1 m, angle: 0°, height: 8 cm', wax);
    const [message] = messages(text, rule, at('filament'));
    expect(message).toContain('gives the product about 12000 lx, which as light of filament is about 600 W/m²');
    expect(messages(text, rule, at('led'))).toEqual([]);
    expect(messages(plan('distance: 1 m, angle: 0°, height: 8 cm'), rule, at('filament'))).toEqual([]);
  });

  test.each([
    ['level: 100 %, angle: 0°', 1],
    ['level: 100 %, angle: 95°', 1],
    ['level: 100 %, angle: 180°', 1],
    ['level: 100 % to 5 %, angle: 0°', 1],
    ['level: 5 % to 100 %, angle: 0°', 1],
    ['level: 5 % to 40 %, angle: 0°', 0],
  ])('what melts has its heat from all sides, at the worst moment: %s', (place, count) => {
    // 12 000 lx ÷ 20 = 600 W/m² on the side that is turned to the lamp, wherever the camera stands.
    const text = plan(
      `distance: 1 m, height: 3.5 cm, ${place}`,
      'product: { size: 9 x 6 x 7 cm, hazards: melts }\nshots:\n  box: { record: 12 s, lit: key }\n',
    );
    const found = messages(text, rule, kit('output: 12000 lx at 1 m, kind: filament, beam: 40°, clearance: 50 cm'));
    expect(found).toHaveLength(count);
    for (const one of found) expect(one).toContain('about 600 W/m²');
  });

  test('a lamp that comes nearer while it is dimmed is hottest on its way', () => {
    // 5 % to 100 % while it goes from 1 m to 4 m: most light at 0.23 of the way, 26.7 % at 1.68 m, 0.094 of the light at
    // 1 m and full; the ends give 0.05 and 0.0625 (arithmetic of level ÷ distance²).
    const text = plan(
      'angle: 0°, height: 3.5 cm, level: 5 % to 100 %, distance: 1 m to 4 m',
      'product: { size: 9 x 6 x 7 cm, hazards: melts }\nshots:\n  box: { record: 12 s, lit: key }\n',
    );
    const lamp = (lux: number) => kit(`output: ${lux} lx at 1 m, kind: filament, beam: 40°, clearance: 50 cm`);
    expect(messages(text, rule, lamp(120_000))).toHaveLength(1);
    expect(messages(text, rule, lamp(100_000))).toEqual([]);
  });

  test('direct sun on what melts', () => {
    const sun = (lux: number) =>
      spec(
        `product: { size: 9 x 6 x 7 cm, hazards: melts }\nroom: { light: ${lux} lx, source: window, temperature: 5600 K }\nlamps: {}\n`,
      );
    expect(messages(sun(80_000), rule)[0]).toContain('about 800 W/m²');
    expect(messages(sun(9000), rule)).toEqual([]);
  });
});

describe('open-flame', () => {
  const candle = ownKit('lamps: { candle: { kind: flame, output: 1 cd, temperature: 1900 K } }\n');
  const plan = (distance: string, rest = '') =>
    spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
lamps:
  candle: { distance: ${distance}, angle: 120°, held: surface }
${rest}`);

  test('is said of every flame, with what is usual and who decides; a precaution is what the user says', () => {
    expect(severities(plan('40 cm'), 'open-flame', candle)).toEqual(['warning']);
    const [message] = messages(plan('40 cm'), 'open-flame', candle);
    expect(message).toContain('box: `candle` burns with an open flame. Somebody watches it');
    expect(message?.endsWith(fire)).toBe(true);
    const watched = plan('40 cm', 'care: { precautions: flame-watched }\n');
    expect(severities(watched, 'open-flame', candle)).toEqual(['sheet']);
    expect(messages(watched, 'open-flame', candle)[0]).toContain(
      'You say that somebody watches the flame and does nothing else, lid and extinguisher in reach (`flame-watched`)',
    );
  });

  test('30 cm to anything that could burn (12 inches, public advice of fire services)', () => {
    expect(messages(plan('29 cm'), 'heat-too-near', candle)[0]).toContain('30 cm is usual for open flames.');
    expect(messages(plan('30 cm'), 'heat-too-near', candle)).toEqual([]);
  });

  test('is no friend of a product that burns', () => {
    const text = plan('40 cm', 'product: { size: 9 x 6 x 7 cm, hazards: flammable }\n');
    expect(messages(text, 'flammable-near-ignition', candle)[0]).toContain(
      '`candle` burns with an open flame 40 cm from it.',
    );
  });
});

describe('flammable-near-ignition', () => {
  const rule = 'flammable-near-ignition';
  const files = ownKit('lamps: { fresnel: { kind: filament, output: 3000 lx at 1 m } }\n');
  const plan = (product: string, distance = '80 cm', rest = '') =>
    spec(`kit: kits/own.kit.yaml
product: { size: 9 x 6 x 7 cm, ${product} }
lamps:
  key: { use: fresnel, distance: ${distance}, angle: 45° }
${rest}`);

  test('a filament lamp within a metre', () => {
    // What is solid is told of by heat-too-near alone.
    expect(messages(plan('hazards: flammable'), rule, files)).toEqual([]);
    const found = findings(plan('hazards: [flammable, liquid]'), rule, files);
    expect(found.map((one) => one.severity)).toEqual(['error']);
    expect(found[0]?.message).toContain('The product is flammable, and `key` burns hot 80 cm from it.');
    expect(found[0]?.message.endsWith(fire)).toBe(true);
    expect(messages(plan('hazards: [flammable, liquid]', '1 m'), rule, files)).toEqual([]);
    expect(messages(plan('hazards: glass'), rule, files)).toEqual([]);
  });

  test('a lamp for the backdrop counts from where it stands', () => {
    const found = (behind: string, place: string) =>
      messages(
        spec(`kit: kits/own.kit.yaml
product: { size: 9 x 6 x 7 cm, hazards: flammable }
backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
lamps:
  wall: { use: fresnel, aim: backdrop, ${place} }
shots:
  box: { record: 12 s, lit: wall }
`),
        rule,
        files,
      );
    expect(found('250 cm', 'distance: 80 cm, angle: 40°')).toEqual([]);
    // Straight before the backdrop at the product's height: 140 − 90 = 50 cm behind the product.
    expect(found('140 cm', 'distance: 90 cm, angle: 0°')[0]).toContain('`wall` burns hot 50 cm from it.');
    expect(found('140 cm', 'distance: 20 cm to 90 cm, angle: 0°')[0]).toContain('`wall` burns hot 50 cm from it.');
    expect(found('140 cm', 'distance: 90 cm')).toEqual([]);
  });

  test('a flash point under 60 °C (GHS)', () => {
    expect(messages(plan('flash-point: 23 °C'), rule, files)[0]).toContain(
      "The product's vapour can catch fire from 23 °C on",
    );
    expect(messages(plan('flash-point: 60 °C'), rule, files)).toEqual([]);
  });

  test('chargers count, and a precaution leaves it to the sheet', () => {
    const care = (words: string) => `care: { charging: watched${words} }\n`;
    const oil = 'hazards: [flammable, liquid]';
    expect(messages(plan(oil, '2 m', care('')), rule, files)[0]).toContain('batteries are charged during the shoot');
    const lowered = findings(plan(oil, '2 m', care(', precautions: flame-kept-away')), rule, files);
    expect(lowered.map((one) => one.isForSet)).toEqual([true]);
    expect(lowered[0]?.message).toContain(
      'You say that flames and sparks are kept away (`flame-kept-away`); nobody has checked it.',
    );
  });

  test('card and cloth give off no vapour: hot lamps and chargers that nobody watches are what is told', () => {
    const folded = 'shots:\n  fold: { record: 12 s, action: { what: A hand folds it., lasts: 8 s } }\n';
    const charged = (how: string) => `care: { charging: ${how} }\n`;
    expect(messages(plan('hazards: flammable', '2 m', `${folded}${charged('watched')}`), rule, files)).toEqual([]);
    const [unwatched] = messages(plan('hazards: flammable', '2 m', charged('unwatched')), rule, files);
    expect(unwatched).toContain('batteries are charged during the shoot. Keep them well apart');
  });

  test('what happens to it lets vapour gather', () => {
    const action = 'shots:\n  pour: { record: 12 s, action: { what: Varnish is poured., lasts: 8 s } }\n';
    const found = findings(plan('hazards: [flammable, liquid]', '2 m', action), rule, files);
    expect(found.map((one) => [one.severity, one.message.slice(0, 30)])).toEqual([
      ['warning', 'pour: The product is flammable'],
    ]);
    expect(
      severities(
        plan('hazards: [flammable, liquid]', '2 m', `${action}care: { precautions: air-moving }\n`),
        rule,
        files,
      ),
    ).toEqual(['sheet']);
  });
});

describe('liquid-near-mains', () => {
  const rule = 'liquid-near-mains';
  const plan = (place: string, rest = '', hazards = 'liquid') =>
    spec(`product: { size: 9 x 6 x 7 cm, hazards: ${hazards} }\nlamps:\n  key: { use: panel, ${place} }\n${rest}`);

  test('mains within 1.5 m of liquid', () => {
    const [message] = messages(plan('distance: 60 cm, angle: 45°'), rule);
    expect(message).toContain('The product holds liquid, and `key` (60 cm) on mains is within 150 cm of it.');
    expect(message).toContain('Nothing says that a residual-current device (30 mA) is fitted');
    expect(message?.endsWith(electric)).toBe(true);
    expect(messages(plan('distance: 60 cm, angle: 45°', '', 'glass'), rule)).toEqual([]);
  });

  test('a lamp for the backdrop counts from where it stands', () => {
    const wall = (behind: string) =>
      `backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
care: { residual-current: fitted }
`;
    const place = 'aim: backdrop, distance: 90 cm, angle: 0°';
    expect(messages(plan(place, wall('140 cm')), rule)[0]).toContain('`key` (50 cm) on mains');
    expect(messages(plan(place, wall('250 cm')), rule)).toEqual([]);
  });

  test('farther away a residual-current device is enough', () => {
    expect(messages(plan('distance: 2 m, angle: 45°', 'care: { residual-current: fitted }\n'), rule)).toEqual([]);
    expect(messages(plan('distance: 2 m, angle: 45°'), rule)[0]).toContain('`key` (200 cm) is on mains');
    expect(messages(plan('distance: 60 cm, angle: 45°', 'care: { residual-current: fitted }\n'), rule)).toHaveLength(1);
  });

  test('a drop of it reaches no socket', () => {
    const ink = (contents: string) =>
      spec(`product: { size: 2 x 14 x 2 cm, contents: ${contents}, hazards: liquid }
`);
    expect(['1.2 ml of ink', '2 cl of ink', 'ink'].map((one) => messages(ink(one), rule).length)).toEqual([0, 1, 1]);
  });

  test('a screen counts, and a tray leaves it to the sheet; of what is all arranged nothing is said', () => {
    const screen = 'backdrop: { use: monitor, behind: 70 cm }\n';
    expect(messages(plan('distance: 60 cm, angle: 45°, runs-on: battery', screen), rule)[0]).toContain(
      '`monitor` (70 cm) on mains is',
    );
    const care = (said: string) => plan('distance: 60 cm, angle: 45°', `care: { ${said} }\n`);
    const some = care('precautions: [drip-tray, mains-kept-dry]');
    expect(severities(some, rule)).toEqual(['sheet']);
    expect(messages(some, rule)[0]).toContain(
      'You say that mains is kept dry (`mains-kept-dry`) and a tray catches what drips (`drip-tray`); nobody has checked it.',
    );
    expect(messages(care('residual-current: fitted, precautions: [drip-tray, mains-kept-dry]'), rule)).toEqual([]);
  });
});

describe('turntable-hazard', () => {
  const rule = 'turntable-hazard';
  const plan = (product: string, turn: string, rest = '') =>
    spec(
      `product: { size: ${product} }\nshots:\n  spin: { record: 14 s, turn: { ${turn} } }\ncut:\n  - { shot: spin, length: 10 s }\n${rest}`,
    );

  test('glass that turns, until something holds it', () => {
    const glass = '9 x 6 x 7 cm, hazards: glass';
    expect(messages(plan(glass, 'use: large, starts: 30°'), rule)).toEqual([]);
    const held = plan(glass, 'use: large, by: 90°', 'care: { precautions: load-centred }\n');
    expect(messages(held, rule)).toEqual([]);
    expect(sheetText(checkSpec(held))).toContain('Non-slip mat under the product');
  });

  test('corners past the plate: 30 x 30 cm sweep 42.4 cm, 6.2 cm past a plate of 30', () => {
    const [message] = messages(plan('30 x 30 x 2 cm', 'use: large, speed: 2 rpm'), rule);
    expect(message).toContain('spin: the product reaches 62 mm past the edge of `large` (30 cm across) as it turns');
    expect(message).toContain('within 10 cm of the middle');
    expect(messages(plan('21 x 21 x 2 cm', 'use: large, speed: 2 rpm'), rule)).toEqual([]);
  });
});

describe('overhead-without-bond', () => {
  const rule = 'overhead-without-bond';
  const lamp = (place: string, rest = '') =>
    spec(`lamps:\n  top: { use: tube, temperature: 5000 K, distance: 90 cm, angle: 0°, ${place} }\n${rest}`);

  test('what hangs', () => {
    const found = findings(lamp('height: 90 cm, held: overhead'), rule);
    expect(found.map((one) => one.severity)).toEqual(['warning']);
    expect(found[0]?.message).toContain('`top` of 800 g hangs overhead, 90 cm above the surface.');
  });

  test.each([
    ['height: 90 cm, held: boom', 1],
    ['height: 90 cm', 0],
    // A clamp counts where the lamp is higher than it is to the side.
    ['height: 70 cm, held: clamp', 1],
    ['height: 60 cm, held: clamp', 0],
  ])('%s: %i', (place, count) => {
    expect(messages(lamp(place), rule)).toHaveLength(count);
  });

  test('a camera that looks down by 60° or more', () => {
    // Lens height less the middle of the product (3.5 cm) over the distance: sin 60° x 80 cm = 69.3 cm.
    const camera = (height: string) =>
      spec(`shots:\n  box: { record: 12 s, camera: { distance: 80 cm, height: ${height}, support: top-arm } }\n`);
    expect(messages(camera('72 cm'), rule)).toEqual([]);
    expect(messages(camera('73 cm'), rule)).toEqual([
      expect.stringContaining('a camera of 920 g looks down from 73 cm above the surface (`box`)'),
    ]);
  });

  test('less than 1.5 kg less than 60 cm above the table is left to the sheet', () => {
    const camera = (height: string, weight: string) =>
      checkSpec(
        spec(`kit: kits/own.kit.yaml
lamps: {}
shots: { box: { record: 12 s, camera: { distance: 50 cm, height: ${height}, support: arm } } }
`),
        ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, weight: ${weight} } }
lenses: { normal: { fits: cam, focal: 25 mm } }
supports: { arm: { load: 5 kg } }
`),
      );
    const told = (height: string, weight: string) =>
      camera(height, weight)
        .findings.filter((one) => one.rule === rule)
        .map((one) => one.severity);
    expect(told('53 cm', '1.4 kg')).toEqual([]);
    expect(told('53 cm', '1.6 kg')).toEqual(['warning']);
    expect(told('61 cm', '1.4 kg')).toEqual(['warning']);
    expect(told('61 cm', '400 g')).toEqual([]);
    expect(sheetText(camera('53 cm', '1.4 kg'))).toContain('A second, independent hold on everything that hangs');
    expect(sheetText(checkSpec(spec('')))).not.toContain('A second, independent hold');
  });

  test('one rig is told once, whatever hangs from it and however many shots it has', () => {
    const text = spec(`lamps:
  top: { use: tube, temperature: 5000 K, distance: 90 cm, angle: 0°, height: 90 cm, held: boom }
shots:
  box: { record: 12 s, camera: { height: 60 cm, support: top-arm } }
  lid: { record: 12 s, camera: { height: 63 cm, support: top-arm } }
`);
    expect(messages(text, rule)).toEqual([
      expect.stringMatching(
        /`top` of 800 g hangs .* and a camera of 920 g looks down from 63 cm .* \(`box` and `lid`\)/,
      ),
    ]);
  });
});

describe('support-overloaded', () => {
  const rule = 'support-overloaded';
  const kit = (support: string) =>
    ownKit(`cameras: { cam: { sensor: 17.3 x 13 mm, weight: 2 kg } }
lenses: { normal: { fits: cam, focal: 25 mm, weight: 300 g } }
supports: { arm: { ${support} } }
`);
  const plan = (rest = '') =>
    spec(`kit: kits/own.kit.yaml\nlamps: {}\nshots:\n  box: { record: 12 s, camera: { support: arm } }\n${rest}`);

  test('a foot that is a clamp is left to the sheet', () => {
    const on = (foot: string) => kit(`load: 5 kg, reach: 40 cm, foot: ${foot}, weight: 900 g`);
    expect(severities(plan(), rule, on('8 cm'))).toEqual(['sheet']);
    expect(severities(plan(), rule, on('12 cm'))).toEqual(['error']);
  });

  test('2.3 kg 90 cm out on 3 kg with feet of 35 cm: 0.83, and a bag of 2.5 kg for 1.5', () => {
    // (3 x 35) / (2.3 x 55) = 0.83; 1.5 x 2.3 x 55 / 35 - 3 = 2.42, in tenths upwards 2.5.
    const files = kit('load: 5 kg, reach: 90 cm, foot: 35 cm, weight: 3 kg');
    const found = findings(plan(), rule, files);
    expect(found.map((one) => one.severity)).toEqual(['error']);
    expect(found[0]?.message).toContain('2.3 kg 90 cm out on `arm` (3 kg, its feet 35 cm from the column)');
    expect(found[0]?.message).toContain('what holds it level is 0.83 times what tips it');
    expect(found[0]?.message).toContain('A bag of 2.5 kg at the column');
    expect(severities(plan('care: { precautions: stands-weighted }\n'), rule, files)).toEqual(['info']);
    expect(messages(plan(), rule, kit('load: 5 kg, reach: 90 cm, foot: 35 cm, weight: 5.5 kg'))).toEqual([]);
  });

  test('over its rating, and a note from 90 % on', () => {
    const graded = (load: string) => severities(plan(), rule, kit(`load: ${load}`));
    expect(['2.2 kg', '2.3 kg', '2.5 kg', '2.6 kg'].flatMap(graded)).toEqual(['error', 'info', 'info']);
  });

  test('a product on its turntable', () => {
    const turning = (weight: string) =>
      spec(
        `product: { size: 20 x 20 x 20 cm, weight: ${weight} }\nshots:\n  spin: { record: 14 s, turn: { use: large, speed: 1 rpm } }\n`,
      );
    expect(messages(turning('11 kg'), rule)).toEqual([
      expect.stringContaining('spin: 11 kg on `large`, which carries 10 kg.'),
    ]);
    expect(messages(turning('7.9 kg'), rule)).toEqual([]);
  });
});

describe('dark-room-hazard', () => {
  const rule = 'dark-room-hazard';
  const dark = (rest: string) => spec(`room: { light: none }\n${rest}`);
  const glass = 'product: { size: 9 x 6 x 7 cm, hazards: glass }\n';
  const helped = 'shots:\n  box: { record: 12 s, people: hand }\n';
  const screen = 'lamps: {}\nbackdrop: { use: monitor, behind: 70 cm }\n';

  test('what cuts, what spills and several people are in the way once the lamps are out', () => {
    expect(severities(dark(glass + helped), rule)).toEqual(['info']);
    expect(messages(dark(glass + helped), rule)[0]).toContain(
      'box: a dark room with 2 cables, 3 stands, glass and more than one person, once the lamps are out. Light the way out',
    );
    expect(messages(spec(`room: { light: 4 lx }\n${glass}${helped}`), rule)).toEqual([]);
    expect(messages(dark(glass), rule)).toEqual([]);
    expect(sheetText(checkSpec(dark(glass)))).toContain('Way out lit and free');
  });

  test('a screen lights no stand', () => {
    expect(messages(dark(screen), rule)[0]).toContain('box: a dark room with a stand.');
  });

  test('all shots are one note, with the most of what any of them has', () => {
    const text = dark(`${glass}shots:
  box: { record: 12 s, lit: key }
  back: { record: 12 s, people: hand }
  night: { record: 12 s, room: { light: none } }
  day: { record: 12 s, room: { light: 300 lx } }
`);
    expect(messages(text, rule)).toEqual([
      expect.stringContaining(
        'box, back and night: a dark room with 2 cables, 3 stands, glass and more than one person',
      ),
    ]);
  });

  test('a tea light beside the product, with a battery of its own, has neither stand nor cable', () => {
    const lit = (more: string) =>
      spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
room: { light: none }
${glass}lamps:
  glow: { use: tealight, temperature: 2000 K, distance: 15 cm, angle: 60°, height: 3 cm, held: surface${more} }
${helped}`);
    const own = ownKit('lamps:\n  tealight: { output: 12 lm, temperature: 2000 K, battery: 0.6 Wh }\n');
    expect(messages(lit(''), rule, own)[0]).toContain('a dark room with a stand, glass and more');
    expect(messages(lit(', runs-on: mains'), rule, own)[0]).toContain('with a cable, a stand, glass and more');
    const flame = ownKit('lamps:\n  tealight: { kind: flame, output: 1 cd, temperature: 1900 K }\n');
    expect(messages(lit(''), rule, flame)[0]).toContain('a dark room with a stand, glass and more');
  });

  test('it asks for what is not arranged yet, and leaves the last of it to the sheet', () => {
    const plan = (words: string) => dark(`${glass}${helped}care: { precautions: [${words}] }\n`);
    expect(messages(plan(''), rule)[0]).toContain(
      '. Light the way out (`exit-lit`), tape the cables (`cables-taped`), weight the stands (`stands-weighted`), and keep a work light within reach. This is a reminder',
    );
    expect(messages(plan('cables-taped'), rule)[0]).toContain(
      '. Light the way out (`exit-lit`), weight the stands (`stands-weighted`), and keep',
    );
    const most = plan('cables-taped, stands-weighted');
    expect(messages(most, rule)).toEqual([]);
    expect(sheetText(checkSpec(most))).toContain('Way out lit and free');
    expect(sheetText(checkSpec(most))).toContain('work light within reach');
    expect(sheetText(checkSpec(spec(glass)))).not.toContain('Way out lit');
  });

  test('a camera on mains has a cable too', () => {
    const text = dark(`${glass}shots:\n  box: { record: 12 s, people: hand, camera: { runs-on: mains } }\n`);
    expect(messages(text, rule)[0]).toContain('a dark room with 3 cables, 3 stands, glass and more');
  });
});

describe('battery-hazard', () => {
  const rule = 'battery-hazard';
  const plan = (care: string) =>
    spec(
      `kit: [kits/camera.kit.yaml, kits/own.kit.yaml]\nschedule:\n  - { day: 2026-12-02, batteries: block }\ncare: { ${care} }\n`,
    );
  const block = (count: number, wh: number) => ownKit(`batteries: { block: { count: ${count}, energy: ${wh} Wh } }\n`);

  test('100 and 160 Wh in the cabin, two spares at most (49 CFR 175.10(a)(18))', () => {
    const said = (count: number, wh: number) => messages(plan('travel-by-air: cabin'), rule, block(count, wh));
    expect(said(4, 98)).toEqual([]);
    expect(said(4, 100)).toEqual([]);
    expect(said(2, 146)).toEqual([
      expect.stringContaining('`block` (146 Wh): between 100 and 160 Wh. The airline must approve'),
    ]);
    // One in the camera is no spare.
    expect(said(3, 146)).toEqual([expect.stringContaining('The airline must approve')]);
    expect(said(4, 146)).toEqual([
      expect.stringContaining('4 between 100 and 160 Wh. One in the camera and two spares'),
    ]);
    expect(said(1, 160)).toHaveLength(1);
    expect(said(1, 161)).toEqual([expect.stringContaining('over 160 Wh, and not taken as passenger baggage')]);
  });

  test('spares never in the hold', () => {
    expect(messages(plan('travel-by-air: hold'), rule, block(1, 16))).toEqual([
      expect.stringContaining('`block` (16 Wh) in the hold'),
    ]);
    expect(messages(plan('travel-by-air: none'), rule, block(1, 161))).toEqual([]);
  });

  test('charging with nobody there, and somebody who watches: the sheet says it', () => {
    const watched = plan('charging: unwatched, precautions: charging-watched');
    expect(severities(watched, rule, block(1, 16))).toEqual(['sheet']);
  });
});

describe('laser-hazard', () => {
  const rule = 'laser-hazard';
  const files = (word: string) => ownKit(`lamps: { line: { kind: laser${word}, output: 200 cd } }\n`);
  const plan = (finish: string, angle = '90°', rest = '') =>
    spec(
      `kit: kits/own.kit.yaml\nproduct: { size: 9 x 6 x 7 cm, finish: ${finish} }\nlamps:\n  line: { distance: 50 cm, angle: ${angle} }\n${rest}`,
    );
  const graded = (word: string, text: string) => severities(text, rule, files(word));

  test.each([
    ['', 'matte', 'error'],
    [', laser-class: class-4', 'matte', 'error'],
    [', laser-class: class-3b', 'matte', 'error'],
    [', laser-class: class-3r', 'matte', 'warning'],
    [', laser-class: class-2m', 'matte', 'info'],
    [', laser-class: class-2', 'matte', 'info'],
    [', laser-class: class-2', 'metallic', 'warning'],
    [', laser-class: class-1m', 'matte', undefined],
    [', laser-class: class-1', 'glossy', undefined],
  ])('by class (IEC 60825-1), from the side%s on a %s product: %s', (word, finish, severity) => {
    expect(graded(word, plan(finish))).toEqual(severity ? [severity] : []);
  });

  test('into the lens, and off what mirrors and turns', () => {
    expect(graded(', laser-class: class-2', plan('matte', '180°'))).toEqual(['warning']);
    expect(graded(', laser-class: class-1m', plan('matte', '180°'))).toEqual(['warning']);
    const turning = plan('metallic', '90°', 'shots:\n  spin: { record: 14 s, turn: { speed: 2 rpm } }\n');
    expect(messages(turning, rule, files(', laser-class: class-3r'))[0]).toContain(
      'class 3R, and it falls on a metallic product that turns',
    );
  });

  test('a product that holds one', () => {
    expect(messages(spec('product: { size: 9 x 6 x 7 cm, hazards: laser }\n'), rule)).toHaveLength(1);
  });
});

describe('bright-source-hazard', () => {
  const rule = 'bright-source-hazard';
  const plan = (group: number, angle: string) =>
    messages(
      spec(`kit: kits/own.kit.yaml\nlamps:\n  uv: { distance: 50 cm, angle: ${angle} }\n`),
      rule,
      ownKit(`lamps: { uv: { output: 200 cd, risk-group: ${group} } }\n`),
    );

  test('risk group 2 and 3 (IEC 62471)', () => {
    expect(plan(1, '90°')).toEqual([]);
    expect(plan(2, '90°')).toEqual([expect.stringContaining('hurts eyes that stare into it')]);
    expect(plan(3, '90°')).toEqual([expect.stringContaining('hurts eyes and skin before anybody looks away')]);
    expect(plan(2, '180°')).toEqual([expect.stringContaining('shines towards the camera')]);
  });

  test('direct sun on what gathers it', () => {
    const sun = (finish: string, light: string) =>
      messages(
        spec(
          `product: { size: 9 x 6 x 7 cm, finish: ${finish} }\nroom: { light: ${light}, source: window }\nlamps: {}\n`,
        ),
        rule,
      );
    expect(sun('transparent', '60000 lx')).toEqual([
      expect.stringContaining('60000 lx of daylight is direct sun, and the product is transparent.'),
    ]);
    expect(['matte', 'metallic'].flatMap((finish) => sun(finish, '60000 lx'))).toEqual([]);
    expect(sun('transparent', '5000 lx')).toEqual([]);
  });
});
