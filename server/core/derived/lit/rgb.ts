/** Sums of linear light in three channels. */
import type { Rgb } from '../../../calc/colour.ts';

export function grey(value: number): Rgb {
  return { r: value, g: value, b: value };
}

export function scaled({ r, g, b }: Rgb, by: number): Rgb {
  return { r: r * by, g: g * by, b: b * by };
}

export function plus(a: Rgb, b: Rgb, by = 1): Rgb {
  return { r: a.r + b.r * by, g: a.g + b.g * by, b: a.b + b.b * by };
}

export function filtered(a: Rgb, b: Rgb): Rgb {
  return { r: a.r * b.r, g: a.g * b.g, b: a.b * b.b };
}
