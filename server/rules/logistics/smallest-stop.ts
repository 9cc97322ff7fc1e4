/** How far a lens of its kind usually stops down, where its kit says a single f-number. */
import type { Camera } from '../../core/film.ts';

/** Diagonals of the sensors of a camera with lenses of its own, and of a compact one, in mm. */
const [system, compact] = [20, 14];

/**
 * `f/22` before a sensor of 17.3 x 13 mm and more, `f/11` before one of 13.2 x 8.8 mm (common practice, no source);
 * undefined before a smaller one, as in a phone, whose lenses do have one aperture, and where the kit says a range.
 */
export function smallestStop({ lens, body }: Camera): number | undefined {
  const sensor = (lens?.sensor ?? body?.sensor)?.value;
  const aperture = lens?.aperture?.value;
  if (!sensor || !aperture || aperture.from !== aperture.to) return undefined;
  const diagonal = Math.hypot(sensor.widthMm, sensor.heightMm);
  return diagonal >= system ? 22 : diagonal >= compact ? 11 : undefined;
}
