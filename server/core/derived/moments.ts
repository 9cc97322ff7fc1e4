/** What changes along the action of a shot, at one moment of it: 0 its start, 1 its end. */
import type { Shot } from '../film.ts';
import type { Mm } from '../units.ts';

/** The value of a change at a moment. */
export function along(change: { from: number; to: number } | undefined, moment: number): number | undefined {
  return change && change.from + (change.to - change.from) * moment;
}

/** Height of the lens above the surface: level with the subject where not said. */
export function lensHeightMm(shot: Shot, moment = 0): Mm {
  return along(shot.camera.height?.value, moment) ?? shot.subject.heightMm;
}
