/** Fixes that set a shutter, with what it costs in light and what pays for that. */
import { markedIsos, nearestMark } from '../../calc/exposure.ts';
import { exposureError } from '../../core/derived/light.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import { angleInFilm, isWhole, type Stepping } from '../../core/derived/shutters.ts';
import type { Camera, Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, listText, quoted, shutterText } from '../../core/say.ts';
import type { Seconds, Stops } from '../../core/units.ts';
import { filtersText, neutralFilter } from '../exposure/pay.ts';

type Change = readonly [Camera, string, string];

/** Sets the shutter; where that puts the exposure off by more than a stop, ISO and a filter of the kit pay for it if they can. */
export function shutterFix(shot: Shot, film: Film, step: Stepping, timeS: Seconds, rateText?: string): FixIdea {
  const { camera } = shot;
  const now = shutterSeconds(shot);
  const gain = now === undefined ? 0 : Math.log2(timeS / now);
  const pay = payment(shot, film, gain);
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

export interface Payment {
  readonly what: readonly string[];
  /** Stops that it gives; minus takes away. */
  readonly gain: Stops;
  readonly changes: readonly Change[];
}

/** What brings the exposure back within a stop; undefined where nothing is needed or nothing would do. */
export function payment(shot: Shot, film: Film, gain: Stops): Payment | undefined {
  const { iso, body } = shot.camera;
  const before = exposureError(shot, 0);
  if (before === undefined || typeof iso?.value !== 'number') return undefined;
  const off = before + gain;
  if (Math.abs(off) <= 1 || Math.abs(off) <= Math.abs(before)) return undefined;
  // Under the base highlights burn out; over two stops above it noise shows.
  const base = body?.baseIso?.value;
  const range = body?.iso?.value;
  const least = Math.min(iso.value, Math.max(base ?? 0, range?.from ?? 0));
  const most = Math.max(iso.value, Math.min((base ?? iso.value / 4) * 4, range?.to ?? Infinity));
  const wanted = nearestMark(iso.value * 2 ** -off, markedIsos);
  const to = Math.min(most, Math.max(least, wanted));
  const byIso: Stops = Math.log2(to / iso.value);
  const left = off + byIso;
  const filter = Math.abs(left) > 1 ? neutralFilter(shot, film, left, 1) : undefined;
  if (Math.abs(left) > 1 && !filter) return undefined;
  const isoToo = to !== iso.value;
  return {
    what: [isoToo ? `ISO to ${to}` : '', filter ? `filter ${quoted(filter.name)}` : ''].filter(Boolean),
    gain: byIso - (filter?.loses ?? 0),
    changes: [
      ...(isoToo ? [[shot.camera, 'iso', String(to)] as const] : []),
      ...(filter ? [[shot.camera, 'filters', filtersText(shot, filter)] as const] : []),
    ],
  };
}
