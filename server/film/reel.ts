/** A film as it is played in the panel: plain data, with its pictures as lit scenes that are asked for one by one. */
import type { Rate } from '../calc/rate.ts';
import type { Range } from '../core/document/node.ts';
import type { Ends, Raster, Seconds } from '../core/units.ts';
import type { DrawnPicture, PlainPicture } from './assembly.ts';

/** One deliverable. Frames count from its start, and places are those of the spec. */
export interface Reel {
  readonly deliverable: string;
  readonly raster: Raster;
  readonly rate: Rate;
  readonly frames: number;
  /** Where in the cut it starts. */
  readonly fromS: Seconds;
  readonly pieces: readonly ReelPiece[];
  readonly stretches: readonly ReelStretch[];
  readonly titles: readonly ReelTitle[];
  /** The first beat in frames from the start, and the frames from one to the next. */
  readonly beats?: ReelBeats;
  readonly flashes: readonly ReelFlash[];
  readonly sounds: readonly ReelSound[];
  /** What is other than one may expect, in words. */
  readonly notes: readonly string[];
}

export interface ReelBeats {
  readonly first: number;
  readonly step: number;
  /** Where each lies, from that number on, where the music is known not to be even. */
  readonly played?: { readonly number: number; readonly at: readonly number[] };
}

export interface ReelPiece {
  /** In the cut, from 0. */
  readonly index: number;
  readonly name: string;
  readonly start: number;
  /** The frame after its last. */
  readonly end: number;
  /** Where it is written, and where its shot is. */
  readonly written?: Range;
  readonly shot?: Range;
  /** What its drawings show: all that any of its frames does. */
  readonly around: Look;
  /** Pixels of a drawing for each of a frame, along a side, so that its closest frame is sharp. */
  readonly finer: number;
}

export interface Look {
  readonly zoom: number;
  readonly shift: number;
}

/** Frames that are made in one way: of a picture, and where two mix of what it turns into. */
export interface ReelStretch {
  readonly start: number;
  readonly end: number;
  readonly picture: ReelPicture;
  readonly into?: {
    readonly picture: ReelPicture;
    /** How much of it is seen in the first frame, 0 to 1, and how much more in each after it. */
    readonly share: number;
    readonly step: number;
  };
}

export type ReelPicture = DrawnPicture | PlainPicture;

/** Words as pixels, at their place in a picture that is as large as `raster`. */
export interface ReelTitle {
  readonly startFrame: number;
  readonly frames: number;
  /** How many of its frames come before. */
  readonly skip: number;
  readonly all: number;
  readonly fadeFrames: number;
  readonly raster: Raster;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Red, green, blue and how solid, 8 bits each, row by row. */
  readonly rgbaBase64: string;
}

/** Frames that flash. */
export interface ReelFlash extends Ends {
  /** Of a lamp or a screen, which is drawn with it and without; or of plain colours that change. */
  readonly of: 'light' | 'colours';
  /** Its number among those of the film that are light. */
  readonly light: number;
  /** Of light: how much of each frame has it on, 0 to 1. */
  readonly on: readonly number[];
  /** The most flashes in any second. */
  readonly inOneSecond: number;
}

/** A stretch of a file that is heard. */
export interface ReelSound {
  /** Its place on this machine, and what to call it. */
  readonly file: string;
  readonly name: string;
  /** In the file; of one whose end comes first, silence follows. */
  readonly fromS: Seconds;
  readonly lengthS: Seconds;
  /** From the start of the deliverable. */
  readonly atS: Seconds;
  readonly gainDb: number;
}
