/**
 * Carries places from the last text that could be read to the newest one: what stands before the first and after the
 * last difference is the same text, only moved. So features answer while a file is broken.
 */
import type { Range } from '../core/document/node.ts';

export class PositionMap {
  readonly #same: number;
  readonly #thenEnd: number;
  readonly #nowEnd: number;
  readonly #nowLength: number;

  constructor(then: string, now: string) {
    const shorter = Math.min(then.length, now.length);
    let same = then === now ? then.length : 0;
    while (same < shorter && then.charCodeAt(same) === now.charCodeAt(same)) same++;
    let tail = 0;
    while (tail < shorter - same && then.charCodeAt(then.length - 1 - tail) === now.charCodeAt(now.length - 1 - tail))
      tail++;
    this.#same = same;
    this.#thenEnd = then.length - tail;
    this.#nowEnd = now.length - tail;
    this.#nowLength = now.length;
  }

  /** Both ends, held inside the text: for what may be a little off, such as an outline. */
  about({ start, end }: Range): Range {
    // What was written between two things belongs to neither.
    const from = start >= this.#thenEnd ? this.#after(start) : Math.min(start, this.#nowEnd);
    const to = end <= this.#same ? end : end >= this.#thenEnd ? this.#after(end) : Math.min(end, this.#nowEnd);
    return { start: from, end: Math.max(from, to) };
  }

  /** Undefined where any of it was changed: for edits, and what is shown beside characters. */
  exact(range: Range): Range | undefined {
    if (range.end <= this.#same) return range;
    if (range.start < this.#thenEnd) return undefined;
    return { start: this.#after(range.start), end: this.#after(range.end) };
  }

  #after(then: number): number {
    return Math.min(this.#nowLength, then + this.#nowEnd - this.#thenEnd);
  }

  /** The place of the old text that a place of the newest one was; undefined in what was changed. */
  back(now: number): number | undefined {
    if (now <= this.#same) return now;
    return now >= this.#nowEnd ? now + this.#thenEnd - this.#nowEnd : undefined;
  }
}
