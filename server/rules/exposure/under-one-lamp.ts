/** Shots that one lamp lights and that are all too dark, or all too bright, by much the same: the lamp is the cause. */
import { faceLight } from '../../core/derived/light.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { groupBy } from '../../core/group-by.ts';
import { once } from '../../core/memo.ts';
import type { Stops } from '../../core/units.ts';
import { judgedError } from './judged-exposure.ts';

export interface UnderOneLamp {
  readonly lamp: LampPlace;
  /** Two at least, in the order of the plan. */
  readonly shots: readonly Shot[];
  /** In the middle of theirs: by so much less light, all are about right. */
  readonly error: Stops;
}

/** From here on a shot leans. */
const leans: Stops = 0.4;
/** How far apart they may be: with one change to the lamp each is then half of it from right. */
const apart: Stops = 1;

/** The shots that have the key of this one as theirs; undefined where other causes tell them apart. */
export function underOneLamp(shot: Shot, film: Film): UnderOneLamp | undefined {
  const key = keyOf(shot);
  return key && underKeys(film).get(key);
}

const underKeys = once((film: Film): ReadonlyMap<LampPlace, UnderOneLamp> => {
  const judged = [...film.shots.values()].flatMap((shot) => {
    const [key, error] = [keyOf(shot), judgedError(shot, film)];
    return key && error !== undefined ? [{ shot, key, error }] : [];
  });
  return new Map(
    [...groupBy(judged, ({ key }) => [key])].flatMap(([lamp, all]) => {
      const errors = all.map(({ error }) => error);
      const [least, most] = [Math.min(...errors), Math.max(...errors)];
      const isAlike = (least > leans || most < -leans) && most - least <= apart + 1e-6;
      if (all.length < 2 || !isAlike) return [];
      return [[lamp, { lamp, shots: all.map(({ shot }) => shot), error: (least + most) / 2 }]];
    }),
  );
});

/** Where a meter told how much light there is, the lamps are not to blame for it. */
function keyOf(shot: Shot): LampPlace | undefined {
  const { key, measured } = faceLight(shot, 0);
  return measured ? undefined : key?.lamp;
}
