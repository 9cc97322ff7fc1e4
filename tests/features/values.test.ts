/** Values ranked by the rules: those that work first, each with what it means, the others with what is wrong. */
import { describe, expect, it } from 'vitest';
import { completions, labels, told } from '../helpers/complete.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';
import { specOf } from '../bench/specs.ts';
import { split } from '../helpers/cursor.ts';

const turning = (camera: string) =>
  spec(`shots:\n  box:\n    record: 12 s\n    turn: { speed: 2 rpm }\n    camera: { ${camera} }\n`);
const found = (marked: string) => completions(marked);
const detail = (marked: string, label: string) => found(marked).find((one) => one.label === label)?.detail ?? '';
const clean = (marked: string) => labels(found(marked).filter((one) => !one.warned));

describe('at `focus`', () => {
  it('what is set once is first, then the best distance, then what follows, and what the camera decides is last', () => {
    const all = labels(found(turning('focus: ‸')));
    expect(all[0]).toBe('locked');
    expect(all[1]).toMatch(/^\d+(\.\d)? cm$/);
    expect(all.slice(2)).toEqual(['follow', 'auto']);
  });
});

describe('at `shutter`', () => {
  it('half a frame is first, with angle, flicker and exposure; what stutters or smears is last, with the reason', () => {
    const all = found(turning('shutter: ‸'));
    // 360° × 25 × 1/50 s (definition of the shutter angle).
    expect(all[0]).toMatchObject({
      label: '1/50 s',
      detail: expect.stringMatching(/^180° · no flicker · [\d.]+ stop/),
    });
    expect(all.find((one) => one.label === '1/25 s')!.detail).toMatch(/^360° · .*· info: box: 1\/25 s at 25 is 360°/);
    const warned = all.map((one) => one.warned !== undefined);
    expect(warned.indexOf(true)).toBeGreaterThan(0);
    expect(warned.slice(warned.indexOf(true))).not.toContain(false);
    expect(all.find((one) => one.label === 'auto')!.warned).toMatch(/left to the camera/);
  });

  it('only what the camera has is offered', () => {
    // The kit's camera goes from 1/8000 s to 1/24 s.
    const longest = Math.max(
      ...labels(found(turning('shutter: ‸'))).flatMap((text) =>
        text === 'auto' ? [] : [1 / Number(text.slice(2, -2))],
      ),
    );
    expect(longest).toBeLessThanOrEqual(1 / 24);
  });

  it('mains light that flickers is said', () => {
    const text = turning('shutter: ‸').replace(
      'lamps:\n',
      'lamps:\n  bulb: { use: bare, distance: 60 cm, angle: 0°, role: accent }\n',
    );
    const kit = `title: Bulbs\nlamps:\n  bare: { output: 5000 lm, temperature: 5000 K, pulses: mains, kind: fluorescent }\n`;
    const all = completions(text.replace('kit: kits/camera.kit.yaml', 'kit: [kits/camera.kit.yaml, bulb.kit.yaml]'), {
      files: { 'bulb.kit.yaml': kit },
    });
    // Lamps on 50 Hz ripple at 100 Hz: 1/50 s averages two ripples, 1/60 s one and two thirds (IEEE 1789 on ripple).
    expect(all.find((one) => one.label === '1/50 s')!.detail).toContain('no flicker');
    expect(all.find((one) => one.label === '1/60 s')!.detail).toContain('mains light flickers');
    expect(labels(all).indexOf('1/50 s')).toBeLessThan(labels(all).indexOf('1/60 s'));
  });
});

describe('at other settings of the camera', () => {
  it('ISO comes nearest to what exposes as planned first, with how far it is above the base', () => {
    const [first] = found(turning('iso: ‸'));
    expect(first!.detail).toMatch(
      /^(?:exposed as planned|0\.[0-2] stop (?:over|under)) · [\d.]+ stops? above the base$/,
    );
    expect(found(turning('iso: ‸')).find((one) => one.label === '200')!.detail).toContain('the base');
  });

  it('the aperture is one that the lens has, with the sharp zone', () => {
    const all = found(turning('aperture: ‸'));
    expect(labels(all)).not.toContain('f/1.4');
    expect(all[0]!.detail).toMatch(/^sharp [\d.]+ [cm]?m · /);
  });

  it('a colour space that no mode has comes last, with what is said of it', () => {
    const all = found(turning('colour-space: ‸'));
    expect(labels(all).sort()).toEqual(['bt709', 'hlg', 'log', 'pq']);
    expect(labels(all)[0]).toBe('bt709');
    expect(detail(turning('colour-space: ‸'), 'pq')).toMatch(/^error: box: `cam` has no mode with .*pq/);
  });

  it('no filter can be said where the kit has none', () => {
    const text = turning('filters: ‸').replace('kits/camera.kit.yaml', 'kits/bare.kit.yaml');
    const files = { 'kits/bare.kit.yaml': 'title: Bare\ncameras:\n  cam: { sensor: 17.3 x 9.7 mm }\n' };
    expect(told(completions(text, { files }))).toEqual(['none: nothing on the lens']);
    expect(checkSpec(turning('filters: none')).findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('the white balance is that of the key lamp', () => {
    const all = found(turning('white-balance: ‸'));
    expect(told(all)[0]).toBe('5000 K: the white of `key`, the key');
    expect(all.find((one) => one.label === '3200 K')!.warned).toMatch(/113 mired too cool/);
  });

  it('the distance comes with the width of the picture, and what is wrong with being near', () => {
    const all = found(turning('distance: ‸'));
    expect(all.find((one) => one.label === '60 cm')!.detail).toMatch(/^picture 39\.8 cm wide · sharp 11\.8 cm/);
    expect(all.find((one) => one.label === '30 cm')!.warned).toBeDefined();
  });

  it('behind ` to ` the second end is chosen, and judged with the first', () => {
    const all = found(turning('support: slider, distance: 60 cm to ‸'));
    expect(labels(all)).not.toContain('60 cm');
    expect(all.every((one) => !one.label.includes(' to '))).toBe(true);
    const tripod = found(turning('distance: 60 cm to ‸'));
    expect(tripod.every((one) => /^error: .*tripod/.test(one.warned ?? ''))).toBe(true);
  });

  it('rates are those of the camera in this size, with slow motion', () => {
    const all = found(turning('rate: ‸'));
    expect(told(all).slice(0, 2)).toEqual([
      '25: h265 · 10 bits · 150 Mb/s',
      '50: 2× slow motion · h265 · 10 bits · 200 Mb/s',
    ]);
    expect(all.find((one) => one.label === '24')!.warned).toBeDefined();
    expect(labels(all)).not.toContain('100');
  });
});

describe('at a lamp', () => {
  const key = (fields: string) =>
    spec(`lamps:\n  key: { use: panel, temperature: 5000 K, ${fields}, angle: 45°, height: 40 cm, role: key }\n`);

  it('the level that exposes as planned is first', () => {
    expect(told(found(key('level: ‸, distance: 60 cm')))[0]).toMatch(
      /^53 %: exposed as planned · \d+ lx, 100 % of the light$/,
    );
  });

  it('a distance that cannot be is an error, one that is too far too dark', () => {
    expect(detail(key('level: 40 %, distance: ‸'), '30 cm')).toMatch(/error: `key` is 36\.5 cm above/);
    expect(detail(key('level: 40 %, distance: ‸'), '150 cm')).toMatch(/stops under .*too dark/);
  });

  it('temperatures are within what it gives, that of the camera first', () => {
    const all = found(key('temperature: ‸, level: 40 %, distance: 60 cm').replace('temperature: 5000 K, ', ''));
    expect(told(all)[0]).toBe('5000 K: as the camera is set');
    expect(labels(all)).not.toContain('2700 K');
  });
});

describe('in the edit', () => {
  it('tempos have whole frames to the beat: 60 × 25 ÷ 15 = 100', () => {
    const all = found(spec('music: { tempo: ‸ }\n'));
    expect(told(all)[0]).toBe('100 bpm: 15 frames a beat');
    expect(all.every((one) => /^\d+ frames a beat/.test(one.detail!))).toBe(true);
  });

  it('a piece takes what the others leave of the promised length', () => {
    const all = found(spec('cut:\n  - { shot: box, length: 4 s }\n  - { shot: box, length: ‸ }\n'));
    expect(told(all)[0]).toBe('6 s: ends at 10 s');
    expect(all.find((one) => one.label === '3 s')!.warned).toMatch(/short/);
  });

  it('titles start at cuts', () => {
    const text =
      'cut:\n  - { shot: box, length: 4 s }\n  - { shot: box, length: 6 s }\ntitles:\n  - { text: Hello there, at: ‸, hold: 3 s }\n';
    expect(told(found(spec(text)))).toEqual(['0 s: where `box` starts', '4 s: where `box` starts']);
    const beats = found(spec(`music: { tempo: 100 bpm }\n${text.replace('4 s', '8 beats')}`));
    expect(labels(beats)).toContain('8 beats');
  });

  it('letters have a size at which the words fit, and those that do not fit come last', () => {
    // 38 letters of 0.6 capitals in 90 % of 1920 pixels, as SMPTE ST 2046-1 has it: 75.8 pixels of 1080, 7 %.
    const text = 'titles:\n  - { text: "Thirty-eight letters stand in this one", at: 1 s, hold: 4 s, letters: ‸ }\n';
    const all = found(spec(text));
    const unwarned = all.filter((one) => !one.warned).map(({ label }) => label);
    expect(unwarned).toContain('7 %');
    expect(unwarned).not.toContain('8 %');
    expect(all.at(-1)!).toMatchObject({ label: '8 %', warned: expect.stringMatching(/pixels wide/) });
  });

  it('a zoom says how many pixels are left: 3840 ÷ 1920 ÷ zoom', () => {
    expect(detail(spec('cut:\n  - { shot: box, length: 10 s, zoom: ‸ }\n'), '1.0 to 1.2')).toMatch(
      /^1\.67× the pixels/,
    );
  });

  it('a bitrate is enough for the picture and keeps the file under its cap', () => {
    const film = (more: string) =>
      spec(`deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, ${more}, sound: none }\n`);
    // 8 Mb/s × 10 s ÷ 8 = 10 MB; 8e6 ÷ (1920 × 1080 × 25) = 0.154.
    expect(detail(film('bitrate: ‸'), '8 Mb/s')).toMatch(/^about 10 MB · 0\.154 bits for each pixel/);
    const capped = found(film('largest-file: 5 MB, bitrate: ‸'));
    expect(capped.find((one) => one.label === '16 Mb/s')?.warned ?? capped.at(-2)!.warned).toMatch(/5 MB/);
  });

  it('the codec level is the lowest that holds it: 1920x1080 at 25 is level 4 (Rec. ITU-T H.264 table A-1)', () => {
    const text = spec(
      'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, codec-level: ‸, sound: none }\n',
    );
    expect(told(found(text))[0]).toBe('4: the lowest that holds it');
  });
});

describe('what is offered without a warning', () => {
  it.each(['shutter', 'iso', 'aperture', 'white-balance', 'rate'])('at `%s` starts no finding about it', (key) => {
    const marked = turning(`${key}: ‸`);
    const before = (text: string) => checkSpec(text).findings.map((one) => one.rule);
    for (const label of clean(marked)) {
      const text = marked.replace('‸', label);
      const at = text.indexOf(`${key}: ${label}`) + key.length + 2;
      const about = checkSpec(text).findings.filter((one) => one.start === at);
      expect(
        about.map((one) => one.message),
        label,
      ).toEqual([]);
    }
    expect(before(marked.replace('‸', clean(marked)[0] ?? '25')).length).toBeLessThan(6);
  });
});

describe('in a long file', () => {
  const long = specOf(5000).replace('each time\n', 'each time\n      shutter: ‸\n');

  it('values of a shot are tried on that shot', () => {
    const { text } = split(long);
    const all = completions(long, { good: text });
    expect(all[0]).toMatchObject({ label: '1/50 s', detail: expect.stringMatching(/^180°/) });
    expect(all.find((one) => one.label === '1/96 s')!.warned).toMatch(/stutter/);
  });

  it('values of the film as a whole say that they are not checked', () => {
    const marked = `${specOf(5000)}music: { tempo: ‸ }\n`;
    expect(completions(marked)[0]!.detail).toMatch(/^not checked: the file is too long/);
  });
});
