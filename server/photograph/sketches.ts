/** Sketches that were read, kept until their file is another. */
import { readFileSync } from 'node:fs';
import type { Sketch } from '../core/sketch.ts';
import { pngOf } from '../views/lit/png.ts';
import { readJpeg } from './jpeg-file.ts';
import type { PhotographFile } from './photographs.ts';
import { type Pixels, readPng } from './png-file.ts';

/** PNG files are made smaller; JPEG files go into every paper as they are. */
const [largestPng, largestJpeg] = [20e6, 4e6];
/** A side that is longer is halved: it is a sketch. */
const longestPx = 1600;
/** A film has few of them that are looked at in turn. */
const mostKept = 40;

export class Sketches {
  readonly #kept = new Map<string, { readonly made: string; readonly found: Sketch | string }>();

  /** Or why it can't be used, in words that follow its name. */
  of(at: PhotographFile): Sketch | string {
    const made = `${at.bytes} ${at.changedMs}`;
    const kept = this.#kept.get(at.file);
    if (kept?.made === made) return kept.found;
    const found = read(at);
    this.#kept.delete(at.file);
    if (this.#kept.size >= mostKept) this.#kept.delete(this.#kept.keys().next().value!);
    this.#kept.set(at.file, { made, found });
    return found;
  }
}

function read({ file, bytes }: PhotographFile): Sketch | string {
  if (bytes > largestPng) return tooLarge(largestPng);
  try {
    const all = readFileSync(file);
    if (all[0] === 0x89) {
      const pixels = readPng(all);
      return typeof pixels === 'string' ? pixels : sketchOf(pixels);
    }
    if (all[0] !== 0xff) return 'is neither a PNG nor a JPEG file';
    return bytes > largestJpeg ? tooLarge(largestJpeg) : readJpeg(all);
  } catch {
    return "can't be read";
  }
}

function tooLarge(most: number): string {
  return `is larger than ${most / 1e6} MB: ${longestPx} pixels a side are enough`;
}

/** On white paper, and no larger than it is looked at. */
function sketchOf(pixels: Pixels): Sketch {
  let { widthPx, heightPx } = pixels;
  let rgba = onWhite(pixels.rgba);
  while (Math.max(widthPx, heightPx) > longestPx) {
    rgba = halved(rgba, widthPx, heightPx);
    [widthPx, heightPx] = [Math.max(1, widthPx >> 1), Math.max(1, heightPx >> 1)];
  }
  return { kind: 'png', widthPx, heightPx, turnDeg: 0, channels: 3, bytes: pngOf(rgba, widthPx, heightPx) };
}

function onWhite(rgba: Uint8Array): Uint8ClampedArray {
  const out = new Uint8ClampedArray(rgba.length).fill(255);
  for (let at = 0; at < rgba.length; at += 4) {
    const cover = rgba[at + 3]! / 255;
    for (let channel = 0; channel < 3; channel++) out[at + channel] = 255 - (255 - rgba[at + channel]!) * cover;
  }
  return out;
}

function halved(rgba: Uint8ClampedArray, widthPx: number, heightPx: number): Uint8ClampedArray {
  const [width, height] = [Math.max(1, widthPx >> 1), Math.max(1, heightPx >> 1)];
  const out = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y++) {
    const [upper, lower] = [2 * y * widthPx, Math.min(heightPx - 1, 2 * y + 1) * widthPx];
    for (let x = 0; x < width; x++) {
      const [left, right] = [2 * x, Math.min(widthPx - 1, 2 * x + 1)];
      for (let channel = 0; channel < 4; channel++) {
        const at = (place: number) => rgba[4 * place + channel]!;
        out[4 * (y * width + x) + channel] =
          (at(upper + left) + at(upper + right) + at(lower + left) + at(lower + right)) / 4;
      }
    }
  }
  return out;
}
