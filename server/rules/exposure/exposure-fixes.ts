/** Ways to make a picture brighter or darker, the cheapest first: lamps' level, filter, ISO, distance, aperture. */
import { markedFNumbers, markedIsos, nearestMark } from '../../calc/exposure.ts';
import { exposureError, faceLight, measuredLux } from '../../core/derived/light.ts';
import { baseIsoFor, cleanIso, isoToSet } from '../../core/derived/noise.ts';
import { still, tryLamp } from '../../core/derived/showings.ts';
import type { Camera, Film, Filter, LampPlace, Shot } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import {
  apertureText,
  asPlannedStops,
  brighterText,
  lengthText,
  listFirst,
  listText,
  percentText,
  quoted,
} from '../../core/say.ts';
import type { Stops } from '../../core/units.ts';
import { hasRoomAt } from '../optics/lamp-clearance.ts';
import { asideDeg, judgedError } from './judged-exposure.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';

/** Lower, many lamps change colour or pulse slowly, and none can be set finely; a kit can say otherwise. */
const lowestLevel = 0.1;
/** How near to right a fix must come to be offered. */
export const near: Stops = 0.5;

/** @param error stops by which the shot is too bright */
export function exposureFixes(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const { iso, body } = shot.camera;
  // ISO over the base is noise: what is too bright gives that back first.
  const above = error > 0 && typeof iso?.value === 'number' && iso.value > (baseIsoFor(body, iso.value) ?? iso.value);
  const byLevel = levels(shot, film, error);
  const byDistance = distances(shot, film, error);
  if (leavesNeighbours(shot, film, error) || (error < 0 && isTurnedFromKey(shot))) return [...byLevel, ...byDistance];
  const byIso = isos(shot, film, error);
  const single = [
    ...(above ? [...byIso, ...byLevel] : byLevel),
    ...filters(shot, film, error),
    ...(above ? [] : byIso),
    ...byDistance,
    ...apertures(shot, error),
  ];
  return [...single, ...(single.length < 2 ? inTwoSteps(shot, film, error) : [])].slice(0, 4);
}

/** Brighter by the camera alone, all that the key does light would burn out. */
export function isTurnedFromKey(shot: Shot): boolean {
  const { key } = faceLight(shot, 0);
  return key !== undefined && key.offFaceDeg >= asideDeg && measuredLux(key.lamp, shot) === undefined;
}

/** From here on two shots that meet are seen to differ. */
export const seenStops: Stops = 0.6;

/** Set right by its own camera alone, would it differ more from a shot that it meets in the cut than it does now? */
function leavesNeighbours(shot: Shot, { cut }: Film, error: Stops): boolean {
  const meets = shot.pieces.flatMap(({ index }) => [cut[index - 1]?.shot, cut[index + 1]?.shot]);
  return meets.some((other) => {
    const off = (other && other !== shot && other.camera.meter !== 'backdrop' && exposureError(other, 0)) || 0;
    return Math.abs(off) > seenStops && Math.abs(off) > Math.abs(off - error);
  });
}

/**
 * For shots that are off by much the same: all by the same, so that they stay alike where they meet in the cut, but for one
 * that would be seen to go too far.
 */
export function fixesForAll(shots: readonly Shot[], film: Film, error: Stops): FixIdea[] {
  const [first] = shots;
  if (!first) return [];
  const errorOf = (shot: Shot) => {
    const own = judgedError(shot, film) ?? error;
    return Math.abs(error) - Math.abs(own) > 2 * asPlannedStops ? own : error;
  };
  return [
    ...levels(first, film, error),
    ...distances(first, film, error),
    ...inEach('Set ISO to', shots, (shot) => isos(shot, film, errorOf(shot))),
    ...inEach('Put on', shots, (shot) => filters(shot, film, errorOf(shot))),
    ...inEach('Set aperture to', shots, (shot) => apertures(shot, errorOf(shot))),
  ].map((idea) => ({ ...idea, isNamed: true }));
}

/** One way in each shot, where all have it: `Set ISO to 800 in `lid` and 1600 in `crank` and `comb``. */
function inEach(what: string, shots: readonly Shot[], way: (shot: Shot) => readonly FixIdea[]): FixIdea[] {
  const named = new Map<string, string[]>();
  const changes = shots.flatMap((shot) => {
    const set = way(shot)[0]?.set ?? [];
    for (const { text } of set) named.set(text, [...(named.get(text) ?? []), quoted(shot.name)]);
    return set;
  });
  if (changes.length < shots.length) return [];
  const values = [...named].map(([text, names]) => `${text} in ${listFirst(names, 3)}`);
  return [{ title: `${what} ${listText(values)}`, set: changes }];
}

/** ISO down to its base, and the rest by another way, where hardly a way alone is enough. */
function inTwoSteps(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const { iso, body } = shot.camera;
  if (error <= 0 || typeof iso?.value !== 'number') return [];
  const base = baseIsoFor(body, iso.value);
  if (!base || base >= iso.value) return [];
  const left = error - Math.log2(iso.value / base);
  // What ISO does alone is offered alone.
  if (Math.abs(left) <= near) return [];
  const rest = [...levels(shot, film, left), ...filters(shot, film, left), ...apertures(shot, left)];
  return rest.slice(0, 2).map((one) => ({
    title: `Set ISO to ${base} and ${one.title.charAt(0).toLowerCase()}${one.title.slice(1)}`,
    set: [{ block: shot.camera, key: 'iso', text: String(base) }, ...(one.set ?? [])],
  }));
}

/** Where a change lands. */
function lands(error: Stops): string {
  return Math.abs(error) < asPlannedStops ? 'then right' : `then ${brighterText(error)} than right`;
}

/** The lamps that light the face, whose level stays the same through the take. */
function lampsOnFace(shot: Shot): LampPlace[] {
  const { lamps, measured } = faceLight(shot, 0);
  // What was measured was measured at these levels.
  if (measured) return [];
  // A board has no level: it follows its lamp.
  const able = lamps.filter(({ lux, lamp }) => lux > 0 && !lamp.bounces && measuredLux(lamp, shot) === undefined);
  return able.map(({ lamp }) => lamp);
}

/** All lamps of the face by the same factor, so that their ratio stays. */
function levels(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const lamps = lampsOnFace(shot);
  const factor = lampFactor(shot, error);
  if (lamps.length === 0 || factor === undefined || lamps.some((lamp) => lamp.changes && lamp.level)) return [];
  const levelsBy = (by: number) =>
    lamps.map((lamp) => ({ lamp, to: Math.round((lamp.level?.value.from ?? 1) * by * 100) / 100 }));
  // The most that all of them can do, where it comes near enough: what falls a little short of right is worth having.
  const most = Math.min(...lamps.map((lamp) => (lamp.lamp?.level?.value.to ?? 1) / (lamp.level?.value.from ?? 1)));
  const short = factor > most && most > 1 + 1e-6;
  const after = short ? leftAt(shot, error, most) : 0;
  const settings = levelsBy(short && Math.abs(after) <= near ? most : factor);
  const able = settings.every(({ lamp, to }) => {
    const range = lamp.lamp?.level?.value ?? { from: lowestLevel, to: 1 };
    return to >= range.from - 1e-9 && to <= range.to + 1e-9;
  });
  if (!able || !suitsOthers(shot, film, lamps, error)) return [];
  const names = listText(settings.map(({ lamp, to }) => `${quoted(lamp.name)} to ${percentText(to)}`));
  const notes = [
    ...(settings.length > 1 ? ['the ratio stays'] : []),
    ...(Math.abs(after) >= asPlannedStops ? [lands(after)] : []),
  ];
  const ratio = notes.length > 0 ? ` (${notes.join(', ')})` : '';
  return [
    set(`Set level of ${names}${ratio}`, ...settings.map(({ lamp, to }) => [lamp, 'level', percentText(to)] as const)),
  ];
}

/** The error that is left where the lamps give so many times their light. */
function leftAt(shot: Shot, error: Stops, factor: number): Stops {
  const { totalLux, roomLux } = faceLight(shot, 0);
  return error + Math.log2(((totalLux - roomLux) * factor + roomLux) / totalLux);
}

/** What the lamps' own light must be multiplied by; undefined where the room alone is too much. */
function lampFactor(shot: Shot, error: Stops): number | undefined {
  const light = faceLight(shot, 0);
  const lampLux = light.totalLux - light.roomLux;
  const left = light.totalLux / 2 ** error - light.roomLux;
  return left > 0 && lampLux > 0 ? left / lampLux : undefined;
}

/** Would the other shots under these lamps, whose exposure is known, be right or nearer to it? */
function suitsOthers(shot: Shot, film: Film, lamps: readonly LampPlace[], error: Stops): boolean {
  return [...film.shots.values()].every((other) => {
    if (other === shot || other.camera.meter === 'backdrop' || !other.lit.some((lamp) => lamps.includes(lamp)))
      return true;
    const off = exposureError(other, 0);
    return off === undefined || Math.abs(off - error) <= Math.max(near, Math.abs(off));
  });
}

/** One neutral filter of the kit that fits the lens. */
function filters(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const filter = neutralFilter(shot, film, error, near);
  if (!filter) return [];
  const title = `Put on filter ${quoted(filter.name)} (${lands(error - filter.loses)})`;
  return [set(title, [shot.camera, 'filters', filtersText(shot, filter)])];
}

/** The neutral filter of the kit that fits the lens and comes nearest to taking away so many stops, within `within`. */
export function neutralFilter(shot: Shot, film: Film, error: Stops, within: Stops): Filter | undefined {
  const { camera } = shot;
  const off = (filter: Filter) => Math.abs(error - filter.loses);
  const able = [...film.kit.filters.values()].filter(
    (filter) =>
      (filter.kind === 'nd' || (filter.kind === undefined && /^nd\b/.test(filter.name))) &&
      fits(filter, camera.lens?.name) &&
      !camera.filterNames.some((name) => name.value === filter.name) &&
      off(filter) <= within + 1e-9,
  );
  return error > 0 ? able.sort((a, b) => off(a) - off(b))[0] : undefined;
}

/** The shot's filters with one more, as written. */
export function filtersText({ camera }: Shot, more: Filter): string {
  const names = [...camera.filterNames.map((name) => name.value), more.name];
  return names.length === 1 ? names[0]! : `[${names.join(', ')}]`;
}

function isos(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const pays = isoThatPays(shot, film, error);
  if (!pays) return [];
  const noise = error < 0 ? 'more noise' : 'less noise';
  const title = `Set ISO to ${pays.iso} (${noise}, ${lands(error + pays.gain)})`;
  return [set(title, [shot.camera, 'iso', String(pays.iso)])];
}

/**
 * The ISO that sets right an error, near enough: from the base, under which highlights burn out, as far up as the picture
 * stays clean. `gain` is what it gives in stops, minus where it takes away.
 */
export function isoThatPays(shot: Shot, film: Film, error: Stops): { iso: number; gain: Stops } | undefined {
  const { iso, body } = shot.camera;
  if (typeof iso?.value !== 'number') return undefined;
  const wanted = iso.value / 2 ** error;
  const isRight = (to: number) => Math.abs(error + Math.log2(to / (iso.value as number))) <= near;
  const to = [isoToSet(body, wanted), nearestMark(wanted, markedIsos)].find(isRight);
  if (to === undefined) return undefined;
  const range = body?.iso?.value;
  const base = baseIsoFor(body, to);
  const most = Math.max(iso.value, base === undefined ? iso.value * 4 : cleanIso(shot, film, base));
  const gain = Math.log2(to / iso.value);
  const has = (!range || (to >= range.from && to <= range.to)) && to <= most;
  if (!has || (base !== undefined && to < base * 0.94)) return undefined;
  return { iso: to, gain };
}

/** A single lamp nearer or farther, and its boards with it: never so near that the fall-off over the product would show. */
function distances(shot: Shot, film: Film, error: Stops): FixIdea[] {
  const [lamp, ...others] = lampsOnFace(shot).filter((one) => !one.bounces);
  const distance = lamp?.distance?.value;
  if (
    !lamp ||
    others.length > 0 ||
    !distance ||
    lamp.changes ||
    isWindow(lamp) ||
    !suitsOthers(shot, film, [lamp], error)
  )
    return [];
  const depthMm = film.product.size?.value.depthMm ?? film.product.size?.value.widthMm ?? 0;
  const nearest = Math.max(20, Math.ceil((3 * depthMm) / 10));
  const now = Math.round(distance.from / 10);
  const [from, to] = error < 0 ? [nearest, now] : [Math.max(now, nearest), farthestCm];
  const wanted = (exposureError(shot, 0) ?? 0) - error;
  let best = { cm: now, off: near };
  for (let cm = from; cm <= to; cm++) {
    const off = Math.abs((exposureError(tryLamp(shot, lamp, { distance: still(cm * 10) }), 0) ?? Infinity) - wanted);
    if (off < best.off && hasRoomAt(film, lamp, cm * 10)) best = { cm, off };
  }
  if (best.cm === now) return [];
  const text = lengthText(best.cm * 10);
  return [set(`Move ${quoted(lamp.name)} to ${text}`, [lamp, 'distance', text])];
}

const farthestCm = 400;

function apertures(shot: Shot, error: Stops): FixIdea[] {
  const { aperture, lens } = shot.camera;
  const range = lens?.aperture?.value;
  if (typeof aperture?.value !== 'number' || !range || range.from === range.to) return [];
  const to = nearestMark(aperture.value * 2 ** (error / 2), markedFNumbers);
  const after = error - 2 * Math.log2(to / aperture.value);
  const low = Math.min(range.from, range.to) - 1e-9;
  if (to === aperture.value || to < low || to > Math.max(range.from, range.to) + 1e-9 || Math.abs(after) > near)
    return [];
  const text = apertureText(to);
  return [
    set(`Set aperture to ${text} (${error > 0 ? 'deeper' : 'shallower'} focus, ${lands(after)})`, [
      shot.camera,
      'aperture',
      text,
    ]),
  ];
}

export interface ExposureTrade {
  readonly what: readonly string[];
  /** Stops that it gives; minus takes away. */
  readonly gain: Stops;
  /** Stops by which the picture then is too bright. */
  readonly left: Stops;
  readonly changes: readonly (readonly [Camera, string, string])[];
}

/** Under the base highlights burn out; over the clean ISO noise shows. What is set already is never out of bounds. */
function isosToPayWith(shot: Shot, film: Film, now: number, wanted: number): [least: number, most: number] {
  const { body } = shot.camera;
  const base = baseIsoFor(body, 0);
  const range = body?.iso?.value;
  const clean = base === undefined ? now : cleanIso(shot, film, baseIsoFor(body, wanted) ?? base);
  return [Math.min(now, Math.max(base ?? 0, range?.from ?? 0)), Math.max(now, Math.min(clean, range?.to ?? Infinity))];
}

/** For a change that makes the picture brighter by `gain`: what brings the exposure back within a stop; undefined where nothing is needed or nothing would do. */
export function exposureTrade(shot: Shot, film: Film, gain: Stops): ExposureTrade | undefined {
  const { iso } = shot.camera;
  const before = exposureError(shot, 0);
  if (before === undefined || typeof iso?.value !== 'number') return undefined;
  const off = before + gain;
  if (Math.abs(off) <= 1 || Math.abs(off) <= Math.abs(before)) return undefined;
  const wanted = isoToSet(shot.camera.body, iso.value * 2 ** -off);
  const [least, most] = isosToPayWith(shot, film, iso.value, wanted);
  const to = Math.min(most, Math.max(least, wanted));
  const byIso: Stops = Math.log2(to / iso.value);
  const left = off + byIso;
  const filter = Math.abs(left) > 1 ? neutralFilter(shot, film, left, 1) : undefined;
  if (Math.abs(left) > 1 && !filter) return undefined;
  const isoToo = to !== iso.value;
  return {
    what: [isoToo ? `ISO to ${to}` : '', filter ? `filter ${quoted(filter.name)}` : ''].filter(Boolean),
    gain: byIso - (filter?.loses ?? 0),
    left: left - (filter?.loses ?? 0),
    changes: [
      ...(isoToo ? [[shot.camera, 'iso', String(to)] as const] : []),
      ...(filter ? [[shot.camera, 'filters', filtersText(shot, filter)] as const] : []),
    ],
  };
}
