/** Makes of pixels what a picture takes in: linear light, and smaller copies for where it is small or not sharp. */
import { linearFromSrgb } from '../calc/colour.ts';
import type { Photograph, PhotographLevel } from '../core/photograph.ts';
import type { Pixels } from './png-file.ts';

/** A side that is longer is halved: no film shows more of one thing. */
const longestPx = 2048;

/** Codes of sRGB as linear light, by the code (IEC 61966-2-1). */
const linear = Float64Array.from({ length: 256 }, (_, code) => {
  const value = code / 255;
  return linearFromSrgb({ r: value, g: value, b: value }).r;
});

export function photographOf({ widthPx, heightPx, rgba }: Pixels): Photograph {
  let level: PhotographLevel = { widthPx, heightPx, rgba: inLight(rgba) };
  while (Math.max(level.widthPx, level.heightPx) > longestPx) level = halved(level);
  const levels = [level];
  while (level.widthPx > 1 || level.heightPx > 1) levels.push((level = halved(level)));
  return { widthPx, heightPx, levels };
}

function inLight(rgba: Uint8Array): Uint16Array {
  const out = new Uint16Array(rgba.length);
  for (let at = 0; at < rgba.length; at += 4) {
    const cover = rgba[at + 3]! * 257;
    for (let channel = 0; channel < 3; channel++) out[at + channel] = Math.round(linear[rgba[at + channel]!]! * cover);
    out[at + 3] = cover;
  }
  return out;
}

/** Each pixel is the mean of four; at an odd edge the last counts twice. */
function halved({ widthPx, heightPx, rgba }: PhotographLevel): PhotographLevel {
  const [width, height] = [Math.max(1, widthPx >> 1), Math.max(1, heightPx >> 1)];
  const out = new Uint16Array(width * height * 4);
  for (let y = 0; y < height; y++) {
    const [upper, lower] = [2 * y, Math.min(heightPx - 1, 2 * y + 1)].map((row) => row * widthPx);
    for (let x = 0; x < width; x++) {
      const [left, right] = [2 * x, Math.min(widthPx - 1, 2 * x + 1)];
      const corners = [upper! + left, upper! + right, lower! + left, lower! + right];
      for (let channel = 0; channel < 4; channel++) {
        const sum = corners.reduce((all, corner) => all + rgba[corner * 4 + channel]!, 0);
        out[(y * width + x) * 4 + channel] = Math.round(sum / 4);
      }
    }
  }
  return { widthPx: width, heightPx: height, rgba: out };
}
