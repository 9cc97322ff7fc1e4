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

export function cross(o: PlanePoint, a: PlanePoint, b: PlanePoint): number {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}
