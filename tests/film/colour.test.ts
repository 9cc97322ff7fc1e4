/** Colour from the clip to the film: ranges, the grade's numbers, and log through its table. */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { bt709Linear, bt709Signal } from '../../server/calc/tone.ts';
import { assembled, planned, type Said } from '../helpers/assembled.ts';
import { madeClip } from '../helpers/clips.ts';
import { planOf } from '../helpers/filmed.ts';

const takes = 'takes:\n  box: { clip: A.MP4, judged: best }\n';
const film = 'deliver:\n  film: { raster: 160x90, rate: 25, codec: h264, sound: none }\n';
const cut = 'shots:\n  box: { record: 1 s, handles: 0 s }\ncut:\n  - { shot: box, length: 2 frames }\n';

/** One colour, coded as BT.709 in the given range. */
function plainClip(rgb: string, range: 'tv' | 'pc' = 'tv'): string {
  const coded = `color=0x${rgb}:s=320x180:r=25:d=1,format=gbrp,scale=out_color_matrix=bt709:out_range=${range},format=yuv420p`;
  const marks = ['-color_range', range, '-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709'];
  return madeClip('mp4', ['-f', 'lavfi', '-i', coded, '-c:v', 'libx264', '-crf', '1', ...marks]);
}

/** Red, green and blue in the middle of each frame, 0 to 255. */
function coloursOf(file: string): number[][] {
  const args = [
    '-v',
    'error',
    '-i',
    file,
    '-vf',
    'crop=2:2,scale=in_color_matrix=bt709,format=rgb24',
    '-f',
    'rawvideo',
    'pipe:1',
  ];
  const bytes = execFileSync('ffmpeg', args);
  const pixels = 2 * 2 * 3;
  return Array.from({ length: bytes.length / pixels }, (_, frame) => [
    ...bytes.subarray(frame * pixels, frame * pixels + 3),
  ]);
}

const colourOf = (file: string) => coloursOf(file)[0]!;

const colour = async (said: Partial<Said> & { readonly clip: string; readonly grade?: string }) =>
  colourOf(
    await assembled({
      plan: planOf({}, film + cut + (said.grade ?? '')),
      takes,
      clips: { 'A.MP4': said.clip },
      ...said,
    }),
  );

function near(found: readonly number[], wanted: readonly number[], within = 3): void {
  wanted.forEach((one, channel) =>
    expect(Math.abs(found[channel]! - one), `${found.join()} for ${wanted.join()}`).toBeLessThanOrEqual(within),
  );
}

it('comes through as it is, from a full range too', async () => {
  near(await colour({ clip: plainClip('b46432') }), [180, 100, 50]);
  near(await colour({ clip: plainClip('b46432', 'pc') }), [180, 100, 50]);
});

// At an odd column `crop` takes half of a chroma sample of two bytes: what was 90 came out as 255.
it('comes through 10 bits of 4:2:2, whatever columns it is cut at', async () => {
  const coded =
    'color=0xb46432:s=320x180:r=25:d=1,format=gbrp,scale=out_color_matrix=bt709:out_range=tv,format=yuv422p10le';
  const marks = ['-color_range', 'tv', '-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709'];
  const clip = madeClip('mp4', ['-f', 'lavfi', '-i', coded, '-c:v', 'libx264', '-crf', '1', ...marks]);
  const looks = ['zoom: 1.35', 'zoom: 1.17, shift: 3 %', 'zoom: 1.3 to 1.35'];
  const pieces = looks.map((look) => `  - { shot: box, length: 2 frames, ${look} }\n`).join('');
  const plan = planOf({}, `${film}shots:\n  box: { record: 1 s, handles: 0 s }\ncut:\n${pieces}`);
  const made = await assembled({ plan, takes, clips: { 'A.MP4': clip } });
  const colours = coloursOf(made);
  expect(colours).toHaveLength(6);
  for (const one of colours) near(one, [180, 100, 50]);
});

describe('the grade', () => {
  it('brightens in linear light: a stop is twice of it', async () => {
    const twice = (code: number) => 255 * bt709Signal(Math.min(1, 2 * bt709Linear(code / 255)));
    near(await colour({ clip: plainClip('643c28'), grade: 'grade: { brighten: 1 stop }\n' }), [100, 60, 40].map(twice));
  });

  it('takes colour away and keeps its luma, as ITU-R BT.709 weighs it', async () => {
    const luma = 0.2126 * 180 + 0.7152 * 100 + 0.0722 * 50;
    near(await colour({ clip: plainClip('b46432'), grade: 'grade: { saturation: 0 % }\n' }), [luma, luma, luma]);
  });
});

describe('log', () => {
  const kit = (more: string) =>
    `title: A camera\ncameras:\n  cam: { sensor: 17.3 x 13 mm, modes: [{ raster: 320x180, rate: 25, bitrate: 9 Mb/s, colour-space: log${more} }] }\n` +
    'lenses: { normal: { focal: 25 mm, aperture: f/2 to f/22 } }\nsupports: { tripod: { height: 25 cm to 160 cm } }\n';
  /** Red, green and blue each upside down. */
  const negative = `LUT_3D_SIZE 2\n${[0, 1].flatMap((b) => [0, 1].flatMap((g) => [0, 1].map((r) => `${1 - r} ${1 - g} ${1 - b}\n`))).join('')}`;
  const plan = planOf({ use: 'cam', 'colour-space': 'log' }, film + cut);
  const clips = { 'A.MP4': plainClip('b46432') };
  const said: Said = {
    plan,
    takes,
    clips,
    kit: kit(', converts: kits/log.cube'),
    files: { 'kits/log.cube': new TextEncoder().encode(negative) },
  };

  it('goes through the table that the kit names', async () => {
    near(colourOf(await assembled(said)), [75, 155, 205]);
  });

  it('without a table stops it, and a draft says that it is flat', async () => {
    const without = { ...said, kit: kit('') };
    expect((await planned(without)).faults).toEqual([
      '`A.MP4` was recorded in log, and the kit names no table that converts it: say `converts: NAME.cube` at the mode of the camera.',
    ]);
    const { assembly } = await planned({ ...without, isDraft: true });
    expect(assembly!.corners.map(({ text }) => text)).toEqual(['box: flat']);
  });

  it('with a table that is none, or not there, stops it', async () => {
    const none = { ...said, files: { 'kits/log.cube': new TextEncoder().encode('LUT_1D_SIZE 2\n0 0 0\n1 1 1\n') } };
    expect((await planned(none)).faults[0]).toMatch(/is no table of three dimensions/);
    expect((await planned({ ...said, files: {} })).faults[0]).toMatch(/^`kits\/log.cube`, .* is not there\.$/);
  });
});
