/** Hints: the spec with what stands beside its lines, in angle quotes. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type HintKind, hintKinds, hintsIn } from '../../server/features/hints.ts';
import { readHints } from '../../server/handlers/hints.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const sample = (path: string) => readFileSync(new URL(`../../sample-workspace/${path}`, import.meta.url), 'utf8');
const [draft, draftKit] = [sample('first-draft.shoot.yaml'), sample('kits/camera.kit.yaml')];

/** The lines that have hints, with the hints in them. */
function hinted(text: string, kinds: readonly HintKind[] = hintKinds, from = 0, to = text.length): string[] {
  const hints = hintsIn(checkSpec(text), { start: from, end: to }, new Set(kinds));
  const lines = new Map<string, string>();
  let shown = '';
  let done = 0;
  for (const { offset, text: hint } of hints) {
    shown += `${text.slice(done, offset)}«${hint}»`;
    done = offset;
  }
  for (const line of (shown + text.slice(done)).split('\n')) if (line.includes('«')) lines.set(line, line);
  return [...lines.keys()];
}

const film = spec(`shots:
  box: { record: 12 s, takes: 3, camera: { distance: 60 cm to 45 cm } }
  slow: { record: 12 s, camera: { raster: 1920x1080, rate: 100, bits: 8 } }
music: { tempo: 100 bpm }
cut:
  - { shot: box, length: 8 beats, zoom: 1.0 to 1.4 }
  - { shot: slow, length: 2 s }
`);

describe('beside its line stands', () => {
  it('the shutter angle, 360° × rate × time, from the least to the most of the shots that take it over', () => {
    expect(hinted(film, ['shutterAngle'])).toEqual(['  shutter: 1/50 s«180° to 720°»']);
  });

  it('the time of an angle', () => {
    expect(hinted(film.replace('shutter: 1/50 s', 'shutter: 90°'), ['shutterAngle'])).toEqual([
      '  shutter: 90°«1/400 s to 1/100 s»',
    ]);
  });

  it('how far off the light is, and the sharp zone and the width at both ends of a move', () => {
    // 17.3 mm sensor, 3840x2160 of it, 25 mm lens: 17.3 × (600 − 25) ÷ 25 = 398 mm wide at 60 cm (thin lens).
    const [box] = hinted(film, ['pictureWidth']);
    expect(box).toMatch(/^ {2}box:«29\.\d cm to 39\.8 cm wide»/);
    // 11.8 cm of the whole picture, of which the cut enlarges everything 1.4 times, blur too.
    expect(hinted(film, ['depthOfField'])[0]).toMatch(/^ {2}box:«sharp 84 mm»/);
    expect(hinted(film.replace(', zoom: 1.0 to 1.4', ''), ['depthOfField'])[0]).toMatch(/^ {2}box:«sharp 11\.8 cm»/);
    const following = film.replace('focus: locked', 'focus: follow').replace(', zoom: 1.0 to 1.4', '');
    expect(hinted(following, ['depthOfField'])[0]).toMatch(/^ {2}box:«sharp 65 mm to 11\.8 cm»/);
    // 1/50 s does not fit into a frame of 1/100 s, so nothing is said of its exposure.
    expect(hinted(film, ['exposure'])).toHaveLength(1);
    const faster = film.replace('rate: 100,', 'rate: 100, shutter: 1/200 s,');
    expect(hinted(faster, ['exposure'])[1]).toMatch(/^ {2}slow:«(?:[\d.]+ stops? (?:over|under)|as planned)»/);
  });

  it('the same depth as the finding about it says, and the hover', () => {
    const tight = spec('cut:\n  - { shot: box, length: 10 s, zoom: 1.6 }\n').replace('focus: locked', 'focus: 59 cm');
    const { findings } = checkSpec(tight.replace('aperture: f/8', 'aperture: f/2'));
    const [, near, far] = / holds ([\d.]+) cm to ([\d.]+) cm sharp/.exec(
      findings.find(({ rule }) => rule === 'depth-of-field-short')!.message,
    )!;
    const [hint] = hinted(tight.replace('aperture: f/8', 'aperture: f/2'), ['depthOfField']);
    const shown = /sharp ([\d.]+) (mm|cm)/.exec(hint!)!;
    const mm = Number(shown[1]) * (shown[2] === 'cm' ? 10 : 1);
    expect(Math.abs((Number(far) - Number(near)) * 10 - mm)).toBeLessThan(1.1);
  });

  it('of several at one place, set apart', () => {
    expect(hinted(film, ['depthOfField', 'pictureWidth'])[0]).toMatch(/«sharp 84 mm»«· 29\.\d cm to 39\.8 cm wide»/);
  });

  it('spare pixels of a zoom at its tightest: 3840 ÷ 1.4 ÷ 1920', () => {
    expect(hinted(film, ['zoomSpare'])).toEqual([
      '  - { shot: box, length: 8 beats, zoom: 1.0 to 1.4«1.43× the pixels» }',
      '  - { shot: slow«just enough pixels», length: 2 s }',
    ]);
    expect(hinted(film.replace('zoom: 1.0 to 1.4', 'zoom: 3'), ['zoomSpare'])[0]).toContain('zoom: 3«enlarged 1.5×»');
  });

  it('frames of a beat (60 ÷ 100 × 25) and when a piece is on screen', () => {
    expect(hinted(film, ['framesPerBeat', 'runningTime'])).toEqual([
      'music: { tempo: 100 bpm«15 frames a beat» }',
      '  - { shot: box, length: 8 beats«0 s to 4.8 s», zoom: 1.0 to 1.4 }',
      '  - { shot: slow, length: 2 s«4.8 s to 6.8 s» }',
    ]);
  });

  it('the size of the file, 16 Mb/s × 6.8 s ÷ 8, and of the takes, 150 Mb/s × 36 s ÷ 8', () => {
    expect(hinted(film, ['fileSize', 'storage'])).toEqual([
      expect.stringContaining('bitrate: 16 Mb/s«13.6 MB without sound»'),
      'shots:«825 MB of takes»',
      '  box: { record: 12 s«675 MB in 3 takes», takes: 3, camera: { distance: 60 cm to 45 cm } }',
      '  slow: { record: 12 s«150 MB», camera: { raster: 1920x1080, rate: 100, bits: 8 } }',
    ]);
  });
});

describe('a bitrate that several deliverables take over', () => {
  const withStory = (story: string) =>
    film.replace(
      /^deliver:\n.*\n/m,
      `deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920${story} }
  square: { like: film, raster: 1080x1080 }
`,
    );
  const line = '  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s«';

  it('has one hint beside it', () => {
    expect(hinted(withStory(''), ['fileSize'])).toEqual([`${line}13.6 MB without sound», sound: none }`]);
  });

  it('has the smallest and the largest file where they differ: 16 Mb/s × 3 s ÷ 8 = 6 MB', () => {
    expect(hinted(withStory(', section: 0 s to 3 s'), ['fileSize'])).toEqual([
      `${line}6 MB to 13.6 MB without sound», sound: none }`,
    ]);
  });

  it('has another one beside a bitrate of its own', () => {
    expect(hinted(withStory(', bitrate: 8 Mb/s'), ['fileSize'])).toEqual([
      `${line}13.6 MB without sound», sound: none }`,
      '  story: { like: film, raster: 1080x1920, bitrate: 8 Mb/s«6.8 MB without sound» }',
    ]);
  });
});

describe('hints', () => {
  it('are given for the part that is on the screen only', () => {
    const at = film.indexOf('  slow:');
    expect(hinted(film, hintKinds, at, film.indexOf('music:')).every((line) => line.startsWith('  slow'))).toBe(true);
  });

  it('fit the 43 characters whole that an editor shows of a line', () => {
    const long = film.replaceAll('shot: box', 'shot: a-box').replace('  box:', '  a-box:');
    const lines = [film, long, draft].flatMap((text) => {
      const result = checkSpec(text, { 'kits/camera.kit.yaml': draftKit });
      const byLine = new Map<number, string>();
      for (const { offset, text: hint } of hintsIn(result, { start: 0, end: text.length }, new Set(hintKinds))) {
        const at = result.doc.lines.line(offset);
        byLine.set(at, (byLine.get(at) ?? '') + hint);
      }
      return [...byLine.values()];
    });
    expect(lines.length).toBeGreaterThan(15);
    expect(lines.filter((line) => line.length > 43)).toEqual([]);
    expect(lines.some((line) => line.startsWith('as planned'))).toBe(true);
  });

  it('say of a single shot once what it records', () => {
    expect(hinted(spec(''), ['storage']).length).toBe(1);
  });

  it('are none where nothing is known', () => {
    expect(hinted('')).toEqual([]);
    expect(hinted('title: A\nshots:\n  a: {}\n')).toEqual([]);
    expect(hinted('shots: [\n')).toEqual([]);
  });

  it('can each be switched off', () => {
    expect([...readHints({ hints: { storage: false, exposure: true } })]).toEqual(
      hintKinds.filter((kind) => kind !== 'storage'),
    );
    expect(readHints(undefined).size).toBe(hintKinds.length);
    expect(readHints({ hints: 'none' }).size).toBe(hintKinds.length);
  });
});
