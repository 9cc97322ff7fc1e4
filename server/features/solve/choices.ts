/** What each setting may be turned to, within the kit and round what is fixed; undefined stands for "as it is". */
import { markedFNumbers, markedIsos } from '../../calc/exposure.ts';
import { focusHoldingMm } from '../../calc/optics.ts';
import { distanceForGainM, distanceGain } from '../../calc/light.ts';
import { exposureError, faceLight } from '../../core/derived/light.ts';
import { lensAt } from '../../core/derived/optics.ts';
import { still, tryShot } from '../../core/derived/showings.ts';
import { steadyShuttersS, stepping } from '../../core/derived/shutters.ts';
import type { Film, Filter, LampPlace, Shot } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { mustBeSharp } from '../../core/derived/sharp.ts';
import type { Ends, Mm, Seconds, Share, Stops } from '../../core/units.ts';
import { type Change, costOf, tryChange } from './change.ts';
import type { Pinned } from './pins.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';

/** Lower, many lamps change colour or pulse slowly; a kit can say otherwise. Common practice, no source. */
const lowestLevel = 0.1;
/** Light is made up to within this; what is written already may be this far off and stay. */
const nearStops = 0.17;

export interface Choices {
  readonly shot: Shot;
  readonly film: Film;
  readonly pinned: Pinned;
}

/** As it is first, then the steadiest near half a frame. */
export function shutterChoices({ shot, film, pinned }: Choices): (Seconds | undefined)[] {
  const { camera } = shot;
  const now = camera.shutter?.value;
  const asIs = now !== undefined && now !== 'auto' ? [undefined] : [];
  const step = stepping(shot, film);
  if (pinned(camera.fields, 'shutter') || !step) return [undefined];
  const steady = steadyShuttersS(shot, film, step, 40).slice(0, 4);
  return asIs.length + steady.length > 0 ? [...asIs, ...steady] : [undefined];
}

/** All marks of the lens. */
export function apertureChoices({ shot, pinned }: Choices): (number | undefined)[] {
  const { aperture, lens, fields } = shot.camera;
  const range = lens?.aperture?.value;
  const asIs = typeof aperture?.value === 'number';
  if (pinned(fields, 'aperture') || !range || (asIs && range.from === range.to)) return [undefined];
  const marks = markedFNumbers.filter((n) => n >= range.from * 0.999 && n <= range.to * 1.001 && n !== aperture?.value);
  return asIs ? [undefined, ...marks] : marks;
}

/** As it is, and where the nearest and the farthest point of the subject are equally soft. */
export function focusChoices({ shot, film, pinned }: Choices, change: Change): (Mm | undefined)[] {
  const { focus, fields } = shot.camera;
  const there = tryChange(shot, change);
  const value = focus?.value;
  const set = value !== 'follow' && (typeof value !== 'object' || value.from === value.to);
  const wanted = mustBeSharp(there, film, 0);
  const lens = lensAt(there, 0);
  if (!set || pinned(fields, 'focus') || !wanted || !lens || wanted.nearMm <= lens.focalMm) return [undefined];
  const best = Math.round(focusHoldingMm(wanted.nearMm, wanted.farMm));
  // At another distance the old focus is seldom worth a try.
  return value === undefined || value === 'auto' || change.distanceMm !== undefined ? [best] : [undefined, best];
}

/** A tape at home, or a room, is hardly longer. Common practice, no source. */
const farthestMm = 5000;

/** As it is, then nearer and farther in steps that grow: the camera's distance is a tape's, in whole centimetres. */
export function distanceChoices({ shot, pinned }: Choices): (Mm | undefined)[] {
  const { distance, fields, lens } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to || pinned(fields, 'distance')) return [undefined];
  const now = distance.value.from;
  const least = Math.max(50, (lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0));
  const most = Math.max(farthestMm, now);
  const octaves = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 18, 21, 24, 27, 30, 33, 36, 39, 42].map((step) => step / 6);
  const all = octaves.flatMap((octave) => [now * 2 ** octave, now * 2 ** -octave]);
  // Nobody knows what a lens shows where it can't be reckoned: silence there is no cure.
  const isKnown = (mm: Mm) => lensAt(tryShot(shot, { camera: { distance: still(mm) } }), 0) !== undefined;
  const inRange = all
    .map((mm) => Math.ceil(mm / 10) * 10)
    .filter((mm) => mm >= least && mm <= most && mm !== now && (mm > now || isKnown(mm)));
  return [undefined, ...new Set(inRange)];
}

/**
 * Ways to make the light right once shutter, aperture and distances are chosen: filter, ISO, the level of all lamps on
 * the face by one factor (their ratio stays), the distance of a single lamp. The cheapest of each kind first; where
 * nothing is enough, the one that comes nearest.
 */
export function lightChoices(choices: Choices, base: Change): Change[] {
  const { shot } = choices;
  const camera = tryChange(shot, base).camera;
  const isoNow = typeof camera.iso?.value === 'number' ? camera.iso.value : undefined;
  const start: Change = isoNow === undefined ? { ...base, iso: 100 } : base;
  const error = exposureError(tryChange(shot, start), 0);
  if (error === undefined) return [base];
  const found: { change: Change; cost: number; off: number; kind: string }[] = [];
  const add = (change: Change, off: number, kind: string) =>
    found.push({ change, cost: costOf(shot, change), off: Math.abs(off), kind });
  for (const filters of filterChoices(choices)) {
    for (const iso of isoChoices(choices)) {
      const change = { ...base, ...(filters && { filters }), ...(iso !== undefined && { iso }) };
      const off = error + Math.log2((iso ?? isoNow ?? 100) / (isoNow ?? 100)) - moreLoss(shot, filters);
      const asPlanned = Math.abs(off) <= (filters || iso !== undefined ? nearStops : 0.5);
      add(change, off, filters ? 'filter' : 'iso');
      if (asPlanned) continue;
      const levels = levelChoice(choices, off);
      if (levels) add({ ...change, levels: levels.levels }, levels.off, 'level');
      const lampDistances = lampDistanceChoice(choices, off);
      if (lampDistances) add({ ...change, lampDistances }, 0, 'distance');
    }
  }
  return cheapest(found);
}

function cheapest(found: { change: Change; cost: number; off: number; kind: string }[]): Change[] {
  const right = found.filter(({ off, change }) => off <= (change.iso === undefined ? 0.5 : nearStops) + 1e-9);
  if (right.length === 0)
    return found
      .sort((a, b) => a.off - b.off || a.cost - b.cost)
      .slice(0, 1)
      .map((one) => one.change);
  right.sort((a, b) => a.cost - b.cost);
  return ['iso', 'filter', 'level', 'distance'].flatMap((kind) =>
    right
      .filter((one) => one.kind === kind)
      .slice(0, 2)
      .map((one) => one.change),
  );
}

function moreLoss({ camera }: Shot, filters: readonly Filter[] | undefined): Stops {
  const sum = (all: readonly Filter[]) => all.reduce((stops, one) => stops + one.loses, 0);
  return filters ? sum(filters) - sum(camera.filters) : 0;
}

/** Without the neutral filters that are on, and with each one of the kit. Other filters stay. */
function filterChoices({ shot, film, pinned }: Choices): (readonly Filter[] | undefined)[] {
  const { camera } = shot;
  if (pinned(camera.fields, 'filters') || camera.filters.length !== camera.filterNames.length) return [undefined];
  const others = camera.filters.filter((one) => !isNeutral(one));
  const bare = others.length < camera.filters.length ? [others] : [];
  const able = [...film.kit.filters.values()].filter(
    (one) => isNeutral(one) && fits(one, camera.lens?.name) && !camera.filters.includes(one),
  );
  return [undefined, ...bare, ...able.slice(0, 4).map((one) => [...others, one])];
}

function isNeutral({ kind, name }: Filter): boolean {
  return kind === 'nd' || (kind === undefined && /^nd\b/.test(name));
}

export function isoChoices({ shot, pinned }: Choices): (number | undefined)[] {
  const { iso, body, fields } = shot.camera;
  if (pinned(fields, 'iso')) return [undefined];
  const now = typeof iso?.value === 'number' ? iso.value : undefined;
  const range = body?.iso?.value;
  const marks = markedIsos.filter((one) => one !== now && (!range || (one >= range.from && one <= range.to)));
  const near = marks.filter((one) => !now || Math.abs(Math.log2(one / now)) <= 6);
  return now === undefined ? near : [undefined, ...near];
}

/** The lamps on the face, and how far each may be turned; none where one of them can't be. */
export function lampLevels({ shot, pinned }: Choices): { lamp: LampPlace; range: Ends<Share> }[] {
  const lamps = faceLight(shot, 0).lamps.flatMap(({ lux, lamp }) => (lux > 0 ? [lamp] : []));
  const able = lamps.every(
    (lamp) =>
      !lamp.measured && !pinned(lamp.fields, 'level') && !(lamp.level && lamp.level.value.from !== lamp.level.value.to),
  );
  return able ? lamps.map((lamp) => ({ lamp, range: lamp.lamp?.level?.value ?? { from: lowestLevel, to: 1 } })) : [];
}

/** The lamps on the face, by the factor that makes up for the error, as far as they can go. */
function levelChoice(choices: Choices, off: Stops): { levels: ReadonlyMap<LampPlace, number>; off: Stops } | undefined {
  const light = faceLight(choices.shot, 0);
  const lamps = lampLevels(choices);
  const lampLux = light.totalLux - light.roomLux;
  const wanted = light.totalLux / 2 ** off - light.roomLux;
  if (lamps.length === 0 || wanted <= 0 || lampLux <= 0) return undefined;
  const now = (lamp: LampPlace) => lamp.level?.value.from ?? 1;
  const least = Math.max(...lamps.map(({ lamp, range }) => range.from / now(lamp)));
  const most = Math.min(...lamps.map(({ lamp, range }) => range.to / now(lamp)));
  if (least > most) return undefined;
  const factor = Math.min(most, Math.max(least, wanted / lampLux));
  const levels = new Map(lamps.map(({ lamp }) => [lamp, Math.round(now(lamp) * factor * 100) / 100]));
  const lux = lampLux * factor + light.roomLux;
  return { levels, off: off + Math.log2(lux / light.totalLux) };
}

/** A single lamp nearer or farther; never so near that its fall-off over the product would show. */
function lampDistanceChoice({ shot, film, pinned }: Choices, off: Stops): ReadonlyMap<LampPlace, Mm> | undefined {
  const light = faceLight(shot, 0);
  const lamps = light.lamps.filter((one) => one.lux > 0);
  const [only] = lamps;
  const distance = only?.lamp.distance?.value;
  if (!only || lamps.length > 1 || !distance || only.lamp.changes || only.lamp.measured) return undefined;
  if (pinned(only.lamp.fields, 'distance')) return undefined;
  const wanted = light.totalLux / 2 ** off - light.roomLux;
  if (wanted <= 0) return undefined;
  const size = lampSize(only.lamp);
  const toM = distanceForGainM(size, distanceGain(size, distance.from / 1000) * (wanted / only.lux));
  const depthMm = film.product.size?.value.depthMm ?? film.product.size?.value.widthMm ?? 0;
  if (toM === undefined || toM > 4 || toM * 1000 < Math.max(200, 3 * depthMm)) return undefined;
  return new Map([[only.lamp, Math.round(toM * 100) * 10]]);
}
