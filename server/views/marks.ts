/** The marks of findings in a drawing: a number in the shape of its severity. */
import type { Finding, Severity } from '../core/finding.ts';
import { el, type El, from, ink, type Point, polygon, text } from './svg.ts';

/** A finding that is numbered in the drawing. */
export interface Noted {
  readonly number: number;
  readonly finding: Finding;
}

export const markPitch = 27;

/** Marks in a row; `at` is the middle of the first. */
export function marksRow(at: Point, noted: readonly Noted[]): El[] {
  return noted.map(({ number, finding }, index) =>
    from(finding, [mark({ x: at.x + index * markPitch, y: at.y }, number, finding.severity)]),
  );
}

/** Marks in as many rows as they need; `at` is the left end of the first row, whose middle is 13 below. */
export function marksIn(at: Point, right: number, noted: readonly Noted[]): { body: El[]; bottom: number } {
  if (noted.length === 0) return { body: [], bottom: at.y };
  const each = Math.max(1, Math.floor((right - at.x) / markPitch));
  const rows = Math.ceil(noted.length / each);
  const body = Array.from({ length: rows }, (_, row) =>
    marksRow({ x: at.x + 13, y: at.y + 13 + row * 28 }, noted.slice(row * each, (row + 1) * each)),
  ).flat();
  return { body, bottom: at.y + rows * 28 };
}

/** Octagon, triangle, circle, dashed circle. */
export function mark({ x, y }: Point, number: number, severity: Severity): El {
  const words = (dy: number, fill: typeof ink.ink) =>
    text({ x, y: y + dy }, String(number), { size: 11, bold: true, anchor: 'middle', fill });
  switch (severity) {
    case 'error':
      return from(undefined, [
        polygon(ring({ x, y }, 12, 8, 0.5), { fill: ink.alarm, stroke: ink.paper, 'stroke-width': 1.5 }),
        words(4, ink.paper),
      ]);
    case 'warning':
      return from(undefined, [
        polygon(ring({ x, y }, 15.5, 3, 0), {
          fill: ink.paper,
          stroke: ink.alarm,
          'stroke-width': 1.6,
          'stroke-linejoin': 'round',
        }),
        words(6, ink.alarm),
      ]);
    default:
      return from(undefined, [
        el('circle', {
          cx: x,
          cy: y,
          r: 10.5,
          fill: ink.paper,
          stroke: ink.ink,
          'stroke-width': 1.4,
          'stroke-dasharray': severity === 'hint' ? '3 2' : undefined,
        }),
        words(4, ink.ink),
      ]);
  }
}

function ring({ x, y }: Point, radius: number, corners: number, turn: number): Point[] {
  return Array.from({ length: corners }, (_, index) => {
    const angle = ((index + turn) * 2 * Math.PI) / corners;
    return { x: x + radius * Math.sin(angle), y: y - radius * Math.cos(angle) };
  });
}
