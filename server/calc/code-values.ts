/** Brightness codes of whole frames: what stands at the top or the bottom, and bars along the edges. */

/** One frame's luma as it is coded. */
export interface LumaFrame {
  readonly width: number;
  readonly height: number;
  readonly codes: Uint8Array | Uint16Array;
  readonly bits: number;
  /** `full` uses all codes, `limited` 16 to 235 of 8 bits. */
  readonly range: 'full' | 'limited';
}

export interface EndCodes {
  /** Shares of the picture at the top and at the bottom code. */
  readonly top: number;
  readonly bottom: number;
}

/** Share of the picture that makes certain that codes beyond the nominal ends are used. */
const beyond = 0.001;

/**
 * Shares of a frame at the top and the bottom code. In limited range these are nominal white and black (235 and 16 of 8
 * bits, ITU-R BT.709), or the ends of the code range where the recording clearly uses what lies beyond them. Coding moves
 * codes by one or two, so those near the end count as at it.
 */
export function endCodes({ codes, bits, range }: LumaFrame): EndCodes {
  const step = 2 ** (bits - 8);
  const counts = new Uint32Array(2 ** bits);
  for (const code of codes) counts[code]!++;
  const share = (from: number, to: number) => {
    let sum = 0;
    for (let code = Math.max(0, from); code <= Math.min(counts.length - 1, to); code++) sum += counts[code]!;
    return codes.length > 0 ? sum / codes.length : 0;
  };
  const last = 256 * step - 1;
  const usesAbove = range === 'full' || share(240 * step, last) > beyond;
  const usesBelow = range === 'full' || share(0, 11 * step) > beyond;
  const white = usesAbove ? (range === 'full' ? 255 : 254) * step - (step - 1) : 235 * step;
  const black = usesBelow ? (range === 'full' ? 0 : 1) * step : 16 * step;
  return { top: share(white - step, last), bottom: share(0, black + (usesBelow ? step : step - 1)) };
}

/** Bars along two opposite edges, in pixels. */
export interface Bars {
  readonly at: 'above and below' | 'at the sides';
  readonly first: number;
  readonly second: number;
}

/** Codes over black, of 8 bits, up to which a pixel is black. */
const blackWithin = 6;
/** Share of a line that may be lighter by noise, and that is lit where a picture begins at a straight edge. */
const noise = 0.005;
const straight = 0.5;
/** Lines within which the picture must be lit after a bar: coding blurs its edge. */
const edgeLines = 4;

/** Looks for bars in several frames of one film. */
export class BarMeter {
  /** Of each row and column, the greatest share that was lit in any frame. */
  #rows: number[] = [];
  #columns: number[] = [];

  push({ width, height, codes, bits, range }: LumaFrame): void {
    const step = 2 ** (bits - 8);
    const black = ((range === 'full' ? 0 : 16) + blackWithin) * step;
    const [rows, columns] = [new Uint32Array(height), new Uint32Array(width)];
    for (let row = 0, at = 0; row < height; row++) {
      for (let column = 0; column < width; column++, at++) {
        if (codes[at]! <= black) continue;
        rows[row]!++;
        columns[column]!++;
      }
    }
    this.#rows = Array.from(rows, (lit, row) => Math.max(this.#rows[row] ?? 0, lit / width));
    this.#columns = Array.from(columns, (lit, column) => Math.max(this.#columns[column] ?? 0, lit / height));
  }

  /**
   * Two bars of about one width, where the picture between them begins at straight edges and reaches both other edges: a thing
   * before black that stands free on all sides has none.
   */
  read(): Bars | undefined {
    const [top, bottom] = [barOf(this.#rows), barOf([...this.#rows].reverse())];
    const [left, right] = [barOf(this.#columns), barOf([...this.#columns].reverse())];
    if (left + right === 0 && isPair(top, bottom)) return { at: 'above and below', first: top, second: bottom };
    if (top + bottom === 0 && isPair(left, right)) return { at: 'at the sides', first: left, second: right };
    return undefined;
  }
}

function isPair(one: number, other: number): boolean {
  return one > 0 && other > 0 && Math.abs(one - other) <= Math.max(2, 0.1 * Math.max(one, other));
}

/** Dark lines before a straight edge; 0 where the picture reaches the edge, `NaN` where it ends raggedly before it. */
function barOf(lines: readonly number[]): number {
  const first = lines.findIndex((lit) => lit > noise);
  if (first <= 0) return 0;
  return lines.slice(first, first + edgeLines).some((lit) => lit > straight) ? first : NaN;
}
