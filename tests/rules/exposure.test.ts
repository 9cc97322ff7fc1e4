import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const box = (camera: string, more = '') => spec(`shots:\n  box: { record: 12 s, camera: { ${camera} }${more} }\n`);
const severities = (text: string, rule: string) => findings(text, rule).map((one) => one.severity);

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
    expect(way('focus: auto, distance: 60 cm to 50 cm')).toContain('Lock focus so that it follows the subject.');
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
    for (const one of Object.values(fixed(text, rule))) {
      expect(messages(one, rule)).toEqual([]);
      expect(one).toContain('  white-balance: 5000 K\n  iso: 500\n  focus: locked\n');
    }
  });

  test('is silent about focus that follows, and about what cannot be read', () => {
    expect(messages(spin('focus: follow'), rule)).toEqual([]);
    expect(messages(spin('white-balance: 5000'), rule)).toEqual([]);
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

  test('a lens with one aperture is not automatic', () => {
    const text = spec('kit: kits/phone.kit.yaml\n')
      .replace('  aperture: f/8\n', '')
      .replace('lens: normal', 'lens: main');
    expect(messages(text, rule)).toEqual([]);
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
    expect(Object.keys(fixed(phone('distance: 50 cm, angle: 30°'), rule))).toEqual([
      'Set level of `panel` to 18 %',
      'Put `panel` at 121 cm',
    ]);
  });

  test.each([
    ['iso: 100', 'warning'],
    ['iso: 400', undefined],
    ['iso: 250', undefined],
    ['iso: 800', undefined],
    ['iso: 1000', 'warning'],
    ['iso: 3200, filters: nd-3', undefined],
    ['iso: 1600, exposure: 2 stops', undefined],
    ['iso: 400, exposure: 2 stops', 'warning'],
    ['iso: auto', undefined],
  ])('%s: %s', (camera, expected) => {
    expect(severities(box(camera), rule)).toEqual(expected ? [expected] : []);
  });

  test('a stop is the limit, from both sides, and the settings file can move it', () => {
    // 1910 lx against 2178 × 400 ÷ ISO: +1 stop is at ISO 912, −1 stop at ISO 228.
    const at = (iso: number) => messages(box(`iso: ${iso}`), rule).length;
    expect([at(227), at(230), at(910), at(915)]).toEqual([1, 0, 0, 1]);
    const files = { 'shootspec.yaml': 'rules:\n  exposure-off: { allow: 0.5 stops, reason: Graded late. }\n' };
    expect(messages(box('iso: 800'), rule, files)).toHaveLength(1);
  });

  test('what was measured wins over what was computed', () => {
    const text = phone('distance: 50 cm, angle: 30°, measured: 835 lx');
    expect(messages(text, rule)).toEqual([]);
  });

  test('on-purpose words, each for its side', () => {
    expect(messages(box('iso: 50', ', on-purpose: low-key'), rule)).toEqual([]);
    expect(messages(box('iso: 50', ', on-purpose: silhouette'), rule)).toEqual([]);
    expect(messages(box('iso: 50', ', on-purpose: high-key'), rule)).toHaveLength(1);
    expect(messages(box('iso: 3200', ', on-purpose: high-key'), rule)).toEqual([]);
    expect(messages(box('iso: 3200', ', on-purpose: low-key'), rule)).toHaveLength(1);
  });

  test('is silent where the light is not known, or only draws the edge', () => {
    expect(messages(phone('angle: 30°'), rule)).toEqual([]);
    expect(messages(phone('distance: 50 cm, angle: 150°'), rule)).toEqual([]);
    expect(messages(phone('distance: 150 cm, angle: 80°, role: rim'), rule)).toEqual([]);
  });

  test('a lamp that changes is judged by its better end', () => {
    const fading = (level: string) =>
      phone(`distance: 50 cm, angle: 30°, level: ${level}`).replace('shots:\n  box: {', 'shots:\n  box: { lit: panel,');
    expect(messages(fading('1 % to 18 %'), rule)).toEqual([]);
    expect(messages(fading('1 % to 100 %'), rule)).toEqual([]);
    expect(messages(fading('90 % to 100 %'), rule)).toHaveLength(1);
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

  test('a level is only offered where the other shots under the lamps stay right', () => {
    const text = spec(`shots:
  box: { record: 12 s }
  dark: { record: 12 s, camera: { iso: 200, aperture: f/11 } }
cut:
  - { shot: box, length: 10 s }
`);
    expect(Object.keys(fixed(text, rule)).filter((title) => title.includes('level'))).toEqual([]);
  });
});
