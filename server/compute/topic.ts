/**
 * What a computation is: a value that says which quantities it takes, what it answers, by which formula and from which
 * published source. Topics are pure; texts are read and answers made plain by `run` in index.ts.
 */
import type { Reader } from '../core/units.ts';

/** A quantity that can be written. */
export interface Quantity<T> {
  readonly read: Reader<T>;
  /** As it would be written: `50 mm`. */
  readonly example: string;
  /** All that may be written, where it is one of some words. */
  readonly words?: readonly string[];
  /** Why a value that can be read makes no sense (`must be above 0`). */
  readonly refuse?: (value: T) => string | undefined;
}

type Need = 'needed' | 'optional' | 'several';

export interface Key<T, N extends Need = Need> extends Quantity<T> {
  readonly need: N;
  readonly meaning: string;
  /** Taken where nothing is written. */
  readonly otherwise?: string;
}

export function needed<T>(quantity: Quantity<T>, meaning: string): Key<T, 'needed'> {
  return { ...quantity, meaning, need: 'needed' };
}

export function optional<T>(quantity: Quantity<T>, meaning: string): Key<T, 'optional'> {
  return { ...quantity, meaning, need: 'optional' };
}

/** A key that may be left out for a usual value. */
export function usually<T>(quantity: Quantity<T>, otherwise: string, meaning: string): Key<T, 'needed'> {
  return { ...quantity, meaning, otherwise, need: 'needed' };
}

/** A key that is written once or more; its values stay in order. */
export function several<T>(quantity: Quantity<T>, meaning: string): Key<T, 'several'> {
  return { ...quantity, meaning, need: 'several' };
}

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- the one place where keys of all kinds meet
export type Keys = Readonly<Record<string, Key<any>>>;

type ValueOf<K> =
  K extends Key<infer T, infer N> ? { needed: T; optional: T | undefined; several: readonly T[] }[N] : never;

/** What a topic is given: each value in the unit that its reader names. */
type Values<K extends Keys> = { readonly [Name in keyof K]: ValueOf<K[Name]> };

/** Plain data. null: there is none (a far limit at infinity), or what it follows from was left out. */
export type Value = number | string | readonly number[] | { readonly width: number; readonly height: number } | null;

export interface Result {
  /** Of the number: `mm`, `°`, `stops`; empty for words and pure numbers. */
  readonly unit: string;
  /** Short, to stand before the value. */
  readonly meaning: string;
  /** How one number is said, where number and unit are not how it is said. */
  readonly say?: (value: number) => string;
  /** Said where there is none. Left out: nothing is said, because nothing was asked. */
  readonly none?: string;
}

/** Something that the user can put right, in one line. */
export interface Problem {
  readonly problem: string;
}

export interface Outcome<R extends string> {
  readonly results: Readonly<Record<R, Value>>;
  /** What must be said beside the numbers. */
  readonly notes?: readonly string[];
}

export interface Topic<K extends Keys, R extends string> {
  readonly id: string;
  /** What it tells, without a full stop. */
  readonly summary: string;
  readonly keys: K;
  /** Where one thing can be given in several ways: the keys of each way, of which one is used. They are optional keys. */
  readonly ways?: readonly (readonly (keyof K & string)[])[];
  readonly results: Readonly<Record<R, Result>>;
  readonly formula: string;
  /** Published source, or "common practice, no source". */
  readonly source: string;
  readonly example: readonly string[];
  compute(values: Values<K>): Outcome<R> | Problem;
}

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- the one place where topics of all shapes meet
export type AnyTopic = Topic<any, string>;

/** Gives a topic its types: a result that is not answered or a key that does not exist fails to compile. */
export function defineTopic<const K extends Keys, const R extends string>(topic: Topic<K, R>): Topic<K, R> {
  return topic;
}
