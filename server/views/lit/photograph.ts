/** A photograph on a flat thing: its colour in the light there, as sharp as the lens and the movement leave it. */
import type { Laid, Sum } from '../../core/derived/lit/scene.ts';
import type { Photograph, PhotographLevel } from '../../core/photograph.ts';
import type { RowPart } from './coverage.ts';

/** Places along the way of what moves. */
const mostTaps = 8;
const pxBetweenTaps = 1.5;
const full = 65535;

export class PhotographRow {
  readonly #laid: Laid;
  readonly #photograph: Photograph;
  readonly #scale: number;
  readonly #way: readonly [number, number];
  readonly #taps: number;
  readonly #found = new Float64Array(4);

  /** @param scale pixels of the picture's width */
  constructor(laid: Laid, photograph: Photograph, path: readonly [number, number] | undefined, scale: number) {
    this.#laid = laid;
    this.#photograph = photograph;
    this.#scale = scale;
    this.#way = path ?? [0, 0];
    const wayPx = Math.hypot(...this.#way) * scale;
    this.#taps = Math.max(1, Math.min(mostTaps, Math.ceil(wayPx / pxBetweenTaps)));
  }

  /** Makes light on it, in `colours`, to its own, and `shares` to how much it covers. */
  lay(y: number, { from, to }: RowPart, colours: Float32Array, shares: Float32Array): void {
    const found = this.#found;
    for (let x = from; x < to; x++) {
      if (shares[x] === 0) continue;
      found.fill(0);
      for (let tap = 0; tap < this.#taps; tap++) this.#add((x + 0.5) / this.#scale, y / this.#scale, tap);
      const cover = found[3]!;
      shares[x] = (shares[x]! * cover) / (full * this.#taps);
      if (cover === 0) continue;
      colours[x * 3] = (colours[x * 3]! * found[0]!) / cover;
      colours[x * 3 + 1] = (colours[x * 3 + 1]! * found[1]!) / cover;
      colours[x * 3 + 2] = (colours[x * 3 + 2]! * found[2]!) / cover;
    }
  }

  #add(x: number, y: number, tap: number): void {
    const { across, up, near, blur, share, widthMm, heightMm } = this.#laid;
    const along = (tap + 0.5) / this.#taps - 0.5;
    const [px, py] = [x + this.#way[0] * along, y + this.#way[1] * along];
    const close = at(near, px, py);
    const u = at(across, px, py) / close / widthMm + 0.5;
    const v = 0.5 - at(up, px, py) / close / heightMm;
    const { levels } = this.#photograph;
    const mmOfPixel = 1 / (close * share * this.#scale);
    const soft = at(blur, px, py) * this.#scale;
    // A disc of radius r spreads like a square of r × √3: both have the variance r² ÷ 4.
    const wide = ((mmOfPixel * levels[0]!.widthPx) / widthMm) * Math.sqrt(1 + 3 * soft * soft);
    const depth = Math.min(levels.length - 1, Math.max(0, Math.log2(wide)));
    const upper = Math.floor(depth);
    const part = depth - upper;
    addFrom(levels[upper]!, u, v, 1 - part, this.#found);
    if (part > 0) addFrom(levels[upper + 1]!, u, v, part, this.#found);
  }
}

function at(sum: Sum, x: number, y: number): number {
  return sum[0] + sum[1] * x + sum[2] * y;
}

/** Evenly between the four nearest pixels; nothing lies beyond the edges. */
function addFrom(
  { widthPx, heightPx, rgba }: PhotographLevel,
  u: number,
  v: number,
  by: number,
  to: Float64Array,
): void {
  const [x, y] = [u * widthPx - 0.5, v * heightPx - 0.5];
  const [left, top] = [Math.floor(x), Math.floor(y)];
  for (let corner = 0; corner < 4; corner++) {
    const [column, row] = [left + (corner & 1), top + (corner >> 1)];
    if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) continue;
    const share = by * (1 - Math.abs(x - column)) * (1 - Math.abs(y - row));
    const from = (row * widthPx + column) * 4;
    to[0] = to[0]! + rgba[from]! * share;
    to[1] = to[1]! + rgba[from + 1]! * share;
    to[2] = to[2]! + rgba[from + 2]! * share;
    to[3] = to[3]! + rgba[from + 3]! * share;
  }
}
