import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const camera = (more: string) =>
  `camera: { lens: normal, distance: 60 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 400, aperture: f/8, focus: locked, ${more} }\n`;
const lamps = (...rows: string[]) => `lamps:\n${rows.map((row) => `  ${row}\n`).join('')}`;
const panel = (more: string) => `key: { use: panel, distance: 60 cm, angle: 45°, height: 40 cm, ${more} }`;
const tube = (more: string) => `fill: { use: tube, distance: 70 cm, angle: 310°, height: 30 cm, ${more} }`;
const spot = (more = '') => `key: { use: spot, distance: 80 cm, angle: 45°, height: 40 cm, ${more} }`;

/** The finished spec after every fix of the first finding is free of the rule. */
function expectEveryFixClears(text: string, rule: string): void {
  const all = Object.entries(fixed(text, rule));
  expect(all.length).toBeGreaterThan(0);
  for (const [title, after] of all) expect(messages(after, rule), title).toEqual([]);
}

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
    expect(findings(at('5600 K', '5000 K'), rule)[0]?.severity).toBe('info');
    expect(findings(at('5600 K', '6500 K'), rule)[0]?.severity).toBe('info');
    expect(findings(at('5600 K', '6550 K'), rule)[0]?.severity).toBe('warning');
    // 100 K is 9.5 mired at 3200 K and 3.1 at 5600 K.
    expect(messages(at('3200 K', '3300 K'), rule)).toEqual([]);
    expect(messages(at('3200 K', '3350 K'), rule)).toHaveLength(1);
    expect(messages(at('5600 K', '5900 K'), rule)).toEqual([]);
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
    expect(messages(text, rule, { 'kits/own.kit.yaml': kit })).toEqual([
      'box: the camera is set for 5600 K, but `halogen` is 3200 K with `half-orange` (2372 K): ' +
        'the picture will be 243 mired too warm. 2370 K matches.',
    ]);
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
    const files = { 'kits/own.kit.yaml': kit };
    // 3200 K with -131 mired is 5510 K (published).
    expect(messages(text('5500 K'), rule, files)).toEqual([]);
    expect(messages(text('3200 K'), rule, files)[0]).toContain('131 mired too cool. 5500 K matches.');
  });

  test('cool and warm casts on purpose explain one direction each', () => {
    expect(messages(at('5600 K', '3200 K', 'on-purpose: warm-cast\n'), rule)).toEqual([]);
    expect(messages(at('5600 K', '3200 K', 'on-purpose: cool-cast\n'), rule)).toHaveLength(1);
    expect(messages(at('3200 K', '5600 K', 'on-purpose: cool-cast\n'), rule)).toEqual([]);
  });

  test('fixes set the camera, or all lamps, and clear the finding', () => {
    const text = at('5600 K', '3200 K');
    expect(Object.keys(fixed(text, rule))).toEqual(['Set white balance to 3200 K', 'Set `key` and `fill` to 5600 K']);
    expectEveryFixClears(text, rule);
    const filtered = spec(camera('white-balance: 3500 K') + lamps(spot()));
    expect(Object.keys(fixed(filtered, rule))).toEqual([
      'Set white balance to 5600 K',
      'Put `half-orange` on `key` (0.6 stop less from it, 2 mired left)',
    ]);
    expectEveryFixClears(filtered, rule);
  });

  test('says nothing of a lamp that is coloured, changes through the setting, or of an automatic balance', () => {
    expect(messages(spec(camera('white-balance: 5600 K') + lamps(spot('colour: "#3355ff"'))), rule)).toEqual([]);
    expect(messages(at('auto', '3200 K'), rule)).toEqual([]);
    const sweep = (balance: string) =>
      spec(
        `${camera(`white-balance: ${balance}`)}${lamps(panel('temperature: 3200 K to 5600 K'))}shots: { box: { record: 12 s, lit: key } }\n`,
      );
    expect(messages(sweep('4300 K'), rule)).toEqual([]);
    expect(messages(sweep('6500 K'), rule)).toHaveLength(1);
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
    expect(messages(text, rule)).toHaveLength(1);
    expect(messages(text, rule)[0]).toMatch(/^one and two: /);
    expect(marked(text, rule)).toEqual(['5600 K']);
    expect(messages(Object.values(fixed(text, rule))[0]!, rule)).toEqual([]);
  });
});
