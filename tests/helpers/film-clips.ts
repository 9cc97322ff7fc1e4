/** Clips with known faults: drawn frame by frame, played sample by sample, and encoded by ffmpeg. */
import { Random } from '../hostile/random.ts';
import { madeClip, madeFile } from './clips.ts';

export const [clipWidth, clipHeight] = [160, 90];
const sampleRate = 48_000;

/** Linear light of a place in the picture, 0 to 1: grey, or red, green and blue. */
export type Light = (frame: number, x: number, y: number) => number | readonly [number, number, number];
/** A sample of a channel at a time in seconds; full scale is 1. */
export type Sound = (s: number, channel: number) => number;

export interface ClipParts {
  readonly fps?: number;
  readonly seconds?: number;
  readonly light?: Light;
  /** Left out, there is no sound. */
  readonly sound?: Sound;
  readonly channels?: number;
  /** More arguments for the encoder. */
  readonly encode?: readonly string[];
}

/** A thing on a table before a backdrop that gets darker to its edges; its crank goes round once in 0.8 s. */
export const scene: Light = (frame, x, y) => {
  const [fromMiddleX, fromMiddleY] = [x - clipWidth / 2, y - clipHeight / 2];
  const turned = (frame / 25) * 2 * Math.PI * 1.25;
  const reach = 8 + 6;
  const isNear = Math.abs(fromMiddleX - 30) < reach && Math.abs(fromMiddleY) < reach;
  if (isNear && far(fromMiddleX - 30 - 8 * Math.cos(turned), fromMiddleY - 8 * Math.sin(turned)) < 6)
    return [0.5, 0.35, 0.1];
  if (Math.abs(fromMiddleX) < 25 && Math.abs(fromMiddleY) < 18) return [0.3 + (x % 7) * 0.02, 0.2, 0.1];
  return 0.35 - 0.0015 * far(fromMiddleX, fromMiddleY);
};

/** `Math.hypot` takes ten times as long, at every point of every frame. */
const far = (x: number, y: number) => Math.sqrt(x * x + y * y);

/** The scene, all of its light times something. */
export function litBy(times: (frame: number, x: number, y: number) => number): Light {
  return (frame, x, y) => {
    const value = scene(frame, x, y);
    const by = times(frame, x, y);
    return typeof value === 'number' ? value * by : [value[0] * by, value[1] * by, value[2] * by];
  };
}

/** A tone and its octave, about as loud as speech. */
export const tune: Sound = (s) => 0.1 * Math.sin(2 * Math.PI * 440 * s) + 0.05 * Math.sin(2 * Math.PI * 880 * s);

const h264 = ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '12', '-pix_fmt', 'yuv420p', '-g', '12'];
const toVideo = ['-vf', 'scale=out_color_matrix=bt709:out_range=tv:flags=accurate_rnd+full_chroma_inp'];
const marks = ['-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709', '-color_range', 'tv'];
const fast = ['-movflags', '+faststart'];

/** Draws a clip and returns its path. */
export function drawnClip(parts: ClipParts = {}): string {
  const { fps = 25, seconds = 2, light = scene, sound, channels = 2, encode = [] } = parts;
  const raw = ['-f', 'rawvideo', '-pix_fmt', 'rgb24', '-s', `${clipWidth}x${clipHeight}`, '-r', String(fps)];
  const heard = sound ? rawSound(channels, ['-i', madeFile('f32', bytesOf(sound, seconds, channels))]) : [];
  const args = [...raw, '-i', 'pipe:0', ...heard, ...toVideo, ...h264, ...marks, ...fast, ...encode];
  return madeClip('mp4', args, frames(Math.round(fps * seconds), light));
}

/** Another clip made of one, by more arguments. */
export function remadeClip(file: string, args: readonly string[]): string {
  return madeClip('mp4', ['-i', file, '-c:v', 'libx264', '-preset', 'veryfast', '-crf', '12', ...args]);
}

/** A file of sound alone. */
export function playedSound(sound: Sound, seconds: number, channels = 2): string {
  const input = rawSound(channels, ['-i', 'pipe:0']);
  return madeClip('wav', [...input, '-c:a', 'pcm_s24le'], bytesOf(sound, seconds, channels));
}

function rawSound(channels: number, input: readonly string[]): string[] {
  return ['-f', 'f32le', '-ar', String(sampleRate), '-ac', String(channels), ...input];
}

function bytesOf(sound: Sound, seconds: number, channels: number): Uint8Array {
  const count = Math.round(seconds * sampleRate) * channels;
  const sample = (_: unknown, at: number) => sound(Math.floor(at / channels) / sampleRate, at % channels);
  return new Uint8Array(Float32Array.from({ length: count }, sample).buffer);
}

/** Encoded sRGB of linear light, in 4096 steps. */
const codes = Uint8Array.from({ length: 4096 }, (_, index) => {
  const linear = index / 4095;
  return Math.round(255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055));
});

/** As much as a quiet sensor has, drawn once: a step of a code up or down, or none. */
const noise = Int8Array.from({ length: 100_003 }, steps(new Random(5)));

function steps(random: Random): () => number {
  return () => random.below(3) - 1;
}

/** With noise; black stays black and white stays white. */
function frames(count: number, light: Light): Buffer {
  const bytes = Buffer.alloc(count * clipWidth * clipHeight * 3);
  let at = 0;
  const put = (one: number) => {
    const code = codes[Math.round(4095 * Math.max(0, Math.min(1, one)))]!;
    const isEnd = one <= 0 || one >= 1;
    bytes[at] = isEnd ? code : Math.max(0, Math.min(255, code + noise[at % noise.length]!));
    at++;
  };
  for (let frame = 0; frame < count; frame++)
    for (let y = 0; y < clipHeight; y++)
      for (let x = 0; x < clipWidth; x++) {
        const value = light(frame, x, y);
        const [red, green, blue] = typeof value === 'number' ? [value, value, value] : value;
        put(red);
        put(green);
        put(blue);
      }
  return bytes;
}
