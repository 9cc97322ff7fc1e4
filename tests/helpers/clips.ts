/** Small clips, made by ffmpeg when a test first asks for them, and kept under the arguments that made them. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = join(import.meta.dirname, '../../.cache/clips');

/**
 * @param ending of the file's name, which says the container to ffmpeg
 * @param input what it reads from its standard input
 */
export function madeClip(ending: string, args: readonly string[], input?: Uint8Array): string {
  return once(ending, [JSON.stringify(args), input ?? ''], (file) => {
    const stdio = [input ? 'pipe' : 'ignore', 'ignore', 'inherit'] as const;
    execFileSync('ffmpeg', ['-v', 'error', '-y', ...args, file], { stdio: [...stdio], ...(input && { input }) });
  });
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
  return once(ending, [bytes], (file) => writeFileSync(file, bytes));
}

function once(ending: string, from: readonly (string | Uint8Array)[], make: (file: string) => void): string {
  const hash = createHash('sha256').update(ending);
  for (const part of from) hash.update(part);
  const name = hash.digest('hex').slice(0, 24);
  const file = join(folder, `${name}.${ending}`);
  if (existsSync(file)) return file;
  mkdirSync(folder, { recursive: true });
  const unfinished = join(folder, `${process.pid}-${name}.${ending}`);
  make(unfinished);
  renameSync(unfinished, file);
  return file;
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
