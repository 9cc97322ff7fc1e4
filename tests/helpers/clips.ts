/** Small clips, made by ffmpeg when a test first asks for them, and kept under the arguments that made them. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';

const folder = join(import.meta.dirname, '../../.cache/clips');

interface Recipe {
  readonly file: string;
  readonly args: readonly string[];
  /** What it reads as `pipe:0`. */
  readonly input?: Uint8Array | undefined;
}

/** What was asked for inside `together` and is not there yet. */
let waiting: Recipe[] | undefined;

/**
 * @param ending of the file's name, which says the container to ffmpeg
 * @param input what is read as `pipe:0`
 */
export function madeClip(ending: string, args: readonly string[], input?: Uint8Array): string {
  const file = fileOf(ending, [JSON.stringify(args), input ?? '']);
  if (existsSync(file)) return file;
  if (waiting) waiting.push({ file, args, input });
  else make([{ file, args, input }]);
  return file;
}

/** What each answers, with the clips that all ask for made at once: ffmpeg takes longer to start than to make a small clip. */
export function together<T>(asks: readonly (() => T)[]): readonly T[] {
  const recipes: Recipe[] = (waiting = []);
  const answers = asks.map((ask) => {
    try {
      return { value: ask() };
    } catch {
      // It reads a clip that is not made yet, and is asked again.
      return undefined;
    }
  });
  waiting = undefined;
  const each = [...new Map(recipes.map((one) => [one.file, one])).values()];
  make(each.filter((one) => !isOfAnother(one)));
  for (const one of each.filter(isOfAnother)) make([one]);
  return answers.map((answer, index) => (answer ? answer.value : asks[index]!()));
}

const isInput = (_: string, at: number, args: readonly string[]) => args[at - 1] === '-i';

/** Whether it is made of another clip. */
function isOfAnother({ args }: Recipe): boolean {
  return args.filter(isInput).some((input) => input.startsWith(folder) && !input.endsWith('.f32'));
}

/** All in one run: first what is read for each, then what is made of it. */
function make(recipes: readonly Recipe[]): void {
  if (recipes.length === 0) return;
  mkdirSync(folder, { recursive: true });
  const own = mkdtempSync(join(folder, 'unfinished-'));
  let inputs = 0;
  const parts = recipes.map(({ file, args, input }, index) => {
    const pixels = join(own, `${index}.input`);
    if (input) writeFileSync(pixels, input);
    const end = args.lastIndexOf('-i') + 2;
    const maps = args.filter(isInput).flatMap(() => ['-map', String(inputs++)]);
    const read = args.slice(0, end).map((arg, at) => (arg === 'pipe:0' && isInput(arg, at, args) ? pixels : arg));
    return { read, made: [...maps, ...args.slice(end), join(own, basename(file))] };
  });
  const run = ['-v', 'error', '-nostdin', ...parts.flatMap(({ read }) => read), ...parts.flatMap(({ made }) => made)];
  execFileSync('ffmpeg', run, { stdio: ['ignore', 'ignore', 'inherit'] });
  for (const { file } of recipes) renameSync(join(own, basename(file)), file);
  rmSync(own, { recursive: true });
}

/** A clip of grey pixels, frame after frame. */
export function grayClip(
  ending: string,
  { pixels, raster, rate, crf }: { pixels: Uint8Array; raster: readonly [number, number]; rate: string; crf: number },
  more: readonly string[] = [],
): string {
  const raw = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', raster.join('x'), '-r', rate, '-i', 'pipe:0'];
  const coded = ['-vf', 'scale=out_range=tv', '-c:v', 'libx264', '-preset', 'ultrafast', '-crf', String(crf)];
  return madeClip(ending, [...raw, ...coded, '-pix_fmt', 'yuv420p', ...more], pixels);
}

/** A file of these bytes, named by them. */
export function madeFile(ending: string, bytes: Uint8Array): string {
  const file = fileOf(ending, [bytes]);
  if (existsSync(file)) return file;
  mkdirSync(folder, { recursive: true });
  const unfinished = `${file}-${process.pid}`;
  writeFileSync(unfinished, bytes);
  renameSync(unfinished, file);
  return file;
}

function fileOf(ending: string, from: readonly (string | Uint8Array)[]): string {
  const hash = createHash('sha256').update(ending);
  for (const part of from) hash.update(part);
  return join(folder, `${hash.digest('hex').slice(0, 24)}.${ending}`);
}

export interface PictureRecipe {
  readonly raster?: string;
  readonly rate?: string;
  readonly seconds?: number;
  readonly codec?: 'libx264' | 'libx265' | 'libvpx-vp9' | 'prores_ks' | 'mpeg2video' | 'mjpeg';
  readonly pixels?: string;
  readonly ending?: 'mp4' | 'mov' | 'webm' | 'mkv';
  /** A channel count; none where left out. */
  readonly sound?: 1 | 2;
  readonly clock?: string;
  /** An expression of ffmpeg for the time of frame N, in ticks of 1/90000 s. */
  readonly ticks?: string;
  /** In degrees, as a phone marks it. */
  readonly turned?: 90 | 180 | 270;
  readonly more?: readonly string[];
}

/** Encoders at their fastest: what a clip looks like is not looked at. */
const quick: Readonly<Record<string, readonly string[]>> = {
  libx264: ['-preset', 'ultrafast'],
  libx265: ['-preset', 'ultrafast', '-x265-params', 'log-level=error'],
  'libvpx-vp9': ['-deadline', 'realtime', '-cpu-used', '8'],
};

/** A picture that stands still, and perhaps a tone. */
export function pictureClip(recipe: PictureRecipe = {}): string {
  const { raster = '320x180', rate = '25', seconds = 4, sound, ticks, turned, ending = 'mp4' } = recipe;
  if (turned) {
    const upright = pictureClip({ ...recipe, turned: undefined });
    return madeClip(ending, ['-i', upright, '-c', 'copy', '-map_metadata', '0', '-metadata:s:v', `rotate=${turned}`]);
  }
  const { codec = 'libx264', pixels = 'yuv420p', clock, more = [] } = recipe;
  const timed = ticks
    ? ['-vf', `settb=1/90000,setpts='${ticks}'`, '-fps_mode', 'passthrough', '-enc_time_base', '1/90000']
    : [];
  return madeClip(ending, [
    ...['-f', 'lavfi', '-i', `testsrc2=size=${raster}:rate=${rate}:duration=${seconds}`],
    ...(sound ? ['-f', 'lavfi', '-i', `sine=frequency=330:sample_rate=48000:duration=${seconds}`] : []),
    ...timed,
    ...['-c:v', codec, '-pix_fmt', pixels, ...(quick[codec] ?? [])],
    ...(sound ? ['-ac', String(sound)] : []),
    ...(ticks && ending !== 'mkv' && ending !== 'webm' ? ['-video_track_timescale', '90000'] : []),
    ...(clock ? ['-metadata', `creation_time=${clock}`] : []),
    ...more,
  ]);
}

export function bytesOf(file: string): Buffer {
  return readFileSync(file);
}
