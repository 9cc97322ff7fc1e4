/**
 * A resolved take sheet: what was shot and exported, looked up in the film that was planned. Each value knows its
 * characters; one of the spec, a kit or another sheet names its file too, so that one without a file is of the sheet
 * that is checked.
 */
import type { Rate } from '../calc/rate.ts';
import type { Block, CameraBody, Deliverable, Measured, Piece, Shot, Val } from './film.ts';
import type { Ends, Seconds } from './units.ts';

export type Judged = 'best' | 'good' | 'spare' | 'bad';

export interface TakeSheet extends Block {
  /** Its path from the repo's root; undefined for the sheet that is checked. */
  readonly file?: string;
  readonly specName?: Val<string>;
  /** Days since 1970-01-01. */
  readonly day?: Val<number>;
  readonly folder?: Val<string>;
  readonly use?: Val<string>;
  /** In the order of the text. */
  readonly takes: readonly Take[];
  readonly measured: ReadonlyMap<string, Measured>;
  readonly masters: readonly MasterFile[];
  /** The key `takes`, or the start of the sheet. */
  readonly takesAt: Val<string>;
}

/** One file of a recording: the value is its path below the footage folder, the text as it is written. */
export type Recording = Val<string>;

export interface Take extends Block {
  readonly sheet: TakeSheet;
  /** The name of its shot, where it is written: takes of one shot share it. */
  readonly shotName: Val<string>;
  readonly shot?: Shot;
  /** The shot as it was set for this take: as planned, but for what `use` and `camera` say. */
  readonly asSet?: Shot;
  /** Several where the camera split one recording: joined without a gap. Empty where none can be read. */
  readonly clips: readonly Recording[];
  readonly judged?: Val<Judged>;
  /** From the start of the first clip. */
  readonly part?: Val<Ends<Seconds>>;
  /** When the action starts, from the start of the first clip. */
  readonly action?: Val<Seconds>;
  /** From 1. */
  readonly piece?: Val<number>;
  /** The camera that made it, where it is named. */
  readonly use?: Val<string>;
  readonly body?: CameraBody;
  readonly day?: Val<number>;
  /** What the camera took where it slowed the clip itself. */
  readonly captured?: Val<Rate>;
  /** The settings that were not as planned. */
  readonly camera?: Block;
  readonly sound?: SoundApart;
}

export interface SoundApart extends Block {
  /** Below the footage folder. */
  readonly path?: Recording;
  /** From the start of the first clip; minus where it was running before. */
  readonly starts?: Val<Seconds>;
}

/** The newest exported file of a deliverable. */
export interface MasterFile extends Block {
  readonly sheet: TakeSheet;
  readonly deliverableName: Val<string>;
  readonly deliverable?: Deliverable;
  /** Below the masters folder. */
  readonly path: Val<string>;
  /** Those before it, oldest first. */
  readonly earlier: readonly Val<string>[];
}

/** All sheets of a spec, by their day and then by their path: that of the newest day last. */
export type Sheets = readonly TakeSheet[];

/** The pieces of the cut that a take may serve. */
export function piecesOf({ shot, piece }: Take): readonly Piece[] {
  if (!shot) return [];
  return piece ? shot.pieces.slice(piece.value - 1, piece.value) : shot.pieces;
}
