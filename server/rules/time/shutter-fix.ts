/** Fixes that set a shutter, with what it costs in light and what pays for that. */
import { markedIsos, nearestMark } from '../../calc/exposure.ts';
import { exposureError } from '../../core/derived/light.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import { angleInFilm, isWhole, type Stepping } from '../../core/derived/shutters.ts';
import type { Camera, Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, shutterText } from '../../core/say.ts';
import type { Seconds, Stops } from '../../core/units.ts';

type Change = readonly [Camera, string, string];

/** Sets the shutter; where that puts the exposure off by more than a stop, ISO pays for it if it can. */
export function shutterFix(shot: Shot, film: Film, step: Stepping, timeS: Seconds, rateText?: string): FixIdea {
  const { camera } = shot;
  const now = shutterSeconds(shot);
  const gain = now === undefined ? 0 : Math.log2(timeS / now);
  const iso = isoToPay(shot, gain);
  const text = shutterText(timeS);
  const parts = [
    angleText(angleInFilm(timeS, step)),
    film.mainsHz !== undefined && isWhole(timeS * 2 * film.mainsHz) ? `flicker-free at ${film.mainsHz} Hz` : '',
    now === undefined ? '' : iso ? brighterText(gain + Math.log2(iso.iso / iso.now)) : brighterText(gain),
  ];
  const what = [rateText && `rate ${rateText}`, `shutter to ${text}`, iso && `ISO to ${iso.iso}`].filter(Boolean);
  const title = `Set ${what.join(' and ')} (${parts.filter(Boolean).join(', ')})`;
  const changes: Change[] = [[camera, 'shutter', text]];
  if (rateText) changes.unshift([camera, 'rate', rateText]);
  if (iso) changes.push([camera, 'iso', String(iso.iso)]);
  return set(title, ...changes);
}

/** Within two stops of the base and within the camera's range; undefined where none is needed or none would do. */
function isoToPay(shot: Shot, gain: Stops): { iso: number; now: number } | undefined {
  const { iso, body } = shot.camera;
  const off = exposureError(shot, 0);
  if (off === undefined || typeof iso?.value !== 'number' || Math.abs(off + gain) <= 1) return undefined;
  if (Math.abs(off + gain) <= Math.abs(off)) return undefined;
  const wanted = nearestMark(iso.value * 2 ** -(off + gain), markedIsos);
  const range = body?.iso?.value;
  const most = Math.max(iso.value, (body?.baseIso?.value ?? iso.value / 4) * 4);
  const able = wanted <= most && (!range || (wanted >= range.from && wanted <= range.to));
  return able ? { iso: wanted, now: iso.value } : undefined;
}
