/** How high letters must be to be read. */
import { capitalHeightPx, leastLetterMinutes, type ViewedOn, viewings } from '../../calc/reading.ts';
import type { Deliverable } from '../../core/film.ts';

/** A tenth less than the rule of thumb asks for is no difference that anybody sees. */
export const spared = 0.9;

export function wantedPx({ raster, viewedOn }: Deliverable, minutes: number): number | undefined {
  const viewing = viewings[viewedOn as ViewedOn];
  const least = minutes > 0 ? minutes : leastLetterMinutes;
  return raster && viewing && capitalHeightPx(raster.value.width, raster.value.height, viewing, least);
}
