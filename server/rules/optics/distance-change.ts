import { focusText } from '../../core/derived/sharp.ts';
import type { Camera } from '../../core/film.ts';
import type { Mm } from '../../core/units.ts';

type Change = readonly [camera: Camera, key: 'distance' | 'focus', text: string];

/** Another distance of the camera; a focus in figures goes along, so that what was sharp stays sharp. */
export function distanceChange(camera: Camera, mm: Mm, text: string): Change[] {
  const now = camera.distance?.value.from;
  const focus = camera.focus?.value;
  const distance: Change = [camera, 'distance', text];
  if (now === undefined || typeof focus !== 'object') return [distance];
  const [from, to] = [focus.from + mm - now, focus.to + mm - now];
  if (Math.min(from, to) <= 0) return [distance];
  const moved = from === to ? focusText(from) : `${focusText(from)} to ${focusText(to)}`;
  return [distance, [camera, 'focus', moved]];
}
