import { describe, expect, test } from 'vitest';
import { checkSpec } from '../helpers/workspace.ts';
import { findings, marked, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

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

const errors = (text: string, rule: string) => findings(text, rule).filter((one) => one.severity === 'error');

describe('flashes-general', () => {
  const rule = 'flashes-general';

  test('more than three flashes a second are over the limit (WCAG 2.3.1, BT.1702-3)', () => {
    expect(errors(alarm('flashes: 3 Hz'), rule)).toEqual([]);
    expect(errors(alarm('flashes: 4 Hz'), rule).map((one) => one.message)).toEqual([
      'box: `alarm` at 4 Hz makes 4 flashes in one second of `film`, over the whole picture (taken so, because ' +
        '`flash-area` is not said), for 9.8 s. The published limit is 3, or less than a quarter of the picture. ' +
        `Flash at 3 Hz or slower (9 frames from one flash to the next at 25), or keep it small. ${flash}`,
    ]);
  });

  test('a quarter of the picture or less does not count (0.006 sr of a 10° field, WCAG 2.3.1)', () => {
    expect(errors(alarm('flashes: 4 Hz, flash-area: 25 %'), rule)).toEqual([]);
    expect(errors(alarm('flashes: 4 Hz, flash-area: 26 %'), rule)).toHaveLength(1);
  });

  test('what counts is film time', () => {
    const played = (speed: string) =>
      `shots:\n  box: { record: 30 s }\ncut:\n  - { shot: box, length: 10 s, speed: ${speed} }\n`;
    expect(errors(alarm('flashes: 2 Hz', played('200 %')), rule)[0]?.message).toContain(
      'box: `alarm` at 2 Hz, played at 200 %, makes 4 flashes in one second of `film`',
    );
    expect(errors(alarm('flashes: 2 Hz', played('200 %')), rule)[0]?.message).toContain('Flash at 1.5 Hz or slower');
    expect(errors(alarm('flashes: 4 Hz', played('50 %')), rule)).toEqual([]);
    expect(errors(alarm('flashes: 4 Hz', played('0 %')), rule)).toEqual([]);
  });

  test('faster than the frames can show it, it folds away', () => {
    // 50 Hz at 25 frames a second with 1/50 s: every frame gets one whole cycle.
    expect(errors(alarm('flashes: 50 Hz'), rule)).toEqual([]);
  });

  test('a lamp that gives little of the light changes less than 10 %', () => {
    const bright = `room: { light: 9000 lx }\nlamps:\n  alarm: { use: tube, temperature: 5000 K, level: 20 %, distance: 1 m, angle: 0°, flashes: 4 Hz }\n`;
    expect(errors(spec(bright), rule)).toEqual([]);
  });

  test('nine frames apart at 25 and ten at 30 are three in a second (BT.1702-3: 360 ms, 334 ms)', () => {
    const at = (rate: number) =>
      `deliver:\n  film: { raster: 1920x1080, rate: ${rate}, codec: h264, bitrate: 16 Mb/s, sound: none }\ntimeline: { rate: ${rate} }\n`;
    expect(errors(colours(4, 6, undefined, at(25)), rule)).toHaveLength(1);
    expect(errors(colours(4.5, 6, undefined, at(25)), rule)).toEqual([]);
    expect(errors(colours(5, 6, undefined, at(30)), rule)).toEqual([]);
    expect(errors(colours(4, 6, undefined, at(30)), rule)).toHaveLength(1);
  });

  test('cuts between two bright colours, or two dark ones, are no flashes', () => {
    expect(errors(colours(3, 6, ['#ffffff', '#f4f4f4']), rule)).toEqual([]);
    expect(errors(colours(3, 6, ['#303030', '#101010']), rule)).toEqual([]);
    expect(errors(colours(3, 6, ['#a0a0a0', '#505050']), rule)).toHaveLength(1);
  });

  test('three pairs of changes are three flashes, four are over', () => {
    // White first: what the shot before it looks like is not known, so that the first change counted is the one back to white.
    expect(errors(colours(3, 4), rule)).toEqual([]);
    expect(marked(colours(3, 5), rule)).toEqual(['"#ffffff"']);
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
    expect(errors(two('0 s to 4 s'), rule)[0]?.message).toContain('in one second of `film`,');
    expect(errors(two('4 s to 6 s'), rule)[0]?.message).toContain('in one second of `film` and `teaser`,');
  });

  test('a screen counts with the most of the picture that it can fill', () => {
    // 24 x 13.5 cm of a field of about 86 x 48 cm behind the product: 8 %.
    const screen = (size: string) =>
      spec(`lamps: {}\nbackdrop: { use: monitor, size: ${size}, behind: 70 cm, flashes: 4 Hz }\n`);
    expect(errors(screen('24 x 13 cm'), rule)).toEqual([]);
    expect(errors(screen('60 x 34 cm'), rule)[0]?.message).toMatch(
      /box: the screen at 4 Hz makes 4 flashes .* over up to 4\d % of the picture/,
    );
  });

  test('people on the set are thought of whatever the film shows; a warning lowers that to a note', () => {
    const text = alarm('flashes: 10 Hz, flash-area: 5 %');
    expect(findings(text, rule).map((one) => one.severity)).toEqual(['warning']);
    expect(messages(text, rule)[0]).toContain('`alarm` flashes at 10 Hz on the set.');
    const warned = findings(`${text}care: { precautions: flash-warned }\n`, rule);
    expect(warned.map((one) => one.severity)).toEqual(['info']);
    expect(warned[0]?.message).toContain(
      'You say that people are warned of the flashes (`flash-warned`); nobody has checked it.',
    );
    expect(messages(alarm('flashes: 2 Hz, flash-area: 5 %'), rule)).toEqual([]);
    expect(messages(alarm('flashes: 61 Hz, flash-area: 5 %'), rule)).toEqual([]);
  });

  test('a warning does not lower what is said about the film', () => {
    expect(errors(alarm('flashes: 4 Hz', 'care: { precautions: flash-warned }\n'), rule)).toHaveLength(1);
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
    expect(errors(red, rule)[0]?.message).toContain('makes 4 flashes of saturated red in one second of `film`');
    expect(messages(red, 'flashes-general')).toEqual([]);
    expect(errors(alarm('flashes: 3 Hz, colour: "#ff0000"'), rule)).toEqual([]);
  });

  test('dark red is too dim for the general limit and counts all the same', () => {
    // #700000: 0.162 of linear red, (R − G − B) × 320 = 52; luminance 0.034, under the 10 % of the general limit.
    const text = colours(3, 6, ['#700000', '#000000']);
    expect(errors(text, rule)).toHaveLength(1);
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
