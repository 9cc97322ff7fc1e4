/** Clips with a mark in each corner, and where they are in a film. */
import { execFileSync } from 'node:child_process';
import { grayClip } from './clips.ts';

/** Grey, with a white disc whose middle is at shares of the picture; it stands still. */
export function discClip(
  places: readonly (readonly [x: number, y: number])[],
  more: readonly string[] = [],
  raster = [640, 360] as const,
): string {
  const [width, height] = raster;
  const pixels = Buffer.alloc(width * height, 60);
  for (const [shareX, shareY] of places)
    for (let at = 0; at < pixels.length; at++) {
      const off = Math.hypot((at % width) + 0.5 - shareX * width, Math.floor(at / width) + 0.5 - shareY * height);
      // An edge a pixel wide, so that the middle can be found between pixels.
      const share = Math.min(1, Math.max(0, 12.5 - off));
      pixels[at] = Math.max(pixels[at]!, Math.round(60 + 180 * share));
    }
  const frames = Buffer.concat(Array<Buffer>(60).fill(pixels));
  return grayClip('mp4', { pixels: frames, raster, rate: '25', crf: 5 }, more);
}

export type Raster = readonly [width: number, height: number];
export interface Quarter {
  readonly right: boolean;
  readonly low: boolean;
}

/** The grey of each pixel of each frame. */
export function greysIn(file: string, [width, height]: Raster): Uint8Array[] {
  const args = ['-v', 'error', '-i', file, '-vf', 'scale=out_range=full,format=gray', '-f', 'rawvideo', 'pipe:1'];
  const bytes = execFileSync('ffmpeg', args, { maxBuffer: 1e9 });
  const size = width * height;
  return Array.from({ length: bytes.length / size }, (_, frame) => bytes.subarray(frame * size, (frame + 1) * size));
}

/** The middle of what is bright in a quarter of a frame, in pixels of the film. */
export function middleOf(greys: Uint8Array, [width, height]: Raster, quarter: Quarter) {
  let [sum, sumX, sumY] = [0, 0, 0];
  for (let y = quarter.low ? height / 2 : 0; y < (quarter.low ? height : height / 2); y++)
    for (let x = quarter.right ? width / 2 : 0; x < (quarter.right ? width : width / 2); x++) {
      const light = Math.max(0, greys[y * width + x]! - 90);
      sum += light;
      sumX += light * (x + 0.5);
      sumY += light * (y + 0.5);
    }
  return sum < 500 ? undefined : { x: sumX / sum, y: sumY / sum };
}

export function middlesIn(file: string, raster: Raster, quarter: Quarter) {
  return greysIn(file, raster).map((greys) => middleOf(greys, raster, quarter));
}
