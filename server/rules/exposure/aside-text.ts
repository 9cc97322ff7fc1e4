/** Lamps whose light falls aslant on what is filmed, in words. */
import { faceLight, type LampLight, luxToward, measuredLux } from '../../core/derived/light.ts';
import type { Shot } from '../../core/film.ts';
import { listText, num, percentText, quoted } from '../../core/say.ts';
import { asideDeg, isOfEdge } from './judged-exposure.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';

/** From here on a key falls so much aslant on what the camera sees that a reckoning along its beam goes wrong by half a stop. */
const keyAslantDeg = 45;

/** The lamps that one would count on, and that stand so. What was measured on what is filmed has lost nothing by it. */
export function asideText(shot: Shot, moment: number): string {
  const aside = asideLamps(shot, moment);
  return aside.length === 0 ? '' : ` ${listText(aside.map(placeText))}.${readText(aside)}`;
}

/** The same of windows alone. */
export function windowAsideText(shot: Shot): string {
  const aside = asideLamps(shot, 0).filter(({ lamp }) => isWindow(lamp));
  return aside.length === 0 ? '' : ` ${listText(aside.map(placeText))}.${readText(aside)}`;
}

function asideLamps(shot: Shot, moment: number): LampLight[] {
  const { lamps, key } = faceLight(shot, moment);
  const isAside = (one: LampLight) => one.offFaceDeg > (one.lamp === key?.lamp ? keyAslantDeg : asideDeg);
  return lamps.filter(
    (one) =>
      !isOfEdge(one.lamp) &&
      one.lamp.role?.value !== 'practical' &&
      measuredLux(one.lamp, shot) === undefined &&
      isAside(one),
  );
}

function placeText({ lamp, offFaceDeg, faced }: LampLight): string {
  const share = percentText(faced);
  return `${quoted(lamp.name)} stands ${num(offFaceDeg, 0)}° round from what is filmed, which leaves ${share} of its light`;
}

/**
 * What a kit says of a window its owner has read: toward the light, as a flat receptor compares lamps (The Manual of
 * Photography, from memory), or toward the camera as a picture is metered (US Army subcourse SS0508, incident reading), which
 * has the slant in it.
 */
function readText(aside: readonly LampLight[]): string {
  const isReckoned = aside.some(({ lamp }) => isWindow(lamp) && luxToward(lamp));
  return isReckoned ? ' What a meter reads there, turned as what is filmed faces, can be said as `measured`.' : '';
}
