/** What a hand-over is made of, and what comes of it. */
import type { CheckResult } from '../core/checker.ts';
import type { Deliverable, Film } from '../core/film.ts';
import type { ClipState, Footage } from '../core/footage.ts';
import type { Sheets } from '../core/takes.ts';

export interface ToHandOver {
  readonly result: CheckResult;
  readonly film: Film;
  readonly sheets: Sheets;
  /** The spec's path from the root of its repo: what tells its entries from those of another. */
  readonly path: string;
  /** The first of the spec where nobody names one; undefined where it has none. */
  readonly deliverable: Deliverable | undefined;
  /** What is known of the clips; undefined where there is no footage folder. */
  readonly footage?: Footage | undefined;
  /** What is known of a file of the repo. */
  media(path: string): ClipState;
  /** The address of a file where it lies on this machine, else its path as an address. */
  address(of: 'footage' | 'repo', path: string): string;
  readonly options: HandOverOptions;
}

export interface HandOverOptions {
  /** Which table `csv` writes. */
  readonly table: 'shots' | 'packing' | 'takes';
  /** The time zone that the hours of the spec are in, by its IANA name. */
  readonly zone: string;
  /** When the spec was changed last, in milliseconds since 1970-01-01 UTC. */
  readonly changedMs: number;
}

export interface HandedOver {
  readonly text: string;
  /** What is other than one may expect, in words. */
  readonly notes: readonly string[];
}

/** Something that can't be handed over, in words for the person. */
export class CannotHandOver extends Error {}

/** One standard. */
export interface Kind {
  make(asked: ToHandOver): HandedOver;
}
