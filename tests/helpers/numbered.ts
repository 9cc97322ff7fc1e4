/** Clips whose frames carry their number as a pattern of black and white blocks, and films read back by it. */
import { execFileSync } from 'node:child_process';
import { grayClip } from './clips.ts';

const blocks = 8;
const [width, height] = [320, 180];

/** Up to 256 frames at the given rate; `more` is for the encoder. */
export function numberedClip(frames: number, rate: string, more: readonly string[] = [], ending = 'mp4'): string {
  const pixels = Buffer.alloc(frames * width * height);
  for (let frame = 0; frame < frames; frame++) {
    const line = Uint8Array.from({ length: width }, (_, x) => 255 * levelsOf(frame)[Math.floor((x * blocks) / width)]!);
    pixels.fill(line, frame * height * width, (frame + 1) * height * width);
  }
  return grayClip(ending, { pixels, raster: [width, height], rate, crf: 8 }, ['-g', '12', ...more]);
}

/** How bright each block is in each frame of a film, 0 to 1. */
export function blocksOf(file: string): number[][] {
  const gray = execFileSync(
    'ffmpeg',
    [
      '-v',
      'error',
      '-i',
      `file:${file}`,
      '-vf',
      `scale=${blocks * 8}:8:flags=area:out_range=full,format=gray`,
      '-f',
      'rawvideo',
      'pipe:1',
    ],
    { maxBuffer: 1e9 },
  );
  const size = blocks * 8 * 8;
  return Array.from({ length: gray.length / size }, (_, frame) =>
    Array.from({ length: blocks }, (_, block) => gray[frame * size + 4 * blocks * 8 + block * 8 + 4]! / 255),
  );
}

/** The number in each frame; `undefined` where blocks are neither black nor white. */
export function numbersOf(file: string): (number | undefined)[] {
  return blocksOf(file).map((levels) =>
    levels.some((level) => level > 0.15 && level < 0.85)
      ? undefined
      : levels.reduce((sum, level, block) => sum + (level > 0.5 ? 2 ** block : 0), 0),
  );
}

/** How bright the blocks of a number are. */
export function levelsOf(number: number): number[] {
  return Array.from({ length: blocks }, (_, block) => (number >> block) & 1);
}
