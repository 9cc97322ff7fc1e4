/**
 * What can be written at a place, told by the text alone: by indentation, dashes and brackets upwards from the cursor.
 * No other line has to be right, so that a broken or half-typed file is helped as well as a whole one.
 */
import type { LineMap } from '../../core/document/lines.ts';
import type { FieldPath } from '../../core/schema/fields.ts';
import { flowPlace } from './flow.ts';
import { commentStart, type Line, opensBlock, readLine, valueText } from './lines.ts';

export interface InsertionPoint {
  /** key: a name in the block at `path` · value: what stands at `path`. */
  readonly kind: 'key' | 'value';
  readonly path: FieldPath;
  /** The characters of the word or value that is replaced. */
  readonly start: number;
  readonly end: number;
  /** Keys of the same block, with what is behind their colons; empty for blocks. */
  readonly siblings: ReadonlyMap<string, string>;
  /** Inside braces or brackets. */
  readonly flow: boolean;
  /** The key has its colon already. */
  readonly hasColon: boolean;
  /** Column of the keys of this block, where the line may have to be moved to. */
  readonly column: number;
  /** Where the blanks before the word start that may be replaced; the same as `start` where something stands before it. */
  readonly lineStart: number;
  /** A blank is needed before the value. */
  readonly needsBlank: boolean;
  /** The line has a dash of its own. */
  readonly hasDash: boolean;
  /** How many items the list has that is the first step of the path, where it is written with dashes. */
  readonly listCount?: number;
}

/** How far up the start of brackets is looked for. */
const mostFlowLines = 200;
const mostSiblingLines = 400;

/** Undefined in comments, in texts over several lines, and where nothing can follow. */
export function insertionPointAt(text: string, lines: LineMap, offset: number): InsertionPoint | undefined {
  return new Scan(text, lines).at(offset);
}

interface Container {
  readonly path: FieldPath;
  /** Line and column of what the container starts with; -1 for the whole file. */
  readonly line: number;
  readonly column: number;
  readonly listCount?: number;
  /** Where a line that is indented too far belongs. */
  readonly moved?: number;
}

class Scan {
  constructor(
    readonly text: string,
    readonly lines: LineMap,
  ) {}

  at(offset: number): InsertionPoint | undefined {
    const row = this.lines.line(offset);
    const start = this.lines.start(row);
    const column = offset - start;
    const whole = this.#source(row);
    if (/^(?:---|\.\.\.|%)/.test(whole) || commentStart(whole) < column) return undefined;
    return this.#inFlow(row, offset) ?? this.#inBlock(row, column, whole, start);
  }

  #source(row: number): string {
    return this.text.slice(this.lines.start(row), this.lines.end(row));
  }

  #line(row: number): Line {
    return readLine(this.#source(row));
  }

  #inFlow(row: number, offset: number): InsertionPoint | undefined {
    let least = Infinity;
    for (let up = row; up >= 0 && up > row - mostFlowLines; up--) {
      const line = this.#line(up);
      if (line.blank || line.comment) {
        if (up === row) least = offset - this.lines.start(row);
        continue;
      }
      const from = this.#flowStart(up, line);
      // What is written in brackets over several lines stands further in than the line that opens them.
      if (from !== undefined && from < offset && (up === row || line.first < least)) {
        return this.#flowPoint(up, line, from, offset);
      }
      if (line.first < least && line.key && line.key.value === '' && up < row) return undefined;
      if (line.dashes.length > 0 && up === row && line.key === undefined && from === undefined) return undefined;
      least = Math.min(least, line.first);
      if (least === 0) return undefined;
    }
    return undefined;
  }

  #flowStart(row: number, line: Line): number | undefined {
    const source = this.#source(row);
    const from = line.key ? line.key.after : line.dashes.length > 0 ? line.dashes.at(-1)! + 1 : line.first;
    const match = /^\s*(?:[&!]\S*\s+)?(?=[[{])/.exec(source.slice(from));
    return match ? this.lines.start(row) + from + match[0].length : undefined;
  }

  #flowPoint(row: number, line: Line, from: number, offset: number): InsertionPoint | undefined {
    const flow = flowPlace(this.text, from, offset);
    const around = this.#containerOf(row, line);
    if (!flow || !around) return undefined;
    const { path, ...rest } = flow;
    const steps = line.key ? [line.key.text] : [];
    const blank = flow.kind === 'value' && this.text[flow.start - 1] === ':';
    return {
      ...rest,
      path: [...around.path, ...steps, ...path],
      flow: true,
      column: 0,
      lineStart: flow.start,
      needsBlank: blank,
      hasDash: false,
      listCount: around.listCount,
    };
  }

  /** What a line's key, or the value behind its dashes, is in. */
  #containerOf(row: number, line: Line): Container | undefined {
    const dash = line.dashes.at(-1);
    if (dash !== undefined) return this.#item(row, dash, line.dashes.slice(0, -1));
    return this.#parent(row, line.key?.column ?? line.first);
  }

  #inBlock(row: number, column: number, whole: string, start: number): InsertionPoint | undefined {
    const line = this.#line(row);
    if (line.key && column >= line.key.after) return this.#value(row, line, whole, start, column);
    const wordColumn =
      line.key?.column ?? (line.dashes.length > 0 ? afterDash(whole, line) : Math.min(line.first, column));
    if (column < wordColumn) return undefined;
    const dash = line.dashes.at(-1);
    const around = dash === undefined ? this.#parent(row, wordColumn) : this.#item(row, dash, line.dashes.slice(0, -1));
    if (!around) return undefined;
    const end = line.key
      ? line.key.column + rawKeyLength(whole, line)
      : wordColumn + valueText(whole.slice(wordColumn)).length;
    const siblings = this.#siblings(row, around, dash === undefined ? wordColumn : undefined);
    const childColumn = siblings.column ?? (around.line < 0 ? 0 : (around.moved ?? stepIn(around, wordColumn)));
    return {
      kind: 'key',
      path: around.path,
      start: start + wordColumn,
      end: start + Math.max(end, column),
      siblings: siblings.keys,
      flow: false,
      hasColon: line.key !== undefined,
      column: dash === undefined ? childColumn : wordColumn,
      lineStart: dash === undefined ? start + bom(whole) : start + wordColumn,
      needsBlank: dash !== undefined && whole[wordColumn - 1] === '-',
      hasDash: dash !== undefined,
      listCount: around.listCount,
    };
  }

  #value(row: number, line: Line, whole: string, start: number, column: number): InsertionPoint | undefined {
    const key = line.key!;
    const around = this.#containerOf(row, line);
    // Blocks in brackets are places of their own, and texts over several lines have no words to offer.
    if (!around || /^[|>&*![{]/.test(key.value)) return undefined;
    const blanks = /^\s*/.exec(whole.slice(key.after))![0].length;
    const written = key.after + (key.value === '' ? Math.min(blanks, 1) : blanks);
    const from = Math.min(written, column);
    return {
      kind: 'value',
      path: [...around.path, key.text],
      start: start + from,
      end: start + Math.max(column, written + key.value.length),
      siblings: this.#siblings(row, around, key.column).keys,
      flow: false,
      hasColon: true,
      column: key.column,
      lineStart: start + from,
      needsBlank: key.after === from,
      hasDash: line.dashes.length > 0,
      listCount: around.listCount,
    };
  }

  /** The block that a key at this column is in; undefined inside a text over several lines. */
  #parent(row: number, column: number): Container | undefined {
    if (column === 0) return { path: [], line: -1, column: -1 };
    for (let up = row - 1; up >= 0; up--) {
      const line = this.#line(up);
      if (line.blank || line.comment || line.first >= column) continue;
      const { key } = line;
      if (key && key.column < column) {
        if (opensBlock(key.value)) {
          const around = this.#containerOf(up, line);
          return around && { ...around, path: [...around.path, key.text], line: up, column: key.column };
        }
        if (/^[|>]/.test(key.value)) return undefined;
        // Indented too far: a sibling of the line above.
        const around = this.#containerOf(up, line);
        return around && { ...around, moved: key.column };
      }
      const dash = line.dashes.findLast((one) => one < column);
      if (dash === undefined) return undefined;
      return this.#item(up, dash, line.dashes.slice(0, line.dashes.indexOf(dash)));
    }
    return { path: [], line: -1, column: -1 };
  }

  /** The item of a list that a dash starts; no list of the format has lists as its items. */
  #item(row: number, dash: number, outer: readonly number[]): Container | undefined {
    if (outer.length > 0) return undefined;
    let index = 0;
    for (let up = row - 1; up >= 0; up--) {
      const line = this.#line(up);
      if (line.blank || line.comment || line.first > dash) continue;
      if (line.dashes[0] === dash) {
        index++;
        continue;
      }
      const around = line.key && opensBlock(line.key.value) ? this.#containerOf(up, line) : undefined;
      if (!around) return undefined;
      const path = [...around.path, line.key!.text];
      const listCount = path.length === 1 ? index + this.#itemsFrom(row, dash) : around.listCount;
      return { path: [...path, index], line: row, column: dash, listCount };
    }
    return undefined;
  }

  /** Items of a list from one of them on. */
  #itemsFrom(row: number, dash: number): number {
    let count = 0;
    for (let down = row; down < this.lines.count; down++) {
      const line = this.#line(down);
      if (line.blank || line.comment || line.first > dash) continue;
      if (line.first < dash || line.dashes[0] !== dash) break;
      count++;
    }
    return count;
  }

  /** The keys of the block around a line, and the column at which they stand. */
  #siblings(row: number, around: Container, own: number | undefined): { keys: Map<string, string>; column?: number } {
    const keys = new Map<string, string>();
    const inItem = typeof around.path.at(-1) === 'number';
    const first = inItem ? around.line : around.line + 1;
    const from = Math.max(first, row - mostSiblingLines);
    let column: number | undefined;
    for (let at = from; at < Math.min(this.lines.count, row + mostSiblingLines); at++) {
      const line = this.#line(at);
      if (line.blank || line.comment) continue;
      const startsItem = at === around.line;
      if (!startsItem && line.first <= around.column) break;
      const keyColumn = line.key?.column;
      if (keyColumn === undefined || (line.dashes.length > 0 && !startsItem)) continue;
      if (at !== row) column ??= keyColumn;
      if (at !== row && keyColumn === column) keys.set(line.key!.text, line.key!.value);
    }
    return { keys, column: column ?? (inItem ? own : undefined) };
  }
}

function afterDash(whole: string, line: Line): number {
  const dash = line.dashes.at(-1)!;
  const blanks = /^ */.exec(whole.slice(dash + 1))![0].length;
  // Behind a dash with nothing after it, one blank is the dash's own.
  return dash + 1 + (dash + 1 + blanks === whole.length ? Math.min(blanks, 1) : blanks);
}

function rawKeyLength(whole: string, { key }: Line): number {
  return whole.slice(key!.column, key!.after - 1).trimEnd().length;
}

function stepIn({ column }: Container, own: number): number {
  return own > column ? own : column + 2;
}

function bom(whole: string): number {
  return whole.startsWith('\ufeff') ? 1 : 0;
}
