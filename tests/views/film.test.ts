/** The film in time, its light and its budgets, in numbers. */
import { describe, expect, test } from 'vitest';
import { drawBudgets } from '../../server/views/budgets.ts';
import { drawColour } from '../../server/views/colour/index.ts';
import { stopsX } from '../../server/views/colour/stops.ts';
import { temperatureX } from '../../server/views/colour/temperature.ts';
import { drawTimeline } from '../../server/views/timeline/index.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';
import { checked, drawnFor, elements, wordsOf } from '../helpers/drawing.ts';

const cut = `shots: { one: { record: 12 s }, two: { record: 12 s } }
music: { track: tune, tempo: 100 bpm, length: 60 s }
`;

describe('the film in time', () => {
  test('pieces lie where they play: 6 s and 4 s of 10 s', () => {
    const { result, film } = checked(`${cut}cut: [{ shot: one, length: 6 s }, { shot: two, length: 4 s }]\n`);
    const picture = drawTimeline(result, film);
    const [one, two] = film.cut.map((piece) => drawnFor(picture, piece.fields.own!).find((el) => el.name === 'rect')!);
    expect(Number(one!.attrs['width']) / Number(two!.attrs['width'])).toBeCloseTo(1.5, 6);
    expect(Number(one!.attrs['x']) + Number(one!.attrs['width'])).toBeCloseTo(Number(two!.attrs['x']), 6);
  });

  // 100 bpm at 25 frames a second: a beat is 15 frames. 6.2 s is frame 155; the beat is at 150.
  test('a cut off the beat says by how many frames', () => {
    const { result, film } = checked(`${cut}cut: [{ shot: one, length: 6.2 s }, { shot: two, length: 3.8 s }]\n`);
    expect(wordsOf(drawTimeline(result, film))).toContain('5 frames late');
    const on = checked(`${cut}cut: [{ shot: one, length: 10 beats }, { shot: two, length: 4 s }]\n`);
    expect(wordsOf(drawTimeline(on.result, on.film)).some((words) => /late|early/.test(words))).toBe(false);
  });

  test('movement, light that changes, titles and sections have their rows', () => {
    const { result, film } = checked(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  teaser: { like: film, length: 4 s, section: 2 s to 6 s }
lamps:
  key: { use: panel, temperature: 5000 K, level: 20 % to 60 %, distance: 60 cm, angle: 45°, height: 40 cm }
shots: { one: { record: 12 s, lit: key, turn: { use: large, speed: 1 rpm } } }
cut: [{ shot: one, length: 10 s, zoom: 1.0 to 1.1 }]
titles: [{ text: Tinnabel, at: 2 s, hold: 4 s }]
`);
    const words = wordsOf(drawTimeline(result, film));
    expect(words).toEqual(
      expect.arrayContaining([
        'push in 1 to 1.1, turns at 1 rpm',
        'key: 20 % to 60 %',
        'Tinnabel',
        'teaser, 1920x1080, 4 s',
      ]),
    );
  });

  // WCAG 2.3.1 allows three flashes in any second.
  test('flashes are counted for each second', () => {
    const { result, film } = checked(`lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, flashes: 5 Hz }
shots: { one: { record: 12 s } }
cut: [{ shot: one, length: 10 s }]
`);
    expect(wordsOf(drawTimeline(result, film))).toContain('5 flashes in a second, over 3');
  });

  test('an empty cut is drawn too', () => {
    const { result, film } = checked('cut: []\n');
    expect(JSON.stringify(drawTimeline(result, film))).not.toMatch(/NaN|Infinity/);
  });
});

describe('light and colour', () => {
  // 10⁶ ÷ 2000 is 500 mired and 10⁶ ÷ 10000 is 100: in the middle are 300 mired, 3333 K.
  test('equal steps in mired are equal on the scale', () => {
    expect(temperatureX(1e6 / 300)).toBeCloseTo((temperatureX(2000) + temperatureX(10_000)) / 2, 6);
    expect(temperatureX(1e6 / 200) - temperatureX(1e6 / 300)).toBeCloseTo(
      temperatureX(1e6 / 300) - temperatureX(1e6 / 400),
      6,
    );
  });

  test('stops are even, and what is beyond the scale is at its end', () => {
    expect(stopsX(2) - stopsX(1)).toBeCloseTo(stopsX(0) - stopsX(-1), 6);
    expect(stopsX(9)).toBe(stopsX(5));
  });

  // 3200 K is 312.5 mired and 5000 K is 200: 112.5 apart.
  test('a lamp says how far it is from neutral, in mired', () => {
    const { result, shot } = checked(
      'lamps:\n  key: { use: panel, temperature: 3200 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }\n',
    );
    const words = wordsOf(drawColour(result, shot));
    expect(words).toContain('3200 K, 113 mired warmer');
    expect(words).toContain('neutral for the camera: 5000 K');
  });

  test('automatic white balance and settings that are not said have no scale to stand on', () => {
    const { result, shot } = checked('camera: { lens: normal, distance: 60 cm, white-balance: auto }\n');
    const words = wordsOf(drawColour(result, shot));
    expect(words).toContain('The camera balances by itself: nothing holds.');
    expect(words.join(' ')).toContain('Not known');
  });
});

describe('budgets', () => {
  // 16 Mb/s for 10 s are 20 MB (arithmetic).
  test('a file is drawn against its cap, and what is too much is crossed', () => {
    const { result, film } = checked(
      'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none, largest-file: 10 MB }\n',
    );
    const picture = drawBudgets(result, film);
    expect(wordsOf(picture)).toContain('20 MB of 10 MB: 10 MB too much');
    const bar = drawnFor(picture, film.deliverables.get('film')!.bitrate!);
    expect(bar.some((one) => one.attrs['stroke-width'] === 1.2 && String(one.attrs['d']).includes('M'))).toBe(true);
    expect(picture.noted.map(({ finding }) => finding.rule)).toContain('file-too-big');
  });

  // IEC: 16 A at 230 V are 3680 VA; 65 W and 24 W at a power factor of 0.9 draw 98.9 VA.
  test('power on the circuit is the sum of what is lit', () => {
    const { result, film } = checked('care: { circuit: 16 A }\n');
    expect(wordsOf(drawBudgets(result, film))).toContain('99 VA of 3680 VA');
  });

  test('days show what fills them', () => {
    const { result, film } = checked('schedule: [{ day: 2026-12-02, hours: 09:00 to 15:00 }]\n');
    const words = wordsOf(drawBudgets(result, film));
    expect(words.some((one) => /^about .* of 6 h$/.test(one))).toBe(true);
    expect(words.some((one) => one.startsWith('building 1 h'))).toBe(true);
  });

  test('so do nights that go past midnight', () => {
    const { result, film } = checked('schedule: [{ day: 2026-12-02, hours: 20:00 to 02:00 }]\n');
    expect(wordsOf(drawBudgets(result, film)).some((one) => /^about .* of 6 h$/.test(one))).toBe(true);
  });

  // 150 Mb/s × (20 + 2) s × 36 takes × 1.02 are 15.1 GB; 95 % of 32 GB are 30.4 GB.
  test('cameras that share a card are drawn on one bar', () => {
    const two = {
      'kits/own.kit.yaml': `cameras:
  one: &body { sensor: 17.3 x 13 mm, modes: [{ raster: 3840x2160, rate: 25, codec: h265, bits: 10, chroma: "4:2:2", colour-space: bt709, bitrate: 150 Mb/s }] }
  other: *body
cards: { small: { holds: 32 GB } }
`,
    };
    const text = spec(
      'kit: kits/own.kit.yaml\nshots: { box: { record: 20 s, takes: 36, camera: { use: one } }, lid: { record: 20 s, takes: 36, camera: { use: other } } }\n',
    );
    const result = checkSpec(text, two);
    const film = result.film!;
    expect(wordsOf(drawBudgets(result, film))).toContain('30.3 GB of 30.4 GB usable');
  });

  test('nothing to reckon is said', () => {
    const { result, film } = checked('kit: none\nshots: {}\ncut: []\ndeliver: {}\nlamps: {}\n');
    expect(wordsOf(drawBudgets(result, film)).join(' ')).toContain('Nothing to reckon yet');
    expect(elements(drawBudgets(result, film).body).length).toBeGreaterThan(0);
  });
});
