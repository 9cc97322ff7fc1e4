/**
 * Outlines as coverage: how much of each pixel lies inside. Each line adds the area to its right with the sign of its way,
 * so that a sum along each row gives the coverage exactly, for straight edges at any slant.
 */
import type { PathCommand } from 'fontkit';

export class Ink {
  readonly #sums: Float32Array;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.#sums = new Float32Array(width * height + 2);
  }

  /** An outline whose units are `scale` pixels, y upwards, from `x` and `y` of the picture. */
  add(commands: readonly PathCommand[], scale: number, x: number, y: number): void {
    let [startX, startY, atX, atY] = [0, 0, 0, 0];
    const to = (nextX: number, nextY: number) => {
      this.#line(atX, atY, nextX, nextY);
      [atX, atY] = [nextX, nextY];
    };
    for (const { command, args } of commands) {
      const points = pairs(args, scale, x, y);
      if (command === 'moveTo') [startX, startY, atX, atY] = [...points[0]!, ...points[0]!];
      else if (command === 'closePath') to(startX, startY);
      else for (const [nextX, nextY] of flattened([atX, atY], points)) to(nextX, nextY);
    }
  }

  /** Shares of 255, row by row. */
  coverage(): Uint8ClampedArray {
    const covered = new Uint8ClampedArray(this.width * this.height);
    for (let row = 0, at = 0; row < this.height; row++) {
      let sum = 0;
      for (let column = 0; column < this.width; column++, at++) {
        sum += this.#sums[at]!;
        covered[at] = Math.min(1, Math.abs(sum)) * 255;
      }
    }
    return covered;
  }

  #line(fromX: number, fromY: number, toX: number, toY: number): void {
    if (fromY === toY) return;
    const way = fromY < toY ? 1 : -1;
    const [topX, topY, endX, endY] = way > 0 ? [fromX, fromY, toX, toY] : [toX, toY, fromX, fromY];
    const slope = (endX - topX) / (endY - topY);
    const last = Math.min(this.height, Math.ceil(endY));
    for (let row = Math.max(0, Math.floor(topY)); row < last; row++) {
      const [y0, y1] = [Math.max(topY, row), Math.min(endY, row + 1)];
      if (y1 <= y0) continue;
      const x0 = topX + (y0 - topY) * slope;
      const x1 = topX + (y1 - topY) * slope;
      this.#row(row, Math.min(x0, x1), Math.max(x0, x1), way * (y1 - y0));
    }
  }

  /** A piece of a line within one row: `area` is its height with its way. */
  #row(row: number, left: number, right: number, area: number): void {
    const [from, to] = [clamped(left, this.width), clamped(right, this.width)];
    const first = Math.floor(from);
    const cells = Math.max(1, Math.ceil(to) - first);
    let before = 0;
    for (let cell = 0; cell < cells; cell++) {
      const column = first + cell;
      const share = coveredShare(from, to, column);
      this.#put(row, column, area * (share - before));
      before = share;
    }
    this.#put(row, first + cells, area * (1 - before));
  }

  #put(row: number, column: number, value: number): void {
    if (column < this.width) this.#sums[row * this.width + column]! += value;
  }
}

/** How much of a cell lies to the right of a line that goes evenly from one place to another, of the line's height. */
function coveredShare(from: number, to: number, column: number): number {
  if (to - from < 1e-9) return Math.min(1, Math.max(0, column + 1 - from));
  // The area under a ramp that rises from `from` to `to`.
  const under = (x: number) =>
    x <= from ? 0 : x >= to ? (to - from) / 2 + (x - to) : (x - from) ** 2 / (2 * (to - from));
  return under(column + 1) - under(column);
}

function clamped(x: number, width: number): number {
  return Math.min(width, Math.max(0, x));
}

type Place = readonly [number, number];

function pairs(args: readonly number[], scale: number, x: number, y: number): Place[] {
  return Array.from({ length: args.length / 2 }, (_, at) => [x + args[2 * at]! * scale, y - args[2 * at + 1]! * scale]);
}

/** A curve as short lines: a sixteenth of it each is finer than a pixel at the size of titles. */
const steps = 16;

function flattened(start: Place, points: readonly Place[]): Place[] {
  if (points.length === 1) return [points[0]!];
  const all = [start, ...points];
  return Array.from({ length: steps }, (_, step) => onCurve(all, (step + 1) / steps));
}

/** De Casteljau's way. */
function onCurve(points: readonly Place[], share: number): Place {
  if (points.length === 1) return points[0]!;
  const between = points.slice(1).map(([x, y], at): Place => {
    const [fromX, fromY] = points[at]!;
    return [fromX + (x - fromX) * share, fromY + (y - fromY) * share];
  });
  return onCurve(between, share);
}
