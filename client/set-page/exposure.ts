/** What measured light and colour do to a shot, in the words of the page; the numbers are those of the checks. */
import { markedIsos, nearestMark, stopsOver } from '../../server/calc/exposure.ts';
import { miredShift } from '../../server/calc/temperature.ts';
import { asPlannedStops, brighterText, num } from '../../server/core/say.ts';
import type { ShotOnSet } from '../../server/views/set-page/plan.ts';

/** Stops by which the picture comes out brighter than it is meant to be; undefined where the settings are not known. */
export function stopsOff({ wantedLux, meantStops }: ShotOnSet, lux: number): number | undefined {
  return wantedLux === undefined || wantedLux <= 0 ? undefined : stopsOver(lux, wantedLux) - meantStops;
}

export function lightWords(shot: ShotOnSet, lux: number): string {
  const off = stopsOff(shot, lux);
  if (off === undefined)
    return 'What that does is not known: aperture, ISO or shutter are not said, or something else is metered.';
  if (Math.abs(off) < asPlannedStops) return `${num(lux, 2)} lx is as planned.`;
  const iso = shot.iso && nearestMark(shot.iso * 2 ** -off, markedIsos);
  const mended = iso && iso !== shot.iso ? `: ISO ${num(iso)} in place of ${num(shot.iso!)} would take that back` : '';
  return `${num(lux, 2)} lx is ${brighterText(off)} than planned${mended}.`;
}

/** A difference that is hardly seen, in mired (common practice, no source). */
const unseenMired = 10;

export function colourWords({ whiteBalanceK }: ShotOnSet, kelvin: number): string {
  if (whiteBalanceK === undefined) return '';
  const mired = miredShift(kelvin, whiteBalanceK);
  if (Math.abs(mired) < unseenMired)
    return `${num(kelvin, 0)} K suits the white balance of ${num(whiteBalanceK, 0)} K.`;
  return `${num(kelvin, 0)} K under a white balance of ${num(whiteBalanceK, 0)} K comes out ${num(Math.abs(mired), 0)} mired ${kelvin > whiteBalanceK ? 'bluer' : 'warmer'} than neutral.`;
}
