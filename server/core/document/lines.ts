/** Offsets to lines and characters and back, in the units that a client of the protocol may ask for. */
import type { Range } from './node.ts';

/** How a client counts characters in a line. Strings here are UTF-16, so that one is free. */
export type Units = 'utf-16' | 'utf-8' | 'utf-32';

/** Both count from 0. */
export interface Position {
  readonly line: number;
  readonly character: number;
}

/** The lines of one text. `\n`, `\r\n` and a lone `\r` end a line, as the language server protocol has it. */
export class LineMap {
  readonly #text: string;
  readonly #starts: readonly number[];

  constructor(text: string) {
    this.#text = text;
    this.#starts = lineStarts(text);
  }

  /** At least 1: the empty text has one empty line. */
  get count(): number {
    return this.#starts.length;
  }

  /** Where a line starts; lines past the end start at the end of the text. */
  start(line: number): number {
    return line < 0 ? 0 : (this.#starts[line] ?? this.#text.length);
  }

  /** Where the characters of a line end, before its line end. */
  end(line: number): number {
    let end = this.start(line + 1);
    const start = this.start(line);
    if (line >= this.count - 1) return end;
    if (end > start && this.#text[end - 1] === '\n') end--;
    if (end > start && this.#text[end - 1] === '\r') end--;
    return end;
  }

  /** The line that holds an offset. */
  line(offset: number): number {
    return lastUpTo(this.count, (line) => this.#starts[line]! <= offset);
  }

  /** An offset outside the text counts as its nearest end, one inside a `\r\n` as the end of the line. */
  position(offset: number, units: Units = 'utf-16'): Position {
    const line = this.line(offset);
    const start = this.start(line);
    const end = Math.max(start, Math.min(offset, this.end(line)));
    return { line, character: width(this.#text, start, end, units) };
  }

  /** A position outside the text counts as the nearest place inside. */
  offset(position: Position, units: Units = 'utf-16'): number {
    if (position.line < 0) return 0;
    if (position.line >= this.count) return this.#text.length;
    return walk(this.#text, this.start(position.line), this.end(position.line), position.character, units);
  }

  /** Both ends of a range. */
  range(range: Range, units: Units = 'utf-16'): { start: Position; end: Position } {
    return { start: this.position(range.start, units), end: this.position(range.end, units) };
  }
}

/** The last of `count` numbers for which it is not yet too far; 0 where it is for all. */
export function lastUpTo(count: number, isUpTo: (index: number) => boolean): number {
  let [low, high] = [0, count - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (isUpTo(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Where the lines start, in the order of the text. */
export function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
  }
  return starts;
}

function width(text: string, start: number, end: number, units: Units): number {
  if (units === 'utf-16') return end - start;
  let sum = 0;
  for (let i = start; i < end; i += pointLength(text, i)) sum += pointWidth(text, i, units);
  return sum;
}

/** The offset reached after `count` units; never past `end`, and never inside a character. */
function walk(text: string, start: number, end: number, count: number, units: Units): number {
  if (units === 'utf-16') return Math.max(start, Math.min(start + count, end));
  let offset = start;
  for (let left = count; offset < end; offset += pointLength(text, offset)) {
    left -= pointWidth(text, offset, units);
    if (left < 0) break;
  }
  return offset;
}

function pointLength(text: string, offset: number): number {
  return (text.codePointAt(offset) ?? 0) > 0xffff ? 2 : 1;
}

function pointWidth(text: string, offset: number, units: 'utf-8' | 'utf-32'): number {
  return units === 'utf-32' ? 1 : utf8Bytes(text.codePointAt(offset) ?? 0);
}

/** A lone surrogate takes three bytes, as its replacement character does. */
function utf8Bytes(point: number): number {
  if (point < 0x80) return 1;
  if (point < 0x800) return 2;
  return point < 0x10000 ? 3 : 4;
}

/** Whether a text takes more than `limit` bytes in UTF-8. */
export function longerThan(text: string, limit: number): boolean {
  if (text.length > limit) return true;
  if (text.length * 3 <= limit) return false;
  return bytesOf(text) > limit;
}

/** How many bytes a text takes in UTF-8. */
export function bytesOf(text: string): number {
  return width(text, 0, text.length, 'utf-8');
}
