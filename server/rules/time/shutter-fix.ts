/** Fixes that set a shutter, with what it costs in light and what pays for that. */
import { shutterSeconds } from '../../core/derived/time.ts';
import { angleInFilm, isWhole, type Stepping } from '../../core/derived/shutters.ts';
import type { Camera, Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, listText, shutterText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { exposureTrade } from '../exposure/exposure-fixes.ts';

type Change = readonly [Camera, string, string];

/** Sets the shutter; where that puts the exposure off by more than a stop, ISO and a filter of the kit pay for it if they can. */
export function shutterFix(shot: Shot, film: Film, step: Stepping, timeS: Seconds, rateText?: string): FixIdea {
  const { camera } = shot;
  const now = shutterSeconds(shot);
  const gain = now === undefined ? 0 : Math.log2(timeS / now);
  const pay = exposureTrade(shot, film, gain);
  const text = shutterText(timeS);
  const parts = [
    angleText(angleInFilm(timeS, step)),
    film.mainsHz !== undefined && isWhole(timeS * 2 * film.mainsHz) ? `flicker-free at ${film.mainsHz} Hz` : '',
    now === undefined ? '' : brighterText(gain + (pay?.gain ?? 0)),
  ];
  const what = [rateText && `rate to ${rateText}`, `shutter to ${text}`, ...(pay?.what ?? [])].filter(Boolean);
  const changes: Change[] = [[camera, 'shutter', text]];
  if (rateText) changes.unshift([camera, 'rate', rateText]);
  return set(
    `Set ${listText(what.map(String))} (${parts.filter(Boolean).join(', ')})`,
    ...changes,
    ...(pay?.changes ?? []),
  );
}
