/** Plane geometry for drawings: outlines, clipping, hatching. Points in whatever unit the caller uses. */
import { cross } from '../calc/plane.ts';
import type { Point } from './svg.ts';

/** What of a polygon lies inside a convex one (which may run either way round). Sutherland and Hodgman. */
export function clipped(polygon: readonly Point[], by: readonly Point[]): Point[] {
  const way = Math.sign(area(by)) || 1;
  let left = [...polygon];
  by.forEach((a, index) => {
    const b = by[(index + 1) % by.length]!;
    const inside = (point: Point) => way * cross(a, b, point) >= -1e-9;
    const next: Point[] = [];
    left.forEach((point, at) => {
      const before = left[(at + left.length - 1) % left.length]!;
      if (inside(point) !== inside(before)) next.push(crossing(before, point, a, b));
      if (inside(point)) next.push(point);
    });
    left = next;
  });
  return left;
}

function crossing(p: Point, q: Point, a: Point, b: Point): Point {
  const [one, other] = [cross(a, b, p), cross(a, b, q)];
  const part = one / (one - other);
  return { x: p.x + (q.x - p.x) * part, y: p.y + (q.y - p.y) * part };
}

/** Signed area; plus where the points run clockwise on a page whose y points down. */
function area(polygon: readonly Point[]): number {
  return polygon.reduce((sum, a, index) => {
    const b = polygon[(index + 1) % polygon.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);
}

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function cornersOf({ x, y, width, height }: Frame): Point[] {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
}

/** The smallest upright frame round points; undefined for none. */
export function around(points: readonly Point[]): Frame | undefined {
  if (points.length === 0) return undefined;
  const [xs, ys] = [points.map((point) => point.x), points.map((point) => point.y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}

/** Parallel strokes that fill a polygon, `gap` apart, at an angle to the page's x. */
export function hatch(polygon: readonly Point[], gap: number, angleDeg: number): (readonly [Point, Point])[] {
  const rad = (angleDeg * Math.PI) / 180;
  const [along, off] = [
    { x: Math.cos(rad), y: Math.sin(rad) },
    { x: -Math.sin(rad), y: Math.cos(rad) },
  ];
  const places = polygon.map((point) => point.x * off.x + point.y * off.y);
  const lines: (readonly [Point, Point])[] = [];
  const most = 400;
  const step = Math.max(gap, (Math.max(...places) - Math.min(...places)) / most);
  for (let at = Math.ceil(Math.min(...places) / step) * step; at < Math.max(...places); at += step) {
    const cuts = polygon.flatMap((a, index) => {
      const b = polygon[(index + 1) % polygon.length]!;
      const [one, other] = [places[index]! - at, places[(index + 1) % polygon.length]! - at];
      if (one > 0 === other > 0) return [];
      const part = one / (one - other);
      return (a.x + (b.x - a.x) * part) * along.x + (a.y + (b.y - a.y) * part) * along.y;
    });
    const place = (way: number) => ({ x: along.x * way + off.x * at, y: along.y * way + off.y * at });
    cuts.sort((a, b) => a - b);
    for (let index = 0; index + 1 < cuts.length; index += 2) lines.push([place(cuts[index]!), place(cuts[index + 1]!)]);
  }
  return lines;
}

/** A point moved by a length in a direction. */
export function moved(point: Point, direction: Point, by: number): Point {
  return { x: point.x + direction.x * by, y: point.y + direction.y * by };
}

/** From one point to another, length 1; along x where they are one. */
export function toward(a: Point, b: Point): Point {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  return length > 1e-9 ? { x: (b.x - a.x) / length, y: (b.y - a.y) / length } : { x: 1, y: 0 };
}
