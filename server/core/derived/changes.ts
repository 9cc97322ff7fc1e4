/** What changes from one set-up to the next, in minutes of work (common practice, no source). */
import type { CostMatrix } from '../../calc/order-path.ts';
import type { LampPlace, Shot, Val } from '../film.ts';
import { once } from '../memo.ts';
import { turningRpm } from './time.ts';

/** Minutes for each kind of change. */
export const changeMinutes = {
  cameraPlace: 10,
  /** Within a set-up, which stays as it is around it. */
  cameraNudged: 3,
  support: 8,
  lens: 4,
  filters: 2,
  mode: 1,
  backdrop: 15,
  backdropMoved: 5,
  surface: 12,
  turntable: 10,
  lampUpOrStruck: 3,
  lampMoved: 5,
  modifier: 3,
  level: 0.5,
} as const;

/** Minutes for the first set-up of a day where nothing is said. */
export const firstBuildMinutes = 60;

/** The shots of one set-up; the shots without one are a set-up of their own. */
export interface Work {
  readonly name?: string;
  readonly shots: readonly Shot[];
  /** How long it takes from nothing, where that is said. */
  readonly buildMinutes?: number;
}

/** Minutes from one set-up to another: what its `build` says, else the sum over what differs between the shots that meet. */
export function changeOf(from: Work, to: Work): number {
  if (!from.shots[0] || !to.shots[0]) return 0;
  return to.buildMinutes ?? differenceOf(from, to);
}

/** Minutes of what differs between two set-ups: what an order of work can save. */
function differenceOf(from: Work, to: Work): number {
  if (!from.shots[0] || !to.shots[0]) return 0;
  const [a, b] = [builtFor(from.shots[0]), builtFor(to.shots[0])];
  return cameraChange(a, b) + placeChange(a, b) + turntableChange(from, to) + lampsChange(a, b);
}

/** Minutes between the shots of one set-up, as they are written: the camera is moved by hand, lenses and lamps are changed. */
export const changesWithin = once(({ shots }: Work): number =>
  shots.slice(1).reduce((sum, shot, index) => {
    const [a, b] = [builtFor(shots[index]!), builtFor(shot)];
    const nudged = a.camera === b.camera ? 0 : changeMinutes.cameraNudged - changeMinutes.cameraPlace;
    return sum + cameraChange(a, b) + nudged + placeChange(a, b) + lampsChange(a, b);
  }, 0),
);

/** Minutes of all changes from one to the next. */
export function changesOf(works: readonly Work[]): number {
  return works.slice(1).reduce((sum, work, index) => sum + changeOf(works[index]!, work), 0);
}

/**
 * Minutes from each to each: what differs, and from the one written before it, or where the day begins, at most what its `build`
 * says. From any other at most what it takes from nothing.
 */
export function changeCosts(works: readonly Work[]): CostMatrix {
  const fromNothing = works.map((_, index) => buildFromNothing(works, index) ?? Infinity);
  return works.map((from, row) =>
    works.map((to, column) => {
      if (from === to) return 0;
      const built = column === row + 1 ? (to.buildMinutes ?? Infinity) : fromNothing[column]!;
      return Math.min(differenceOf(from, to), built);
    }),
  );
}

/**
 * A `build` within which the former would become this one, and in which the former could not have been built, counts on what the
 * former leaves standing: from nothing it takes no less than that.
 */
function buildFromNothing(works: readonly Work[], index: number): number | undefined {
  const [former, work] = [works[index - 1], works[index]!];
  if (!former?.buildMinutes || !work.buildMinutes || differenceOf(former, work) > work.buildMinutes)
    return work.buildMinutes;
  return Math.max(work.buildMinutes, former.buildMinutes);
}

/** What can change between two shots, in the words of the file: what is written alike is the same. */
interface Built {
  readonly camera: string;
  readonly support: string | undefined;
  readonly lens: string | undefined;
  readonly filters: string;
  readonly mode: string;
  readonly backdrop: string;
  readonly backdropPlace: string;
  readonly surface: string;
  /** By the lamp: places that were moved from one another are one. */
  readonly lamps: ReadonlyMap<string, BuiltLamp>;
}

interface BuiltLamp {
  readonly place: string;
  readonly modifiers: string;
  readonly light: string;
}

const written = (...vals: readonly (Val<unknown> | undefined)[]) => vals.map((val) => val?.text ?? '').join('|');

/** Every set-up is compared with every other. */
const builtFor = once(({ camera, backdrop, surface, lit }: Shot): Built => {
  const { bodyName, distance, height, angle, slide, wayUpAt } = camera;
  const { raster, rate, codec, bits, colourSpace, whiteBalance } = camera;
  return {
    camera: written(bodyName, distance, height, angle, slide, wayUpAt),
    support: camera.supportName?.value,
    lens: camera.lens?.name,
    filters: written(...camera.filterNames),
    mode: written(raster, rate, codec, bits, colourSpace, whiteBalance),
    backdrop: written(backdrop?.screenName, backdrop?.material, backdrop?.colour, backdrop?.size),
    backdropPlace: written(backdrop?.behind, backdrop?.bottom),
    surface: `${written(surface?.material, surface?.colour, surface?.size)}|${surface?.finish}`,
    lamps: new Map(lit.map((place) => [place.origin, builtLamp(place)])),
  };
});

const builtLamp = once((lamp: LampPlace): BuiltLamp => {
  const { distance, angle, height, held, level, temperature, colour } = lamp;
  return {
    place: `${written(distance, angle, height)}|${held}`,
    modifiers: written(...lamp.modifierNames),
    light: written(level, temperature, colour),
  };
});

function cameraChange(a: Built, b: Built): number {
  return (
    (a.camera === b.camera ? 0 : changeMinutes.cameraPlace) +
    (a.support === b.support ? 0 : changeMinutes.support) +
    (a.lens === b.lens ? 0 : changeMinutes.lens) +
    (a.filters === b.filters ? 0 : changeMinutes.filters) +
    (a.mode === b.mode ? 0 : changeMinutes.mode)
  );
}

function placeChange(a: Built, b: Built): number {
  const moved = a.backdropPlace === b.backdropPlace ? 0 : changeMinutes.backdropMoved;
  return (
    (a.backdrop === b.backdrop ? moved : changeMinutes.backdrop) + (a.surface === b.surface ? 0 : changeMinutes.surface)
  );
}

function turntableChange(from: Work, to: Work): number {
  return tableOf(from) === tableOf(to) ? 0 : changeMinutes.turntable;
}

const tableOf = once(({ shots }: Work) => {
  const turning = shots.find((shot) => turningRpm(shot) !== 0);
  return turning && (turning.turn?.table?.name ?? 'some');
});

function lampsChange(a: Built, b: Built): number {
  let minutes = 0;
  for (const [lamp, one] of a.lamps) {
    const other = b.lamps.get(lamp);
    minutes += other ? lampChange(one, other) : changeMinutes.lampUpOrStruck;
  }
  for (const lamp of b.lamps.keys()) if (!a.lamps.has(lamp)) minutes += changeMinutes.lampUpOrStruck;
  return minutes;
}

function lampChange(a: BuiltLamp, b: BuiltLamp): number {
  if (a === b) return 0;
  return (
    (a.place === b.place ? 0 : changeMinutes.lampMoved) +
    (a.modifiers === b.modifiers ? 0 : changeMinutes.modifier) +
    (a.light === b.light ? 0 : changeMinutes.level)
  );
}
