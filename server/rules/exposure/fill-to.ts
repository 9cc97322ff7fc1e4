/** What brings a fill to the light that it should give: the key stays, so that the exposure holds. */
import { dims, luxToward, measuredLux } from '../../core/derived/light.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';
import { still } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { lengthText, luxText, percentText, quoted } from '../../core/say.ts';
import type { Lux, Mm, Stops } from '../../core/units.ts';
import { hasRoomAt } from '../optics/lamp-clearance.ts';

interface FillWay {
  /** A sentence with a space before it; empty where nothing is known to help. */
  readonly how: string;
  readonly fixes: () => readonly FixIdea[];
}

const noWay: FillWay = { how: '', fixes: () => [] };

/** By its level, else by its distance. What it gives and should give is measured in one way, whichever. */
export function fillTo(fill: { lamp: LampPlace; lux: Lux }, wanted: Lux, shot: Shot, film: Film): FillWay {
  const { lamp } = fill;
  if (isWindow(lamp) || measuredLux(lamp, shot) !== undefined) return noWay;
  const level = Math.round(((lamp.level?.value.from ?? 1) * wanted * 100) / fill.lux) / 100;
  const range = lamp.lamp?.level?.value ?? { from: 0.05, to: 1 };
  // A board follows its lamp.
  if (lamp.bounces || !dims(lamp) || level < range.from || level > range.to) return byDistance(fill, wanted, film);
  const text = percentText(level);
  const idea = set(`Set level of ${quoted(lamp.name)} to ${text}`, [lamp, 'level', text]);
  return { how: ` At ${text} it does.`, fixes: () => [idea] };
}

/** Nearer and farther than this nobody sets up a lamp beside a product. */
const [leastMm, mostMm]: readonly [Mm, Mm] = [200, 4000];
/** How near to what is wanted a whole centimetre comes, and how near changes no modelling (common practice, no source). */
const [exact, nearEnough]: readonly [Stops, Stops] = [0.07, 0.5];

function byDistance({ lamp, lux: now }: { lamp: LampPlace; lux: Lux }, wanted: Lux, film: Film): FillWay {
  const share = now / (luxToward(lamp) ?? now);
  const all = Array.from({ length: (mostMm - leastMm) / 10 + 1 }, (_, step) => leastMm + step * 10);
  const off = (mm: Mm) => Math.abs(Math.log2(((luxAt(lamp, mm) ?? 0) * share) / wanted));
  const best = all.reduce((least, mm) => (off(mm) < off(least) ? mm : least));
  const nearest = nearestPlace(lamp, film);
  if (nearest === undefined) return noWay;
  const place = Math.max(best, nearest);
  const [text, lux] = [lengthText(place), (luxAt(lamp, place) ?? 0) * share];
  if (!lux) return noWay;
  const idea = set(`Move ${quoted(lamp.name)} to ${text}`, [lamp, 'distance', text]);
  const fixes = () => (hasRoomAt(film, lamp, place) ? [idea] : []);
  if (off(place) <= exact) return { how: ` At ${text} it does.`, fixes };
  if (lux >= wanted) return noWay;
  const there = ` At ${text}, as near as it has room, it gives ${luxText(lux)}`;
  if (off(place) <= nearEnough) return { how: `${there}.`, fixes };
  return { ...noWay, how: `${there}: for more it must be ${lamp.bounces ? 'larger' : 'stronger'}.` };
}

/** As near as it has room, from where it stands; undefined where it has none there. */
const nearestPlace = onceIn((lamp: LampPlace, film: Film): Mm | undefined => {
  let nearest: Mm | undefined;
  const now = Math.floor((lamp.distance?.value.from ?? 0) / 10) * 10;
  for (let mm = now; mm >= leastMm && hasRoomAt(film, lamp, mm); mm -= 10) nearest = mm;
  return nearest;
});

/** A board that is moved gets another light as well. */
function luxAt(lamp: LampPlace, mm: Mm): Lux | undefined {
  return luxToward({ ...lamp, distance: still(mm) });
}
