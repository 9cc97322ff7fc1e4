/** What of a page is drawn on, in small squares, so that words find a place where nothing is. */
import { textWidth } from './measure.ts';
import type { Frame } from './shapes.ts';
import type { El, Point } from './svg.ts';

/** The side of a square, in the unit of the page. */
const side = 3;

const Mark = { Free: 0, Line: 1, Words: 2 } as const;

export class Ground {
  readonly #columns: number;
  readonly #rows: number;
  readonly #squares: Uint8Array;

  constructor(readonly frame: Frame) {
    this.#columns = Math.ceil(frame.width / side);
    this.#rows = Math.ceil(frame.height / side);
    this.#squares = new Uint8Array(this.#columns * this.#rows);
  }

  copy(): Ground {
    const other = new Ground(this.frame);
    other.#squares.set(this.#squares);
    return other;
  }

  /** Takes the squares of every line and word that is drawn. */
  draw(elements: readonly El[]): void {
    for (const element of elements) {
      if (element.name === 'text') this.words(textFrame(element));
      const lines = linesOf(element);
      if (hides(element)) this.#clear(lines);
      for (const [a, b] of lines) this.line(a, b);
      this.draw(element.children.filter((one): one is El => typeof one !== 'string'));
    }
  }

  words(frame: Frame): void {
    const { left, right, top, bottom } = this.#squaresOf(frame);
    for (let row = top; row <= bottom; row++) {
      for (let column = left; column <= right; column++) this.#squares[row * this.#columns + column] = Mark.Words;
    }
  }

  line(a: Point, b: Point): void {
    const inside = this.#inside(a, b);
    if (!inside) return;
    const [from, to] = inside;
    const steps = Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / (side / 2)) + 1;
    for (let step = 0; step <= steps; step++) {
      const at = this.#at(from.x + ((to.x - from.x) * step) / steps, from.y + ((to.y - from.y) * step) / steps);
      if (at !== undefined && this.#squares[at] === Mark.Free) this.#squares[at] = Mark.Line;
    }
  }

  /** How many squares of a frame have lines in them; Infinity where there are words, more than `most`, or where the page ends. */
  taken(frame: Frame, most = Infinity): number {
    if (!isWithin(frame, this.frame)) return Infinity;
    const { left, right, top, bottom } = this.#squaresOf(frame);
    let lines = 0;
    for (let row = top; row <= bottom; row++) {
      for (let column = left; column <= right; column++) {
        const square = this.#squares[row * this.#columns + column];
        if (square === Mark.Words || (square === Mark.Line && ++lines > most)) return Infinity;
      }
    }
    return lines;
  }

  /** Does a line from one point to another leave all words alone? */
  misses(a: Point, b: Point): boolean {
    const steps = Math.min(2000, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / side));
    for (let step = 0; step <= steps; step++) {
      const at = this.#at(a.x + ((b.x - a.x) * step) / steps, a.y + ((b.y - a.y) * step) / steps);
      if (at !== undefined && this.#squares[at] === Mark.Words) return false;
    }
    return true;
  }

  /** Takes away what is inside an outline: paper was laid over it. */
  #clear(outline: readonly (readonly [Point, Point])[]): void {
    const { x: left, y: top } = this.frame;
    const heights = outline.flatMap(([a, b]) => [(a.y - top) / side, (b.y - top) / side]);
    const last = Math.min(this.#rows - 1, Math.ceil(Math.max(...heights)));
    for (let row = Math.max(0, Math.floor(Math.min(...heights)) - 1); row <= last; row++) {
      const y = top + (row + 0.5) * side;
      const cuts: number[] = [];
      for (const [a, b] of outline) {
        if (a.y > y !== b.y > y) cuts.push(a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y) - left);
      }
      cuts.sort((a, b) => a - b);
      for (let at = 0; at + 1 < cuts.length; at += 2) {
        const [from, to] = [Math.max(0, Math.ceil(cuts[at]! / side)), Math.min(this.#columns, cuts[at + 1]! / side)];
        if (from < to) this.#squares.fill(Mark.Free, row * this.#columns + from, row * this.#columns + Math.floor(to));
      }
    }
  }

  #at(x: number, y: number): number | undefined {
    const [column, row] = [Math.floor((x - this.frame.x) / side), Math.floor((y - this.frame.y) / side)];
    return column >= 0 && row >= 0 && column < this.#columns && row < this.#rows
      ? row * this.#columns + column
      : undefined;
  }

  /** The first and last columns and rows that a frame touches. */
  #squaresOf(frame: Frame) {
    const x = frame.x - this.frame.x;
    const y = frame.y - this.frame.y;
    return {
      left: Math.max(0, Math.floor(x / side)),
      right: Math.min(this.#columns - 1, Math.floor((x + frame.width) / side)),
      top: Math.max(0, Math.floor(y / side)),
      bottom: Math.min(this.#rows - 1, Math.floor((y + frame.height) / side)),
    };
  }

  /** The part of a line that is on the page, however long the line is. Liang and Barsky. */
  #inside(a: Point, b: Point): [Point, Point] | undefined {
    const { x, y, width, height } = this.frame;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    if (![a.x, a.y, dx, dy].every(Number.isFinite)) return undefined;
    let [from, to] = [0, 1];
    for (const [way, room] of [
      [-dx, a.x - x],
      [dx, x + width - a.x],
      [-dy, a.y - y],
      [dy, y + height - a.y],
    ] as const) {
      if (way === 0 && room < 0) return undefined;
      if (way < 0) from = Math.max(from, room / way);
      else if (way > 0) to = Math.min(to, room / way);
    }
    const point = (part: number) => ({ x: a.x + dx * part, y: a.y + dy * part });
    return from <= to ? [point(from), point(to)] : undefined;
  }
}

function isWithin({ x, y, width, height }: Frame, outer: Frame): boolean {
  return x >= outer.x && y >= outer.y && x + width <= outer.x + outer.width && y + height <= outer.y + outer.height;
}

/** Where the letters of a text are. */
export function textFrame({ attrs, children }: El): Frame {
  const size = Number(attrs['font-size']);
  const width = textWidth(children.join(''), size, attrs['font-weight'] === 'bold');
  const anchor = attrs['text-anchor'];
  const x = Number(attrs['x']) - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
  return { x, y: Number(attrs['y']) - size * 0.8, width, height: size };
}

/** The lines that an element is made of: its strokes, or the rim of what it fills. */
function linesOf({ name, attrs }: El): [Point, Point][] {
  const value = (key: string) => Number(attrs[key] ?? 0);
  switch (name) {
    case 'line':
      return [
        [
          { x: value('x1'), y: value('y1') },
          { x: value('x2'), y: value('y2') },
        ],
      ];
    case 'rect': {
      const [x, y, width, height] = [value('x'), value('y'), value('width'), value('height')];
      return round([
        { x, y },
        { x: x + width, y },
        { x: x + width, y: y + height },
        { x, y: y + height },
      ]);
    }
    case 'circle':
      return round(
        Array.from({ length: 24 }, (_, index) => ({
          x: value('cx') + value('r') * Math.cos((index * Math.PI) / 12),
          y: value('cy') + value('r') * Math.sin((index * Math.PI) / 12),
        })),
      );
    case 'path':
      return pathLines(String(attrs['d']));
    default:
      return [];
  }
}

/** Is it filled with paper, or with any colour that lets nothing through? */
function hides({ name, attrs }: El): boolean {
  const { fill } = attrs;
  if (name !== 'path' && name !== 'rect') return false;
  return fill !== undefined && fill !== 'none' && (attrs['fill-opacity'] ?? 1) === 1;
}

function round(points: readonly Point[]): [Point, Point][] {
  return points.map((point, index) => [point, points[(index + 1) % points.length]!]);
}

/** Our own paths: absolute, of straight lines. */
function pathLines(d: string): [Point, Point][] {
  const lines: [Point, Point][] = [];
  let [first, last]: (Point | undefined)[] = [];
  for (const [, step, numbers] of d.matchAll(/([MLZ])([^MLZ]*)/g)) {
    const [x, y] = numbers!.split(' ').map(Number);
    const next: Point | undefined = step === 'Z' ? first : { x: x!, y: y! };
    if (step !== 'M' && last && next) lines.push([last, next]);
    if (step === 'M') first = next;
    last = next;
  }
  return lines;
}
