/**
 * Flashes of real pictures against the limits of WCAG 2.3.1 and ITU-R BT.1702-3: the same changes as in `flash.ts`, followed in
 * each cell of the picture by itself, and counted where more than a quarter of the picture changes at once.
 */
import { isCountedChange, isCountedRed, leastArea, redSignal } from './flash.ts';
import { luminance, type Rgb } from './colour.ts';

/** Light of one frame: linear red, green and blue of each cell, one after another; 1 is the display's white. */
export type CellLight = Float32Array;

export interface PictureFlashes {
  /** Most flashes of more than a quarter of the picture that begin within one second. */
  readonly inOneSecond: number;
  /** First frame of that second. */
  readonly fromFrame: number;
  /** Share of the picture that flashes there, on average. */
  readonly areaShare: number;
  /** Frames between the first and the last of all such flashes. */
  readonly lastsFrames: number;
}

export const noFlashes: PictureFlashes = { inOneSecond: 0, fromFrame: 0, areaShare: 0, lastsFrames: 0 };

/** Edges within so long belong to one flash: a light that goes on takes a frame or two, and not every part goes on at once. */
const oneEdgeS = 0.08;

interface Judge {
  /** What rises and falls. */
  readonly level: (light: Rgb) => number;
  readonly counts: (before: Rgb, after: Rgb) => boolean;
}

const general: Judge = { level: luminance, counts: isCountedChange };
/** Of nearly black noise the colour is chance: one of both must be as light as the least red change that counts. */
const leastRed = 0.05;
const red: Judge = {
  level: redSignal,
  counts: (before, after) => Math.max(before.r, after.r) >= leastRed && isCountedRed(before, after),
};

/** Follows the flashes of pictures that come one after another. */
export class FlashMeter {
  readonly #general: Field;
  readonly #red: Field;

  constructor(cells: number, fps: number) {
    this.#general = new Field(cells, fps, general);
    this.#red = new Field(cells, fps, red);
  }

  push(light: CellLight): void {
    this.#general.push(light);
    this.#red.push(light);
  }

  read(): { readonly general: PictureFlashes; readonly red: PictureFlashes } {
    return { general: this.#general.read(), red: this.#red.read() };
  }
}

const enum Way {
  none = 0,
  rose = 1,
  fell = 2,
}

/** One kind of flash in all cells. */
class Field {
  readonly #cells: number;
  readonly #fps: number;
  readonly #judge: Judge;
  #frame = 0;
  /** Of each cell: the lowest and the highest light since its last change, and which way that went, and when. */
  readonly #lowest: Float32Array;
  readonly #highest: Float32Array;
  readonly #ways: Uint8Array;
  readonly #changedAt: Int32Array;
  /** Cells whose flash begins in a frame, with a rise and with a fall. */
  readonly #rising: number[] = [];
  readonly #falling: number[] = [];

  constructor(cells: number, fps: number, judge: Judge) {
    this.#cells = cells;
    this.#fps = fps;
    this.#judge = judge;
    this.#lowest = new Float32Array(cells * 3);
    this.#highest = new Float32Array(cells * 3);
    this.#ways = new Uint8Array(cells);
    this.#changedAt = new Int32Array(cells).fill(-1);
  }

  push(light: CellLight): void {
    if (this.#frame === 0) {
      this.#lowest.set(light);
      this.#highest.set(light);
    }
    this.#rising.push(0);
    this.#falling.push(0);
    for (let cell = 0; cell < this.#cells; cell++) this.#follow(cell, light);
    this.#frame++;
  }

  /** As `edges` of flash.ts does for a whole picture. */
  #follow(cell: number, light: CellLight): void {
    const next = at(light, cell);
    const level = this.#judge.level(next);
    const [low, high] = [at(this.#lowest, cell), at(this.#highest, cell)];
    const [bottom, top] = [this.#judge.level(low), this.#judge.level(high)];
    if (this.#ways[cell] !== Way.rose && level > bottom && this.#judge.counts(low, next)) {
      this.#edge(cell, Way.rose);
      put(this.#highest, cell, next);
    } else if (this.#ways[cell] !== Way.fell && level < top && this.#judge.counts(high, next)) {
      this.#edge(cell, Way.fell);
      put(this.#lowest, cell, next);
    }
    if (this.#ways[cell] !== Way.fell && level >= this.#judge.level(at(this.#highest, cell)))
      put(this.#highest, cell, next);
    if (this.#ways[cell] !== Way.rose && level <= this.#judge.level(at(this.#lowest, cell)))
      put(this.#lowest, cell, next);
  }

  /** A change within a second of the one before it makes that one the beginning of a flash. */
  #edge(cell: number, way: Way): void {
    const before = this.#changedAt[cell]!;
    if (before >= 0 && this.#frame - before <= this.#fps) {
      const begun = this.#ways[cell] === Way.rose ? this.#rising : this.#falling;
      begun[before]!++;
    }
    this.#ways[cell] = way;
    this.#changedAt[cell] = this.#frame;
  }

  read(): PictureFlashes {
    const all = [this.#rising, this.#falling].map((begun) => mostInOneSecond(this.#flashes(begun), this.#fps));
    return all[0]!.inOneSecond >= all[1]!.inOneSecond ? all[0]! : all[1]!;
  }

  /** Frames in which so many cells begin to flash that they are more than a quarter, those of one edge together. */
  #flashes(begun: readonly number[]): { frame: number; share: number }[] {
    const span = Math.max(1, Math.round(oneEdgeS * this.#fps));
    const found: { frame: number; share: number }[] = [];
    for (let frame = 0; frame < begun.length; frame++) {
      if (begun[frame] === 0) continue;
      let end = frame;
      let cells = 0;
      while (end < frame + span && (begun[end] ?? 0) > 0) cells += begun[end++]!;
      const share = cells / this.#cells;
      if (share <= leastArea) continue;
      found.push({ frame, share: Math.min(1, share) });
      frame = end - 1;
    }
    return found;
  }
}

function mostInOneSecond(flashes: readonly { frame: number; share: number }[], fps: number): PictureFlashes {
  let best = noFlashes;
  const lastsFrames = (flashes.at(-1)?.frame ?? 0) - (flashes[0]?.frame ?? 0);
  flashes.forEach(({ frame }, index) => {
    let end = index;
    while (end < flashes.length && flashes[end]!.frame - frame < fps - 1e-6) end++;
    if (end - index <= best.inOneSecond) return;
    const inIt = flashes.slice(index, end);
    const areaShare = inIt.reduce((sum, one) => sum + one.share, 0) / inIt.length;
    best = { inOneSecond: inIt.length, fromFrame: frame, areaShare, lastsFrames };
  });
  return best;
}

function at(light: Float32Array, cell: number): Rgb {
  return { r: light[cell * 3]!, g: light[cell * 3 + 1]!, b: light[cell * 3 + 2]! };
}

function put(light: Float32Array, cell: number, { r, g, b }: Rgb): void {
  light[cell * 3] = r;
  light[cell * 3 + 1] = g;
  light[cell * 3 + 2] = b;
}
