/** What changes from one set-up to the next, in minutes of work (common practice, no source). */
import type { CostMatrix } from '../../calc/order-path.ts';
import type { Camera, LampPlace, Shot, Val } from '../film.ts';
import { turningRpm } from './time.ts';

/** Minutes for each kind of change. */
export const changeMinutes = {
  cameraPlace: 10,
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

const written = (...vals: readonly (Val<unknown> | undefined)[]) => vals.map((val) => val?.text ?? '').join('|');

/** Minutes from one set-up to another: the sum over what differs between their first shots, and no more than its build. */
export function changeOf(from: Work, to: Work): number {
  const [a, b] = [from.shots[0], to.shots[0]];
  if (!a || !b) return 0;
  const sum = cameraChange(a.camera, b.camera) + placeChange(a, b) + turntableChange(from, to) + lampsChange(a, b);
  return Math.min(sum, to.buildMinutes ?? Infinity);
}

export function changeCosts(works: readonly Work[]): CostMatrix {
  return works.map((from) => works.map((to) => (from === to ? 0 : changeOf(from, to))));
}

function cameraChange(a: Camera, b: Camera): number {
  const place = ({ bodyName, distance, height, angle, slide, wayUpAt }: Camera) =>
    written(bodyName, distance, height, angle, slide, wayUpAt);
  const mode = ({ raster, rate, codec, bits, colourSpace, whiteBalance }: Camera) =>
    written(raster, rate, codec, bits, colourSpace, whiteBalance);
  return (
    (place(a) === place(b) ? 0 : changeMinutes.cameraPlace) +
    (a.supportName?.value === b.supportName?.value ? 0 : changeMinutes.support) +
    (a.lens?.name === b.lens?.name ? 0 : changeMinutes.lens) +
    (written(...a.filterNames) === written(...b.filterNames) ? 0 : changeMinutes.filters) +
    (mode(a) === mode(b) ? 0 : changeMinutes.mode)
  );
}

function placeChange(a: Shot, b: Shot): number {
  const backdrop = ({ backdrop: one }: Shot) => written(one?.screenName, one?.material, one?.colour, one?.size);
  const where = ({ backdrop: one }: Shot) => written(one?.behind, one?.bottom);
  const surface = ({ surface: one }: Shot) => `${written(one?.material, one?.colour, one?.size)}|${one?.finish}`;
  const moved = where(a) === where(b) ? 0 : changeMinutes.backdropMoved;
  return (
    (backdrop(a) === backdrop(b) ? moved : changeMinutes.backdrop) +
    (surface(a) === surface(b) ? 0 : changeMinutes.surface)
  );
}

function turntableChange(from: Work, to: Work): number {
  const table = ({ shots }: Work) => {
    const turning = shots.find((shot) => turningRpm(shot) !== 0);
    return turning && (turning.turn?.table?.name ?? 'some');
  };
  return table(from) === table(to) ? 0 : changeMinutes.turntable;
}

/** Places that were moved from one another are one lamp. */
function lampsChange(a: Shot, b: Shot): number {
  const byLamp = ({ lit }: Shot) => new Map(lit.map((place) => [place.origin, place]));
  const [before, after] = [byLamp(a), byLamp(b)];
  let minutes = 0;
  for (const lamp of new Set([...before.keys(), ...after.keys()])) {
    const [one, other] = [before.get(lamp), after.get(lamp)];
    minutes += one && other ? lampChange(one, other) : changeMinutes.lampUpOrStruck;
  }
  return minutes;
}

function lampChange(a: LampPlace, b: LampPlace): number {
  if (a === b) return 0;
  const place = ({ distance, angle, height, held }: LampPlace) => `${written(distance, angle, height)}|${held}`;
  const light = ({ level, temperature, colour }: LampPlace) => written(level, temperature, colour);
  return (
    (place(a) === place(b) ? 0 : changeMinutes.lampMoved) +
    (written(...a.modifierNames) === written(...b.modifierNames) ? 0 : changeMinutes.modifier) +
    (light(a) === light(b) ? 0 : changeMinutes.level)
  );
}
