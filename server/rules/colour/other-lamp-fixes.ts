/** Another lamp of the kit in the place of one, giving the same light. */
import { luxOnFace } from '../../calc/light.ts';
import { mired } from '../../calc/temperature.ts';
import { outputLuxAt1m } from '../../core/derived/light.ts';
import type { Film, KitLamp, LampPlace } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { along } from '../../core/derived/moments.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { kelvinText, percentText, quoted } from '../../core/say.ts';
import type { Kelvin, Share } from '../../core/units.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';

/**
 * The kit's lamps that suit, are free, take the place's filters and white, and are bright enough; the first two.
 * The level is set so that the subject keeps the light that it has.
 */
export function swapFixes(place: LampPlace, film: Film, suits: (lamp: KitLamp) => boolean): FixIdea[] {
  if (place.changes || place.movedFrom || !place.temperature || place.measured) return [];
  const white = place.temperature.value.from;
  return [...film.kit.lamps.values()]
    .filter((lamp) => lamp !== place.lamp && suits(lamp) && isFree(lamp, film) && hasWhite(lamp, white))
    .filter((lamp) => place.modifiers.every((modifier) => fits(modifier, lamp.name)))
    .flatMap((lamp) => {
      const level = levelFor(lamp, place);
      return level === undefined ? [] : [swap(place, lamp, level, white)];
    })
    .slice(0, 2);
}

function swap(place: LampPlace, lamp: KitLamp, level: Share, white: Kelvin): FixIdea {
  const text = percentText(level);
  const title = `Use ${quoted(lamp.name)} at ${text} for ${quoted(place.name)} (the same light)`;
  const temperature = place.fields.said('temperature') ? [] : ([[place, 'temperature', kelvinText(white)]] as const);
  return set(title, [place, 'use', lamp.name], [place, 'level', text], ...temperature);
}

/** Places that are moved from one another are one lamp. */
function isFree(lamp: KitLamp, film: Film): boolean {
  const origins = [...film.lamps.values()].filter((one) => one.kitName.value === lamp.name).map((one) => one.origin);
  return new Set(origins).size < lamp.count;
}

function hasWhite(lamp: KitLamp, white: Kelvin): boolean {
  const range = lamp.temperature?.value;
  if (!range) return false;
  const [least, most] = [mired(Math.max(range.from, range.to)), mired(Math.min(range.from, range.to))];
  return mired(white) >= least - 1e-6 && mired(white) <= most + 1e-6;
}

function levelFor(lamp: KitLamp, place: LampPlace): Share | undefined {
  const [now, full] = [luxAt(place, along(place.level?.value, 0) ?? 1), luxAt({ ...place, lamp }, 1)];
  if (!now || !full) return undefined;
  const level = Math.round((now / full) * 100) / 100;
  const range = lamp.level?.value;
  const able = level >= (range?.from ?? 0.01) - 1e-6 && level <= (range?.to ?? 1) + 1e-6;
  return able ? level : undefined;
}

/** On an upright face toward the lamp. */
function luxAt(place: LampPlace, level: Share): number | undefined {
  const at1m = outputLuxAt1m(place);
  const distance = along(place.distance?.value, 0);
  if (at1m === undefined || !distance) return undefined;
  const distanceM = distance / 1000;
  return luxOnFace({ ...lampSize(place), luxAt1m: at1m, level, distanceM, angleDeg: 0, lostStops: 0 });
}
