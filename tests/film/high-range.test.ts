/** Films of high dynamic range: where white lies, how they are marked, and what stops them. */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { hlgSignal, inBt2020, pqSignal } from '../../server/calc/hdr.ts';
import { assembled, planned } from '../helpers/assembled.ts';
import { madeClip } from '../helpers/clips.ts';
import { planOf } from '../helpers/filmed.ts';

describe('signals', () => {
  // Rec. ITU-R BT.2408-7, table 1: graphics white of 203 cd/m² is 75 % of HLG and 58 % of PQ.
  it('put graphics white where BT.2408 has it', () => {
    expect(hlgSignal({ r: 203, g: 203, b: 203 }).g).toBeCloseTo(0.75, 2);
    expect(pqSignal(203)).toBeCloseTo(0.58, 2);
  });

  // Rec. ITU-R BT.2100-2: the peak of each is all of the signal; 100 cd/m² is 0.508 in PQ (Report ITU-R BT.2390, from memory).
  it('reach their peak at all of the signal', () => {
    expect(pqSignal(10_000)).toBeCloseTo(1, 9);
    expect(pqSignal(100)).toBeCloseTo(0.508, 3);
    expect(hlgSignal({ r: 1000, g: 1000, b: 1000 }).r).toBeCloseTo(1, 6);
  });

  // Rec. ITU-R BT.2087-0: each row of the matrix gives white for white.
  it('keep white in the wider primaries', () => {
    const { r, g, b } = inBt2020({ r: 1, g: 1, b: 1 });
    for (const one of [r, g, b]) expect(one).toBeCloseTo(1, 3);
  });
});

const deliver = (more: string) => `deliver:\n  film: { raster: 160x90, rate: 25, sound: none, codec: h265, ${more} }\n`;
const cut = 'shots:\n  box: { record: 1 s, handles: 0 s }\ncut:\n  - { shot: box, length: 2 frames }\n';
const takes = 'takes:\n  box: { clip: A.MP4, judged: best }\n';

function white(marks: readonly string[], colour = 'white'): string {
  const coded = `color=${colour}:s=320x180:r=25:d=1,format=gbrp,scale=out_color_matrix=${marks[0]}:out_range=tv,format=yuv420p10le`;
  const said = ['-color_range', 'tv', '-colorspace', marks[1]!, '-color_primaries', marks[2]!, '-color_trc', marks[3]!];
  return madeClip('mp4', ['-f', 'lavfi', '-i', coded, '-c:v', 'libx264', '-crf', '1', ...said]);
}
const plainWhite = () => white(['bt709', 'bt709', 'bt709', 'bt709']);
const hlgWhite = () => white(['bt2020', 'bt2020nc', 'bt2020', 'arib-std-b67']);

/** The luma code in the middle, of 1023. */
function lumaOf(file: string): number {
  const args = ['-v', 'error', '-i', file, '-vf', 'crop=2:2', '-frames:v', '1', '-pix_fmt', 'yuv420p10le'];
  return execFileSync('ffmpeg', [...args, '-f', 'rawvideo', 'pipe:1']).readUInt16LE(0);
}

/** The luma code of what is bright in the picture: that of most of its pixels, as coding rings at edges. */
function brightest(file: string): number {
  const luma = 'extractplanes=y';
  const args = [
    '-v',
    'error',
    '-i',
    file,
    '-vf',
    luma,
    '-frames:v',
    '1',
    '-pix_fmt',
    'gray10le',
    '-f',
    'rawvideo',
    '-',
  ];
  const bytes = execFileSync('ffmpeg', args);
  const codes = Array.from({ length: bytes.length / 2 }, (_, at) => bytes.readUInt16LE(at * 2)).filter(
    (one) => one > 400,
  );
  return codes.sort((one, other) => one - other)[Math.floor(codes.length / 2)]!;
}

function marksOf(file: string): unknown {
  const args = ['-v', 'error', '-select_streams', 'v', '-show_streams', '-of', 'json', file];
  return (JSON.parse(execFileSync('ffprobe', args, { encoding: 'utf8' })) as { streams: unknown[] }).streams[0];
}

describe('a film', () => {
  // 64 + 876 × signal (BT.2100-2, narrow range in 10 bits), signals as in the table above.
  it.each([
    ['hlg', 721, 'arib-std-b67'],
    ['pq', 573, 'smpte2084'],
  ])('in %s has white of a BT.709 take at graphics white, and says what it is', async (space, code, curve) => {
    const file = await assembled({
      plan: planOf({}, deliver(`profile: main-10, bits: 10, colour-space: ${space}`) + cut),
      takes,
      clips: { 'A.MP4': plainWhite() },
    });
    expect(Math.abs(lumaOf(file) - code)).toBeLessThan(6);
    expect(marksOf(file)).toMatchObject({
      pix_fmt: 'yuv420p10le',
      color_transfer: curve,
      color_primaries: 'bt2020',
      color_space: 'bt2020nc',
    });
  });

  it('leaves a take of its own curve as it is', async () => {
    const plan = planOf({}, deliver('profile: main-10, bits: 10, colour-space: hlg') + cut);
    const file = await assembled({ plan, takes, clips: { 'A.MP4': hlgWhite() } });
    expect(Math.abs(lumaOf(file) - 940)).toBeLessThan(4);
  });

  it('lays its words at graphics white', async () => {
    const title =
      'titles:\n  - { at: 0 s, hold: 2 frames, fade: 0 s, text: "HHH", letters: 40 %, place: centre, panel: "#ffffff", colour: "#ffffff" }\n';
    const plan = planOf({}, deliver('profile: main-10, bits: 10, colour-space: hlg') + cut + title);
    const black = white(['bt709', 'bt709', 'bt709', 'bt709'], 'black');
    const said = { plan, takes, clips: { 'A.MP4': black } };
    expect(Math.abs(brightest(await assembled(said)) - 721)).toBeLessThan(8);
  });

  it.each([
    ['8 bits', 'bits: 8, colour-space: hlg', plainWhite, /HLG in 8 bits/],
    [
      'a take of another curve',
      'profile: main-10, bits: 10, colour-space: pq',
      hlgWhite,
      /is marked HLG and the film is pq/,
    ],
    ['a take of high range in a plain film', 'profile: main, bits: 8', hlgWhite, /is marked HLG and the film is bt709/],
  ])('is not made of %s', async (_what, more, clip, words) => {
    const { faults } = await planned({ plan: planOf({}, deliver(more) + cut), takes, clips: { 'A.MP4': clip() } });
    expect(faults.join('\n')).toMatch(words);
  });

  it('is not made where its grade would have to be reckoned in that curve', async () => {
    const plan = planOf(
      {},
      `${deliver('profile: main-10, bits: 10, colour-space: hlg') + cut}grade: { brighten: 1 stop }\n`,
    );
    const { faults } = await planned({ plan, takes, clips: { 'A.MP4': hlgWhite() } });
    expect(faults.join('\n')).toMatch(/in which `grade` is not reckoned/);
  });
});
