/** How seconds lie across the page. */
import type { Seconds } from '../../core/units.ts';
import type { Page } from '../page.ts';

export interface Axis {
  readonly page: Page;
  readonly left: number;
  readonly right: number;
  readonly lengthS: Seconds;
  x(seconds: Seconds): number;
}

/** Names of rows stand before them where the page is wide enough, else above. */
export function axisOf(page: Page, lengthS: Seconds): Axis {
  const left = page.narrow ? page.left : page.left + 94;
  const { right } = page;
  const perS = lengthS > 0 ? (right - left) / lengthS : 0;
  return { page, left, right, lengthS, x: (seconds) => left + seconds * perS };
}

/** The first of 1, 2, 5, 10, 20, 50 … times `unit` that is at least `least`. */
export function niceStep(least: number, unit: number): number {
  if (!(least > 0) || !Number.isFinite(least)) return unit;
  const times = Math.max(1, least / unit);
  const power = 10 ** Math.floor(Math.log10(times) + 1e-9);
  return unit * power * ([1, 2, 5].find((one) => one * power >= times * (1 - 1e-9)) ?? 10);
}

/** The first power of two that is at least so large. */
export function doubled(least: number): number {
  return least > 1 && Number.isFinite(least) ? 2 ** Math.ceil(Math.log2(least) - 1e-9) : 1;
}
