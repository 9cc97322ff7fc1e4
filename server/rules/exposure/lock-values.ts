/** The value at which each setting of a camera can be locked, from the light, the frame and the subject of the shot. */
import { isoWanted, markedFNumbers, nearestMark } from '../../calc/exposure.ts';
import { kelvin } from '../../calc/temperature.ts';
import { faceLight } from '../../core/derived/light.ts';
import { magnificationOf } from '../../core/derived/optics.ts';
import { steadyShuttersS, stepping } from '../../core/derived/shutters.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import { whitesOf } from '../../core/derived/white-points.ts';
import type { Film, Shot } from '../../core/film.ts';
import { apertureText, kelvinText, shutterText } from '../../core/say.ts';
import { isoToSet } from '../../core/derived/noise.ts';

export type Setting = 'shutter' | 'aperture' | 'iso' | 'white-balance' | 'focus';

/** As it would be written; undefined where it can't be computed. Several are found one after the other: each builds on the last. */
export function lockValues(shot: Shot, film: Film, settings: readonly Setting[]): Map<Setting, string> {
  const { camera } = shot;
  const steady = settings.includes('shutter') ? steadyShutterS(shot, film) : undefined;
  const timeS = shutterSeconds(shot) ?? steady;
  const said = typeof camera.aperture?.value === 'number' ? camera.aperture.value : undefined;
  const fNumber = said ?? apertureFor(shot, timeS);
  const moving = camera.distance && camera.distance.value.from !== camera.distance.value.to;
  const values: Record<Setting, () => string | undefined> = {
    shutter: () => (steady === undefined ? undefined : shutterText(steady)),
    aperture: () => (fNumber === undefined ? undefined : apertureText(fNumber)),
    iso: () => isoFor(shot, fNumber, timeS),
    'white-balance': () => balanceFor(shot),
    focus: () => (moving ? 'follow' : 'locked'),
  };
  const known = new Map<Setting, string>();
  for (const setting of Object.keys(values) as Setting[]) {
    const text = settings.includes(setting) ? values[setting]() : undefined;
    if (text !== undefined) known.set(setting, text);
  }
  return known;
}

function steadyShutterS(shot: Shot, film: Film): number | undefined {
  const step = stepping(shot, film);
  return step && steadyShuttersS(shot, film, step, 40)[0];
}

function light(shot: Shot) {
  const { totalLux, complete } = faceLight(shot, 0);
  // With a plan to be brighter or darker, the settings stand for a correct exposure of that much less or more light.
  return complete && totalLux > 0 ? totalLux / 2 ** (shot.camera.exposure?.value ?? 0) : undefined;
}

function isoFor(shot: Shot, fNumber: number | undefined, timeS: number | undefined): string | undefined {
  const lux = light(shot);
  if (lux === undefined || fNumber === undefined || timeS === undefined) return undefined;
  const iso = isoToSet(shot.camera.body, isoWanted({ fNumber, timeS, ...losses(shot) }, lux));
  const range = shot.camera.body?.iso?.value;
  return !range || (iso >= range.from && iso <= range.to) ? String(iso) : undefined;
}

function apertureFor(shot: Shot, timeS: number | undefined): number | undefined {
  const lux = light(shot);
  const iso = shot.camera.iso?.value;
  if (lux === undefined || typeof iso !== 'number' || timeS === undefined) return undefined;
  // The ISO that is wanted grows with the square of the f-number.
  const exact = Math.sqrt(iso / isoWanted({ fNumber: 1, timeS, ...losses(shot) }, lux));
  const marked = nearestMark(exact, markedFNumbers);
  const range = shot.camera.lens?.aperture?.value;
  return !range || (marked >= range.from && marked <= range.to) ? marked : undefined;
}

function losses(shot: Shot) {
  return {
    filterStops: shot.camera.filters.reduce((sum, filter) => sum + filter.loses, 0),
    magnification: magnificationOf(shot),
  };
}

/** The colour of the main light, and what filters on the lens make of it. */
function balanceFor(shot: Shot): string | undefined {
  const { key } = whitesOf(shot);
  if (!key || key.temperature.value.from !== key.temperature.value.to) return undefined;
  const warms = shot.camera.filters.reduce((sum, filter) => sum + filter.warms, 0);
  return kelvinText(Math.round(kelvin(key.mired.from + warms) / 50) * 50);
}
