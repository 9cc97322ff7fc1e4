/** A thing of the set on the page, and the strokes that several of them share. */
import type { Vec3 } from '../../calc/geometry.ts';
import type { Label } from '../labels.ts';
import type { Place } from '../picture.ts';
import { moved } from '../shapes.ts';
import { type El, ink, line, type Point, polygon, strokes } from '../svg.ts';
import type { Scale } from './scale.ts';

export interface Thing extends Place {
  /** Drawn below the words. */
  readonly drawn: readonly El[];
  readonly label?: Label;
  /** What stands for it where its label does not fit; else the first line. */
  readonly tag?: string;
}

export function arrowHead(at: Point, way: Point, fill: typeof ink.ink, size = 8): El {
  const off = { x: -way.y, y: way.x };
  const back = moved(at, way, -size);
  return polygon([at, moved(back, off, size * 0.4), moved(back, off, -size * 0.4)], { fill, stroke: fill });
}

const noStand: ReadonlySet<string> = new Set(['surface', 'none', 'hand', 'nothing']);

/** What holds a thing up, as far as the floor is known. */
export function standOf(scale: Scale, at: Vec3, held: string): El[] {
  if (!scale.floor || noStand.has(held)) return [];
  const thing = scale.place(at);
  const style = { stroke: ink.line, 'stroke-width': 1.2 };
  if (held === 'overhead' || held === 'boom')
    return [line(thing, { x: thing.x, y: thing.y - 26 }, { ...style, 'stroke-dasharray': '3 2' })];
  const floor = scale.floor.y;
  const foot = Math.min(14, Math.max(0, (floor - thing.y) / 3));
  return [
    ...upright(thing.x, thing.y, scale, style),
    line({ x: thing.x, y: floor - foot }, { x: thing.x - foot * 0.7, y: floor }, style),
    line({ x: thing.x, y: floor - foot }, { x: thing.x + foot * 0.7, y: floor }, style),
  ];
}

/** A line down to the floor, broken where the floor is farther down than it is drawn. */
export function upright(x: number, top: number, { floor }: Scale, style: Parameters<typeof line>[2]): El[] {
  if (!floor) return [];
  const gap = floor.y - 30;
  if (!floor.isBroken || gap <= top + 6) return [line({ x, y: top }, { x, y: floor.y }, style)];
  const slash = (y: number) =>
    [
      { x: x - 5, y: y + 3 },
      { x: x + 5, y: y - 3 },
    ] as const;
  return [
    line({ x, y: top }, { x, y: gap }, style),
    strokes([slash(gap), slash(gap + 5)], style),
    line({ x, y: gap + 5 }, { x, y: floor.y }, style),
  ];
}
