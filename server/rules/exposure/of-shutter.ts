/** Whether an exposure is off because the shutter is: one cause, of which the rule about the shutter speaks. */
import { halfFrameS, stepping } from '../../core/derived/shutters.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Stops } from '../../core/units.ts';

/** Would half a frame make it right, to within so much? */
export function isOfShutter(shot: Shot, film: Film, error: Stops, allow: Stops): boolean {
  const step = stepping(shot, film);
  const timeS = shutterSeconds(shot);
  if (!step || timeS === undefined) return false;
  const half = Math.min(halfFrameS(step), 1 / step.fps);
  return Math.abs(error + Math.log2(half / timeS)) <= allow + 1e-6;
}
