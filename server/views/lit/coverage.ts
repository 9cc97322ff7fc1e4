/** How much of a pixel, or of a blur disc round it, a convex outline covers. */
import type { Outline } from '../../core/derived/lit/scene.ts';

/** Half width of a pixel's own softness, squared, in pixels: edges without stairs. */
const pixelSquared = 0.5;

const steps = 2048;
/**
 * Share of a disc of radius 1 that lies on the one side of a straight edge, by its middle's distance from it, −1 to 1:
 * ½ + (asin t + t·√(1 − t²)) ÷ π. Geometry.
 */
const edgeShare = Float32Array.from({ length: steps + 2 }, (_, index) => {
  const t = Math.min(1, (index / steps) * 2 - 1);
  return 0.5 + (Math.asin(t) + t * Math.sqrt(1 - t * t)) / Math.PI;
});

function shareAt(t: number): number {
  return t <= -1 ? 0 : t >= 1 ? 1 : edgeShare[((t + 1) * 0.5 * steps) | 0]!;
}

/** From which pixel of a row to which. */
export interface RowPart {
  from: number;
  to: number;
}

/**
 * A convex outline in pixels. Each edge is a line (distance = nx·x + ny·y + c, plus inside) with a softness that changes
 * evenly along it.
 */
export class Coverage {
  /** Rows that it touches. */
  readonly top: number;
  readonly bottom: number;
  readonly #count: number;
  /** nx, ny, c, width across, softness at the start, its change for a pixel along, tx, ty, along at 0, length, most softness. */
  readonly #edges: Float64Array;
  readonly #peak: number;
  /** Wide enough that nothing of it lies between two places that are some pixels apart. */
  readonly #isWide: boolean;

  constructor(outline: Outline, path: readonly [number, number] | undefined, scale: number) {
    const count = outline.length / 3;
    const x = (index: number) => outline[(index % count) * 3]! * scale;
    const y = (index: number) => outline[(index % count) * 3 + 1]! * scale;
    const soft = (index: number) => outline[(index % count) * 3 + 2]! * scale;
    const [pathX, pathY] = path ? [path[0] * scale, path[1] * scale] : [0, 0];
    let area = 0;
    for (let index = 0; index < count; index++) area += x(index) * y(index + 1) - x(index + 1) * y(index);
    const way = area < 0 ? -1 : 1;
    const edges: number[] = [];
    let [top, bottom, thinnest, softest] = [Infinity, -Infinity, Infinity, 0];
    for (let index = 0; index < count; index++) {
      const [ax, ay, bx, by] = [x(index), y(index), x(index + 1), y(index + 1)];
      const length = Math.hypot(bx - ax, by - ay);
      if (length < 1e-6) continue;
      const [tx, ty] = [(bx - ax) / length, (by - ay) / length];
      const [nx, ny] = [-ty * way, tx * way];
      const c = -(nx * ax + ny * ay);
      let across = 0;
      for (let other = 0; other < count; other++) across = Math.max(across, nx * x(other) + ny * y(other) + c);
      // A way of L across an edge spreads it like a disc of as much variance: r² ÷ 4 = L² ÷ 12.
      const moved = nx * pathX + ny * pathY;
      const extra = pixelSquared + (moved * moved) / 3;
      const [from, to] = [soft(index), soft(index + 1)];
      const most = Math.sqrt(Math.max(from * from, to * to) + extra);
      edges.push(nx, ny, c, across, from, (to - from) / length, tx, ty, -(tx * ax + ty * ay), length, most, extra);
      top = Math.min(top, ay - most);
      bottom = Math.max(bottom, ay + most);
      thinnest = Math.min(thinnest, across);
      softest = Math.max(softest, most);
    }
    this.#edges = Float64Array.from(edges);
    this.#count = edges.length / size;
    this.top = top;
    this.bottom = bottom;
    this.#isWide = thinnest > 24 && softest > 6;
    this.#peak = this.#count === 4 || thinnest > 2 * softest ? 1 : Math.max(0.1, thinnest / (2 * softest));
  }

  /**
   * Multiplies `into` by how much of each pixel of a row is covered, and says from where to where that is not nothing. What
   * is all inside is left alone; where coverage changes slowly it is reckoned now and then and taken as even between.
   */
  cover(y: number, row: RowPart, into: Float32Array): void {
    const span = this.#span(y, row);
    row.from = span.from;
    row.to = span.to;
    this.#fill(y, span.from, Math.min(span.fullFrom, span.to), into);
    this.#fill(y, Math.max(span.fullTo, span.from), span.to, into);
  }

  #fill(y: number, from: number, to: number, into: Float32Array): void {
    if (from >= to) return;
    const stride = this.#isWide ? 8 : 1;
    let start = from;
    let share = this.#at(start + 0.5, y);
    while (start < to - 1) {
      const end = Math.min(to - 1, start + stride);
      const next = this.#at(end + 0.5, y);
      const isEven = end - start > 1 && Math.abs(next - share) < 0.06;
      const slope = (next - share) / (end - start);
      into[start] = into[start]! * share;
      for (let x = start + 1; x < end; x++)
        into[x] = into[x]! * (isEven ? share + slope * (x - start) : this.#at(x + 0.5, y));
      [start, share] = [end, next];
    }
    into[start] = into[start]! * share;
  }

  #span(y: number, { from: least, to: most }: RowPart) {
    const edges = this.#edges;
    let [from, to, fullFrom, fullTo] = [least, most, least, most];
    if (this.#peak < 1) fullTo = -1;
    for (let at = 0; at < edges.length; at += size) {
      const nx = edges[at]!;
      const rest = edges[at + 1]! * y + edges[at + 2]!;
      const soft = edges[at + 10]!;
      const [outer, inner] = [-soft - rest, soft - rest];
      if (edges[at + 3]! < 2 * soft) fullTo = -1;
      if (nx > 1e-9) {
        from = Math.max(from, outer / nx);
        fullFrom = Math.max(fullFrom, inner / nx);
      } else if (nx < -1e-9) {
        to = Math.min(to, outer / nx);
        fullTo = Math.min(fullTo, inner / nx);
      } else {
        if (outer > 0) to = -1;
        if (inner > 0) fullTo = -1;
      }
    }
    from = Math.max(least, Math.ceil(from - 0.5));
    to = Math.min(most, Math.floor(to - 0.5) + 1);
    fullFrom = Math.max(from, Math.ceil(fullFrom - 0.5));
    fullTo = Math.min(to, Math.floor(fullTo - 0.5) + 1);
    return fullTo > fullFrom ? { from, to, fullFrom, fullTo } : { from, to, fullFrom: to, fullTo: to };
  }

  /** Coverage at a place, 0 to 1. Of a quad both ways across it count; of others the way across that covers least. */
  #at(x: number, y: number): number {
    const edges = this.#edges;
    if (this.#count === 4) {
      const one = this.#edge(0, x, y) + this.#edge(2, x, y) - 1;
      if (one <= 0) return 0;
      const other = this.#edge(1, x, y) + this.#edge(3, x, y) - 1;
      return other <= 0 ? 0 : one * other;
    }
    let least = 1;
    for (let at = 0, index = 0; at < edges.length; at += size, index++) {
      const share = this.#edge(index, x, y);
      if (share < least) least = share;
    }
    return least * this.#peak;
  }

  #edge(index: number, x: number, y: number): number {
    const edges = this.#edges;
    const at = index * size;
    const distance = edges[at]! * x + edges[at + 1]! * y + edges[at + 2]!;
    const most = edges[at + 10]!;
    if (distance >= most) return 1;
    if (distance <= -most) return 0;
    let along = edges[at + 6]! * x + edges[at + 7]! * y + edges[at + 8]!;
    const length = edges[at + 9]!;
    along = along < 0 ? 0 : along > length ? length : along;
    const soft = edges[at + 4]! + edges[at + 5]! * along;
    return shareAt(distance / Math.sqrt(soft * soft + edges[at + 11]!));
  }
}

const size = 12;
