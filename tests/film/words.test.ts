/** Titles and names in the corner: their size, place, time and letters. */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { lineOf, shippedFace } from '../../server/film/letters.ts';
import { planned, assembled, type Said } from '../helpers/assembled.ts';
import { planOf } from '../helpers/filmed.ts';

const [width, height] = [640, 360];

function titled(titles: string, more = ''): Said {
  const film = `deliver:\n  film: { raster: ${width}x${height}, rate: 25, codec: h264, sound: none }\n`;
  return { plan: planOf({}, `${film}cut:\n  - { colour: "#000000", length: 20 frames }\ntitles:\n${titles}${more}`) };
}

/** Grey pixels of each frame, black 0 to white 255. */
function greysOf(file: string): Uint8Array[] {
  const args = ['-v', 'error', '-i', file, '-vf', 'scale=out_range=full,format=gray', '-f', 'rawvideo', 'pipe:1'];
  const bytes = execFileSync('ffmpeg', args, { maxBuffer: 1e9 });
  const size = width * height;
  return Array.from({ length: bytes.length / size }, (_, at) => bytes.subarray(at * size, (at + 1) * size));
}

/** The smallest box around all that is brighter than half, in pixels. */
function box(frame: Uint8Array) {
  const lit = [...frame.keys()].filter((at) => frame[at]! > 127);
  const xs = lit.map((at) => at % width);
  const ys = lit.map((at) => Math.floor(at / width));
  return { left: Math.min(...xs), right: Math.max(...xs) + 1, top: Math.min(...ys), bottom: Math.max(...ys) + 1 };
}

const brightest = (frame: Uint8Array) => frame.reduce((most, one) => Math.max(most, one), 0);

describe('a title', () => {
  it('has capitals of the height that is said, inside what is title-safe', async () => {
    const one = (place: string, frame: number) =>
      `  - { text: HEH, at: ${frame} frames, hold: 6 frames, letters: 20 %, place: ${place} }\n`;
    const three = one('top-left', 0) + one('bottom-right', 6) + one('centre', 12);
    const frames = greysOf(await assembled(titled(three)));
    const { left, top, bottom } = box(frames[3]!);
    // A fifth of 360 lines, from 5 % of each side on: SMPTE ST 2046-1.
    expect(bottom - top).toBeGreaterThanOrEqual(71);
    expect(bottom - top).toBeLessThanOrEqual(73);
    expect(Math.abs(top - 18)).toBeLessThanOrEqual(1);
    // A letter stands a little in from where its line starts.
    expect(left - 32).toBeGreaterThanOrEqual(0);
    expect(left - 32).toBeLessThan(0.15 * 72);
    const low = box(frames[9]!);
    expect(Math.abs(low.bottom - 342)).toBeLessThanOrEqual(1);
    expect(608 - low.right).toBeGreaterThanOrEqual(0);
    expect(608 - low.right).toBeLessThan(0.15 * 72);
    const middle = box(frames[15]!);
    expect(Math.abs((middle.left + middle.right) / 2 - 320)).toBeLessThanOrEqual(2);
    expect(Math.abs((middle.top + middle.bottom) / 2 - 180)).toBeLessThanOrEqual(1);
  });

  it('stands as long as it is held, and comes and goes evenly', async () => {
    const title = '  - { text: H, at: 5 frames, hold: 10 frames, fade: 4 frames, letters: 30 % }\n';
    const levels = greysOf(await assembled(titled(title))).map((frame) => brightest(frame) / 255);
    const shares = [0.125, 0.375, 0.625, 0.875, 1, 1, 0.875, 0.625, 0.375, 0.125];
    const none = Array<number>(5).fill(0);
    // Coding puts a little light around an edge.
    [...none, ...shares, ...none].forEach((share, frame) =>
      expect(Math.abs(levels[frame]! - share)).toBeLessThan(0.06),
    );
  });

  it('lies on its panel', async () => {
    const title =
      '  - { text: H, at: 0 s, hold: 1 s, letters: 20 %, place: centre, colour: "#000000", panel: "#ffffff" }\n';
    const frame = greysOf(await assembled(titled(title)))[3]!;
    expect(frame[180 * width + 320]).toBeLessThan(60);
    expect(frame[120 * width + 320]).toBeGreaterThan(200);
    expect(frame[20 * width + 320]).toBeLessThan(20);
  });

  it('stops the film where its font lacks a letter, and names it', async () => {
    const { faults, assembly } = await planned(titled('  - { text: Tee 茶, at: 0 s, hold: 1 s }\n'));
    expect(assembly).toBeUndefined();
    expect(faults).toEqual(['`Tee 茶`: the font Inter has no `茶`. Say a `font` whose `file` in `rights` has it.']);
  });

  it('says which font it is set in, and takes that of the spec', async () => {
    expect((await planned(titled('  - { text: H, at: 0 s, hold: 1 s }\n'))).notes).toEqual([
      'Titles are set in Inter: no `font` is said.',
    ]);
    const named =
      '  - { text: H, at: 0 s, hold: 1 s, font: house }\nrights:\n  house: { kind: font, owner: own, file: fonts/house.ttf }\n';
    expect((await planned(titled(named))).faults).toEqual(['`fonts/house.ttf`, the font `house`, is not there.']);
    expect(
      (await planned({ ...titled(named), files: { 'fonts/house.ttf': new TextEncoder().encode('no font') } })).faults,
    ).toEqual(['`fonts/house.ttf`, the font `house`, is no font that can be read.']);
  });
});

it('names in a corner what is drawn, as a drawing of the plan', async () => {
  const film = `deliver:\n  film: { raster: ${width}x${height}, rate: 25, codec: h264, sound: none }\n`;
  const said = { plan: planOf({}, `${film}cut:\n  - { shot: box, length: 3 frames }\n`) };
  expect((await planned(said)).notes).toEqual(['Drawn by the plan: `box`: no take yet.']);
  const frame = greysOf(await assembled(said))[1]!;
  const corner = [...frame.keys()].filter((at) => at % width < 60 && at > width * (height - 30) && frame[at]! > 200);
  expect(corner.length).toBeGreaterThan(20);
});

// Unicode Standard Annex #9: what stands in an override to the right is shown from right to left (X4, L2), numbers in it too.
it.each([
  ['one line to the left', 'XYZ', 'XYZ'],
  ['letters that are turned round', 'A\u202eXYZ', 'AZYX'],
  ['a turned stretch that ends', 'A\u202eXY\u202cB', 'AYXB'],
])('sets %s in the order in which they are seen', (_what, text, seen) => {
  const { glyphs } = lineOf(text, shippedFace());
  const shown = [...glyphs].sort((a, b) => a.x - b.x).map(({ glyph }) => String.fromCodePoint(...glyph.codePoints));
  expect(shown.join('').trim().replaceAll(' ', '')).toBe(seen);
});
