/** Titles, as long as they stand. */
import type { Film } from '../../core/film.ts';
import { blockRange } from '../picture.ts';
import { type El, line } from '../svg.ts';
import type { Bar } from './bar.ts';

export function titleBars({ titles }: Film): Bar[] {
  return titles.flatMap((title) => {
    const { atS, holdS = 0, fadeS } = title;
    if (atS === undefined) return [];
    const inside = (x: number, width: number, y: number): El[] => {
      const perS = width / Math.max(holdS, 1e-9);
      const fade = Math.min(fadeS * perS, width / 2);
      return fade < 1 ? [] : [...ramp(x, y, fade), ...ramp(x + width, y, -fade)];
    };
    const words = title.text?.value.trim().replace(/\s+/g, ' ') ?? 'title';
    const clear = { fromS: Math.min(fadeS, holdS / 2), toS: Math.min(fadeS, holdS / 2) };
    return [{ fromS: atS, toS: atS + holdS, words, clear, inside, ranges: [blockRange(title)] }];
  });
}

function ramp(x: number, y: number, width: number): El[] {
  return [line({ x, y: y + 20 }, { x: x + width, y }, { 'stroke-width': 0.9 })];
}
