/** Fixes that leave lamps out of a shot. */
import type { MainsLight } from '../../core/derived/pulses.ts';
import { brightestLight } from '../../core/derived/white-points.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { brighterText, listText, quoted } from '../../core/say.ts';

/** What ripples with the mains, by name: `ceiling`, `ceiling and the room's lamps`. */
export function mainsNames({ lamps, room }: MainsLight): string {
  return listText([...lamps.map((lamp) => quoted(lamp.name)), ...(room ? ["the room's lamps"] : [])]);
}

/** Puts the mains light out where that costs less than a stop. */
export function withoutMains(shot: Shot, light: MainsLight): FixIdea[] {
  const left = 1 - shareOf(shot, light);
  if (left < 0.5) return [];
  const price = brighterText(Math.log2(left));
  const rest = shot.lit.filter((lamp) => !light.lamps.includes(lamp));
  const changes: Parameters<typeof set>[1][] = [];
  if (light.lamps.length > 0) changes.push([shot, 'lit', litText(rest)]);
  if (light.room && shot.room) changes.push([shot.room, 'light', 'none']);
  return [set(`Put out ${mainsNames(light)} (${price})`, ...changes)];
}

export function litText(lamps: readonly LampPlace[]): string {
  if (lamps.length === 0) return 'none';
  return lamps.length === 1 ? lamps[0]!.name : `[${lamps.map((lamp) => lamp.name).join(', ')}]`;
}

/** Part of the light on the product's face; all of it where that is not known. */
function shareOf(shot: Shot, light: MainsLight): number {
  const face = brightestLight(shot);
  if (!face.complete || face.totalLux <= 0) return 1;
  const lamps = face.lamps.filter((one) => light.lamps.includes(one.lamp)).reduce((sum, one) => sum + one.share, 0);
  return lamps + (light.room ? face.roomShare : 0);
}
