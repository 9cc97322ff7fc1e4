/** Clips with one known fault each, made and decoded by ffmpeg: what is measured of them. */
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { envelopeFrom, soundOffset } from '../../server/calc/sound-offset.ts';
import type { Decoded } from '../../server/core/decoded.ts';
import { decode } from '../../server/footage/decode/decode.ts';
import { type Ffmpeg, findFfmpeg } from '../../server/footage/decode/ffmpeg.ts';
import { Random } from '../hostile/random.ts';
import { drawnClip, litBy, playedSound, remadeClip, scene, tune } from '../helpers/film-clips.ts';

const folder = mkdtempSync(join(tmpdir(), 'decode-'));
afterAll(() => rmSync(folder, { recursive: true }));
let program: Ffmpeg;
beforeAll(async () => {
  program = (await findFfmpeg(process.env['PATH']!))!;
  expect(program, 'ffmpeg is needed: scripts/setup-editor.mjs installs it').toBeDefined();
});

async function measured(file: string): Promise<Decoded> {
  const decoded = await decode(program, file);
  expect(decoded?.failed).toBeUndefined();
  return decoded!;
}

test('a clean clip has nothing to say of it', async () => {
  const { picture, sound } = await measured(drawnClip({ seconds: 3, sound: tune }));
  expect(picture).toMatchObject({
    fps: expect.closeTo(25, 6),
    frames: 75,
    raster: { width: 160, height: 90 },
    pulse: undefined,
    repeats: { single: [], still: [] },
    jumps: [],
    bars: undefined,
    black: { start: 0, end: 0 },
    flashes: { general: { inOneSecond: 0 }, red: { inOneSecond: 0 } },
  });
  expect(picture!.endCodes!.top).toBe(0);
  expect(picture!.bitrate.mostBps).toBeGreaterThanOrEqual(picture!.bitrate.meanBps);
  expect(sound).toMatchObject({ channels: 2, sampleRateHz: 48000, clips: 0 });
  expect(sound!.durationS).toBeCloseTo(3, 1);
});

test('light that pulses', async () => {
  const [hz, swing] = [9.7, 0.03];
  const light = litBy((frame) => 1 + (swing / 2) * Math.sin((2 * Math.PI * hz * frame) / 25));
  const { pulse } = (await measured(drawnClip({ light }))).picture!;
  expect(pulse!.hz).toBeCloseTo(hz, 0.5);
  expect(Math.abs(pulse!.swing / swing - 1)).toBeLessThan(0.1);
});

describe('flashes', () => {
  /** White over part of the picture, `on` of every `period` frames, else dark. */
  const flashing = (period: number, share: number, on: number | readonly [number, number, number] = 0.9) =>
    drawnClip({
      light: (frame, x, y) => (x < share * 160 ? (frame % period < period / 2 ? on : 0.02) : scene(0, x, y)),
    });
  const flashesOf = async (file: string) => (await measured(file)).picture!.flashes;

  test('8 frames apart at 25 are four in a second (BT.1702-3)', async () => {
    expect((await flashesOf(flashing(8, 1))).general).toMatchObject({
      inOneSecond: 4,
      areaShare: expect.closeTo(1, 1),
    });
  });
  test('over less than a quarter of the picture they do not count', async () => {
    expect((await flashesOf(flashing(5, 0.23))).general.inOneSecond).toBe(0);
  });
  test('red', async () => {
    const { red, general } = await flashesOf(flashing(5, 1, [0.4, 0.01, 0.01]));
    expect(red.inOneSecond).toBe(5);
    // 0.4 of red is 0.085 of white: no general flash.
    expect(general.inOneSecond).toBe(0);
  });
});

test('codes at the top', async () => {
  // 40 by 45 of 160 by 90 pixels: an eighth.
  const light = (frame: number, x: number, y: number) => (x < 40 && y < 45 ? 1 : (scene(frame, x, y) as number));
  const { endCodes } = (await measured(drawnClip({ seconds: 1, light }))).picture!;
  expect(endCodes!.top).toBeCloseTo(0.125, 2);
});

test('frames that repeat, one in five, as of 20 frames a second made 25', async () => {
  const file = drawnClip({ light: (frame, x, y) => scene(frame * 1.25, x, y), fps: 20 });
  const { repeats } = (await measured(remadeClip(file, ['-r', '25']))).picture!;
  expect(repeats.single.length).toBeGreaterThanOrEqual(6);
  expect(new Set(repeats.single.map((frame) => frame % 5)).size).toBe(1);
});

test('bars, black ends and cuts', async () => {
  const light = (frame: number, x: number, y: number) => {
    if (frame < 3 || frame >= 45 || y < 11 || y >= 79) return 0;
    return frame < 25 ? scene(frame, x, y) : scene(frame, (x + 60) % 160, y * 0.4);
  };
  const { bars, black, jumps } = (await measured(drawnClip({ light }))).picture!;
  expect(bars).toEqual({ at: 'above and below', first: 11, second: 11 });
  expect(black).toEqual({ start: 3, end: 5 });
  expect(jumps).toEqual([3, 25, 45]);
});

describe('sound', () => {
  test('that clips', async () => {
    const loud = (s: number) =>
      Math.max(-1, Math.min(1, 1.5 * Math.sin(2 * Math.PI * 200 * s) * (s > 1 && s < 1.2 ? 1 : 0.1)));
    const { sound } = await measured(playedSound(loud, 2));
    expect(sound!.clipsAtS[0]).toBeCloseTo(1, 1);
    expect(sound!.clips).toBeLessThanOrEqual(2);
  });

  test('recorded apart lies where it is heard, and its clock runs apart', async () => {
    const claps = new Random(11);
    const times = Array.from({ length: 90 }, (_, index) => index * 0.5 + claps.below(400) / 1000);
    const heard = (s: number, clock = 1) =>
      times.reduce(
        (sum, time) => {
          const since = s - time * clock;
          return since > 0 && since < 0.2
            ? sum + 0.5 * Math.exp(-since * 40) * Math.sin(2 * Math.PI * 900 * since)
            : sum;
        },
        0.001 * Math.sin(s * 777),
      );
    const onCamera = (await measured(playedSound((s) => heard(s), 40, 1))).sound!;
    const apart = (await measured(playedSound((s) => heard(s + 1.24, 1.002), 38, 1))).sound!;
    const bytes = (sound: typeof apart) => envelopeFrom(sound.envelope);
    const found = soundOffset(bytes(onCamera), bytes(apart))!;
    // Its start is 1.24 s into what the camera heard, and a clock of 2 ‰ makes 76 ms of 38 s.
    expect(found.offsetS).toBeGreaterThan(1.18);
    expect(found.offsetS).toBeLessThan(1.26);
    expect(Math.abs(found.driftS!)).toBeGreaterThan(0.06);
    expect(Math.abs(found.driftS!)).toBeLessThan(0.09);
    const other = (await measured(playedSound((s) => 0.1 * Math.sin(2 * Math.PI * 300 * s * (1 + s / 50)), 20, 1)))
      .sound!;
    expect(soundOffset(bytes(onCamera), bytes(other))).toBeUndefined();
  });
});

describe('what a file can not do', () => {
  test('names that mean something to the program are names', async () => {
    const file = drawnClip({ seconds: 1 });
    for (const name of ['-i.mp4', 'concat:a|b.mp4', "a'b,c;[d]=%d.mp4", 'http:x.mp4']) {
      const odd = join(folder, name);
      copyFileSync(file, odd);
      expect((await measured(odd)).picture!.frames).toBe(25);
    }
  });

  test('a list of other files is not followed, whatever it calls itself', async () => {
    const secret = drawnClip({ seconds: 1 });
    const lists = {
      'list.mp4': `ffconcat version 1.0\nfile secret.mp4\n`,
      'play.mp4': `#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:1,\nfile://${secret}\n#EXT-X-ENDLIST\n`,
    };
    for (const [name, text] of Object.entries(lists)) {
      const file = join(folder, name);
      writeFileSync(file, text);
      const decoded = await decode(program, file);
      expect(decoded!.picture).toBeUndefined();
      expect(decoded!.sound).toBeUndefined();
      expect(decoded!.failed).toBeDefined();
    }
  });

  test('it can be cancelled', async () => {
    const stop = new AbortController();
    const file = drawnClip({ seconds: 2 });
    const decoding = decode(program, file, { signal: stop.signal });
    stop.abort();
    expect(await decoding).toBeUndefined();
  });

  test('a file that is none says so in one line', async () => {
    const file = join(folder, 'none.mp4');
    writeFileSync(file, 'no film\n'.repeat(1000));
    expect((await decode(program, file))!.failed).toMatch(/^[^\n]{5,200}$/);
  });
});
