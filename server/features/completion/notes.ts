/** What a setting means for a shot, in a few words. */
import { exposureError } from '../../core/derived/light.ts';
import { fieldAt, lensAt } from '../../core/derived/optics.ts';
import { sharpInCut } from '../../core/derived/sharp.ts';
import type { Film, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';

/** `0.3 stop over`, `exposed as planned`; empty where it is not known. */
export function exposureNote(shot: Shot | undefined): string {
  const error = shot && exposureError(shot, 0);
  if (error === undefined || !Number.isFinite(error)) return '';
  return Math.abs(error) < say.asPlannedStops
    ? 'exposed as planned'
    : `${say.stopsText(error)} ${error > 0 ? 'over' : 'under'}`;
}

export function sharpNote(shot: Shot | undefined, film: Film): string {
  const zone = shot && sharpInCut(shot, film, 0)?.zone;
  if (!zone) return '';
  return Number.isFinite(zone.totalMm) ? `sharp ${say.lengthText(zone.totalMm)}` : 'sharp to the horizon';
}

/** At the end of a move. */
export function widthNote(shot: Shot | undefined): string {
  const lens = shot && lensAt(shot, 1);
  return lens ? `picture ${say.lengthText(fieldAt(lens, lens.distanceMm).widthMm)} wide` : '';
}

export function joined(...notes: readonly string[]): string {
  return notes.filter((note) => note !== '').join(' · ');
}

/** Nearest first by ratio, each once, as many as are wanted. */
export function nearestFirst(values: readonly number[], target: number, most = 8): number[] {
  const apart = (value: number) => Math.abs(Math.log2(value / target));
  return [...new Set(values)].sort((a, b) => apart(a) - apart(b)).slice(0, most);
}
