/** How large what shines is. */
import type { LampSize } from '../../calc/light.ts';
import { once } from '../memo.ts';
import type { LampPlace } from '../film.ts';
import type { Mm } from '../units.ts';

/** What shines: the modifier's face where one is put on, else the lamp's own. */
export const lampSize = once((lamp: LampPlace): LampSize => {
  if (lamp.bounces) return boardSize(lamp);
  const modifier = lamp.modifiers.at(-1);
  const box = modifier?.size?.value ?? lamp.lamp?.size?.value;
  const beamDeg = modifier?.beamDeg ?? lamp.lamp?.beamDeg;
  return { widthM: (box?.widthMm ?? 0) / 1000, heightM: (box?.heightMm ?? 0) / 1000, beamDeg };
});

export function boardSize({ size }: LampPlace): LampSize {
  return { widthM: (size?.value.widthMm ?? 0) / 1000, heightM: (size?.value.heightMm ?? 0) / 1000 };
}

/** A window stands where it is. */
export function isWindow({ lamp }: LampPlace): boolean {
  return lamp?.kind?.value === 'window';
}

/** Its level and its upright side: a board and a window as their size says, all else with the long side as it is laid. */
export function lampSides(lamp: LampPlace): { readonly levelMm: Mm; readonly uprightMm: Mm } {
  const { widthM, heightM } = lampSize(lamp);
  const sides = [widthM * 1000, heightM * 1000] as const;
  const isAsSized = lamp.bounces || (isWindow(lamp) && !lamp.fields.said('long-side'));
  if (isAsSized) return { levelMm: sides[0], uprightMm: sides[1] };
  const [long, short] = [Math.max(...sides), Math.min(...sides)];
  return lamp.longSide === 'upright' ? { levelMm: short, uprightMm: long } : { levelMm: long, uprightMm: short };
}
