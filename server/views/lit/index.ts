/** A lit scene in a drawing, and as a file of its own. */
import type { Film } from '../../core/film.ts';
import type { LitScene } from '../../core/derived/lit/scene.ts';
import type { Frame } from '../shapes.ts';
import { type El, el } from '../svg.ts';
import { paintLit } from './paint.ts';
import { pngOf } from './png.ts';

/** What is said under every picture of this kind. */
export const litNote =
  'Reckoned from the plan, good to about half a stop; no photograph. Red strokes: over what the recording holds.';

/** The scene as a PNG file; with marks on what is over the recording's top code. */
export function litFile(scene: LitScene, { photograph }: Pick<Film, 'photograph'>, width: number): Uint8Array {
  const height = Math.max(1, Math.round(width / scene.aspect));
  return pngOf(paintLit(scene, width, height, { marked: true, photograph }), width, height);
}

/** The scene in a frame of a drawing, with so many pixels for each of the drawing's. */
export function litElement(scene: LitScene, film: Film, { x, y, width, height }: Frame, density = 1.5): El {
  const file = litFile(scene, film, Math.max(8, Math.round(width * density)));
  return el('image', {
    x,
    y,
    width,
    height,
    href: `data:image/png;base64,${base64(file)}`,
    preserveAspectRatio: 'none',
  });
}

export function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < bytes.length; at += 8192) parts.push(String.fromCharCode(...bytes.subarray(at, at + 8192)));
  return btoa(parts.join(''));
}
