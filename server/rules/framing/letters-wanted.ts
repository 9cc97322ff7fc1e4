/** How high letters must be to be read. */
import { capitalHeightPx, leastLetterMinutes, type ViewedOn, viewings } from '../../calc/reading.ts';
import type { Deliverable } from '../../core/film.ts';

/** An eighth less, 14 minutes of arc, is read by most who hold a phone, and no more than it is held nearer (common practice, no source). */
export const spared = 0.875;

export function wantedPx({ raster, viewedOn }: Deliverable, minutes: number): number | undefined {
  const viewing = viewings[viewedOn as ViewedOn];
  const least = minutes > 0 ? minutes : leastLetterMinutes;
  return raster && viewing && capitalHeightPx(raster.value.width, raster.value.height, viewing, least);
}
