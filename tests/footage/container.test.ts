/** What the container of a clip says, held against what ffmpeg was told to make. */
import { openSync, readSync, statSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ByteSource } from '../../server/footage/byte-source.ts';
import { readContainer } from '../../server/footage/read-container.ts';
import { bytesOf, madeClip, pictureClip, type PictureRecipe, together } from '../helpers/clips.ts';
import { Random } from '../hostile/random.ts';
import { spoiltClip, wholeClips } from '../hostile/spoilt-clips.ts';

function sourceOf(file: string): ByteSource {
  const descriptor = openSync(file, 'r');
  return {
    size: statSync(file).size,
    read: (start, end) => {
      const bytes = new Uint8Array(end - start);
      return Promise.resolve(bytes.subarray(0, readSync(descriptor, bytes, 0, bytes.length, start)));
    },
  };
}

const ofBytes = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  read: (start, end) => Promise.resolve(bytes.subarray(start, end)),
});

async function factsOf(file: string) {
  const { facts, why } = await readContainer(sourceOf(file));
  if (!facts) throw new Error(why);
  return facts;
}

const video = async (recipe: PictureRecipe) => (await factsOf(pictureClip(recipe))).video!;

const codecs: readonly (readonly [string, PictureRecipe, object])[] = [
  ['H.264', {}, { codec: 'h264', bits: 8, chroma: '4:2:0' }],
  ['H.264 of ten bits', { pixels: 'yuv422p10le' }, { codec: 'h264', profile: 'high-4-2-2', bits: 10, chroma: '4:2:2' }],
  ['H.265', { codec: 'libx265' }, { codec: 'h265', profile: 'main', tier: 'main', bits: 8, chroma: '4:2:0' }],
  ['H.265 of ten bits', { codec: 'libx265', pixels: 'yuv420p10le', ending: 'mov' }, { profile: 'main-10', bits: 10 }],
  [
    'H.265 of ten bits 4:2:2',
    { codec: 'libx265', pixels: 'yuv422p10le' },
    { profile: 'main-4-2-2-10', chroma: '4:2:2' },
  ],
  ['VP9', { codec: 'libvpx-vp9', ending: 'webm' }, { codec: 'vp9', bits: 8, chroma: '4:2:0' }],
  ['ProRes', { codec: 'prores_ks', pixels: 'yuv422p10le', ending: 'mov', seconds: 1 }, { codec: 'prores', bits: 10 }],
];

/** The exact broadcast rates: SMPTE ST 12-1 gives them as 24, 30 and 60 by 1.001. */
const rates: readonly (readonly [string, number])[] = [
  ['24', 24],
  ['25', 25],
  ['50', 50],
  ['24000/1001', 24 / 1.001],
  ['30000/1001', 30 / 1.001],
  ['60000/1001', 60 / 1.001],
];

beforeAll(() => {
  const recipes = [...codecs.map(([, recipe]) => recipe), ...rates.map(([rate]) => ({ rate, seconds: 2 }))];
  together(recipes.map((recipe) => () => pictureClip(recipe)));
});

describe('codec, samples and colour', () => {
  it.each(codecs)('%s', async (_, recipe, expected) => expect(await video(recipe)).toMatchObject(expected));

  it('reads the marks of HLG', async () => {
    const marks = ['-color_primaries', 'bt2020', '-color_trc', 'arib-std-b67', '-colorspace', 'bt2020nc'];
    const { colour } = await video({ codec: 'libx265', pixels: 'yuv420p10le', more: marks });
    expect(colour).toMatchObject({ primaries: 'bt2020', transfer: 'hlg', matrix: 'bt2020-ncl' });
  });

  it('says that two fields make a frame', async () => {
    const fields = {
      codec: 'mpeg2video',
      ending: 'mov',
      more: ['-flags', '+ilme+ildct', '-vf', 'setfield=tff'],
    } as const;
    expect((await video(fields)).interlaced).toBe(true);
    expect((await video({ codec: 'mpeg2video', ending: 'mov' })).interlaced).not.toBe(true);
  });
});

describe('raster', () => {
  it('is that which is shown', async () => {
    expect(await video({ turned: 90 })).toMatchObject({ raster: { width: 180, height: 320 } });
    expect(await video({ turned: 180 })).toMatchObject({ raster: { width: 320, height: 180 }, rotationDeg: 180 });
  });

  it('says apart that pixels are not square', async () => {
    const { raster, pixelAspect } = await video({ more: ['-aspect', '4:3'] });
    expect([raster.width, pixelAspect]).toEqual([320, 0.75]);
  });
});

describe('rate', () => {
  it.each(rates)('%s', async (rate, fps) => {
    const found = await video({ rate, seconds: 2 });
    expect(found.rate).toBeCloseTo(fps, 4);
    expect(found.frames).toBe(Math.ceil(2 * fps - 1e-6));
    expect(found.unevenFrames).toBe(0);
  });

  it.each(['mkv', 'webm'] as const)('is known without a table of times, which %s has not', async (ending) => {
    const { rate, frames, unevenFrames } = await video({
      rate: '30000/1001',
      ending,
      codec: ending === 'webm' ? 'libvpx-vp9' : 'libx264',
      seconds: 12,
    });
    expect(rate).toBeCloseTo(29.97, 1);
    expect(Math.abs(frames - 360)).toBeLessThanOrEqual(1);
    expect(unevenFrames).toBe(0);
  });

  it('tells steps that a clock rounds from steps that vary', async () => {
    const jitter = await video({ rate: '30', ticks: 'N*3000+mod(N*37\\,180)-90' });
    expect([jitter.unevenFrames, Math.round(jitter.rate)]).toEqual([0, 30]);
    const dropped = await video({ rate: '30', ticks: '(N+floor(N/7))*3000' });
    expect(dropped.unevenFrames).toBe(17);
    expect(dropped.smallestStepS).toBeCloseTo(1 / 30, 4);
    expect(dropped.largestStepS).toBeCloseTo(2 / 30, 4);
  });
});

describe('the rest', () => {
  it('says how long, of how much sound, when and where the index lies', async () => {
    const file = pictureClip({ sound: 2, clock: '2026-12-02T10:11:12Z' });
    const facts = await factsOf(file);
    expect(facts).toMatchObject({ container: 'MP4', indexAt: 'end', recordedAtMs: Date.UTC(2026, 11, 2, 10, 11, 12) });
    expect(facts.durationS).toBeCloseTo(4, 2);
    expect(facts.audio).toMatchObject([{ codec: 'aac', channels: 2, sampleRateHz: 48000 }]);
    const first = madeClip('mp4', ['-i', file, '-c', 'copy', '-movflags', '+faststart']);
    expect((await factsOf(first)).indexAt).toBe('start');
  });

  it('takes the hour of the place where a tag gives it', async () => {
    const tag = [
      '-movflags',
      'use_metadata_tags',
      '-metadata',
      'com.apple.quicktime.creationdate=2026-12-02T14:20:05+0100',
    ];
    const facts = await factsOf(pictureClip({ ending: 'mov', more: tag, clock: '2026-12-02T13:20:05Z' }));
    expect([facts.recordedAtMs, facts.clockIsLocal]).toEqual([Date.UTC(2026, 11, 2, 14, 20, 5), true]);
  });

  it('reads a file in fragments as a whole one', async () => {
    const parts = madeClip('mp4', ['-i', pictureClip(), '-c', 'copy', '-movflags', 'frag_keyframe+empty_moov']);
    const { video: picture, durationS } = await factsOf(parts);
    expect([picture!.frames, picture!.rate, Math.round(durationS * 100)]).toEqual([100, 25, 400]);
  });

  it('reads sound alone', async () => {
    const wav = madeClip('wav', ['-f', 'lavfi', '-i', 'sine=duration=2:sample_rate=48000']);
    expect(await factsOf(wav)).toMatchObject({ container: 'WAV', durationS: 2, audio: [{ sampleRateHz: 48000 }] });
  });

  it('reads some thousand bytes, however long the media', async () => {
    const { bytesRead } = await readContainer(sourceOf(pictureClip({ seconds: 20 })));
    expect(bytesRead).toBeLessThan(12_000);
  });

  it.each([
    ['nothing but the start', (whole: Buffer) => whole.subarray(0, whole.length / 2), 'it ends before its index does'],
    [
      'an index alone',
      (whole: Buffer) => whole.subarray(0, whole.length - 2000),
      'it ends before the picture does',
      true,
    ],
    ['something else', () => Buffer.from('%PDF-1.7 and so on, and so on'), 'it is neither MP4, MOV, WebM, MKV nor WAV'],
  ])('says of %s what is wrong', async (_, cut, expected, isFirst = false) => {
    const whole = isFirst
      ? madeClip('mp4', ['-i', pictureClip(), '-c', 'copy', '-movflags', '+faststart'])
      : pictureClip();
    expect((await readContainer(ofBytes(cut(bytesOf(whole))))).why).toBe(expected);
  });
});

describe('spoilt containers', () => {
  it('have an answer each', { timeout: 300_000 }, async () => {
    const random = new Random(20261129);
    const clips = wholeClips();
    for (let index = 0; index < 300; index++) {
      const { name, bytes } = random.of(clips);
      const spoilt = spoiltClip(bytes, random);
      const { facts, why } = await readContainer(ofBytes(spoilt.bytes));
      expect(facts ? 'read' : why, `${name} ${spoilt.way}`).toBeTruthy();
    }
  });
});
