/**
 * Values that are computed once for each resolved shot (or piece, lamp …) and forgotten with it.
 *
 * They are kept on the object itself and not in a WeakMap: a long film has tens of thousands of them, and weak tables of
 * that size cost more to collect than the values cost to compute.
 */
import type { Film } from '../film.ts';

const memory: unique symbol = Symbol('computed');

interface Memory {
  /** A copy of a shot (`{ ...shot }`, to try a change) carries the memory of its original along, and must not use it. */
  readonly owner: object;
  readonly values: unknown[];
}

let kinds = 0;

/** What is known of `key`, by the number of the kind of value. */
function valuesOf(key: object): unknown[] {
  const holder = key as { [memory]?: Memory };
  let known = holder[memory];
  if (known?.owner !== key) holder[memory] = known = { owner: key, values: new Array(kinds) };
  return known.values;
}

/** Stands for a value that was computed and is undefined. */
const nothing = Symbol('nothing');

export function once<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const kind = kinds++;
  return (key) => {
    const values = valuesOf(key);
    let value = values[kind];
    if (value === undefined) {
      value = compute(key);
      values[kind] = value === undefined ? nothing : value;
    }
    return (value === nothing ? undefined : value) as V;
  };
}

interface InFilm<V> {
  head?: object;
  value?: V;
}

/** The same for values that also depend on the film around `key`, though on none of its other shots and pieces. */
export function onceIn<K extends object, V>(compute: (key: K, film: Film) => V): (key: K, film: Film) => V {
  const memos = once<K, InFilm<V>>(() => ({}));
  return (key, film) => {
    const memo = memos(key);
    if (memo.head !== film.head) {
      memo.value = compute(key, film);
      memo.head = film.head;
    }
    return memo.value as V;
  };
}

/** The same for values that change along the action: once for each moment (0 its start, 1 its end). */
export function onceAt<K extends object, V>(compute: (key: K, moment: number) => V): (key: K, moment: number) => V {
  const moments = once<K, Map<number, V>>(() => new Map());
  return (key, moment) => {
    const known = moments(key);
    if (!known.has(moment)) known.set(moment, compute(key, moment));
    return known.get(moment) as V;
  };
}
