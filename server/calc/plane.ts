/** Outlines in a plane, in whatever unit the caller uses. */

export interface PlanePoint {
  readonly x: number;
  readonly y: number;
}

/** The outline round points, in order; the points themselves where there are fewer than three. Monotone chain (Andrew). */
export function hull<P extends PlanePoint>(points: readonly P[]): P[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  if (sorted.length < 3) return sorted;
  const half = (all: readonly P[]) => {
    const chain: P[] = [];
    for (const point of all) {
      while (chain.length >= 2 && cross(chain.at(-2)!, chain.at(-1)!, point) <= 0) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Upright and level edges; y grows downwards or upwards, as the caller has it. */
export interface Rectangle {
  readonly from: PlanePoint;
  readonly to: PlanePoint;
}

/** The part of a convex outline inside a rectangle, side by side (Sutherland and Hodgman); empty where there is none. */
export function within(outline: readonly PlanePoint[], { from, to }: Rectangle): PlanePoint[] {
  const half = (points: readonly PlanePoint[], axis: 'x' | 'y', edge: number, side: 1 | -1) => {
    const inside = (point: PlanePoint) => (point[axis] - edge) * side >= 0;
    return points.flatMap((point, index) => {
      const before = points[(index + points.length - 1) % points.length]!;
      const share = (edge - before[axis]) / (point[axis] - before[axis]);
      const met = { x: before.x + (point.x - before.x) * share, y: before.y + (point.y - before.y) * share };
      return [...(inside(point) === inside(before) ? [] : [met]), ...(inside(point) ? [point] : [])];
    });
  };
  const level = half(half(outline, 'x', from.x, 1), 'x', to.x, -1);
  return half(half(level, 'y', from.y, 1), 'y', to.y, -1);
}

/** The area inside an outline whose points are in order (the shoelace formula). */
export function areaOf(outline: readonly PlanePoint[]): number {
  const o = { x: 0, y: 0 };
  const twice = outline.reduce((sum, point, index) => sum + cross(o, point, outline[(index + 1) % outline.length]!), 0);
  return Math.abs(twice) / 2;
}

export function cross(o: PlanePoint, a: PlanePoint, b: PlanePoint): number {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}
