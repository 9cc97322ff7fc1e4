/**
 * What is known of files of picture and sound: plain data, and no reading. Rules ask `Footage` only; who has it filled
 * it before, or fills it later and has the sheet checked again.
 */
import type { Decoded } from './decoded.ts';
import type { Raster } from './units.ts';

export type ClipState =
  | { readonly kind: 'facts'; readonly facts: ClipFacts }
  /** Being read: nothing is said of it yet. */
  | { readonly kind: 'pending' }
  | { readonly kind: 'missing' | 'outside' | 'empty' | 'growing' | 'not-a-file' | 'too-many' }
  /** `why` in plain words: "ends before its index does". */
  | { readonly kind: 'unreadable'; readonly why: string };

export interface ClipEntry {
  /** Below the folder, with forward slashes. */
  readonly path: string;
  readonly bytes: number;
  readonly changedMs: number;
}

export interface Footage {
  /** All clips below the footage folder, by path. */
  entries(): readonly ClipEntry[];
  /** By its path below the footage folder. */
  clip(path: string): ClipState;
  /** By its path below the masters folder. */
  master(path: string): ClipState;
  /** What sound and picture say; undefined where nobody decoded it. */
  decoded(of: 'clip' | 'master', path: string): Decoded | undefined;
  /** Clips as long and recorded at the same time as what once lay at a path below the footage folder, and lies there no more. */
  found?(path: string): readonly ClipEntry[];
  /** Whether decoding was asked for and can be done. */
  readonly decoder: 'not-asked' | 'missing' | 'ready';
}

/** What a clip's container says. */
export interface ClipFacts {
  readonly bytes: number;
  readonly container: string;
  readonly durationS: number;
  readonly indexAt: 'start' | 'end' | 'none';
  /** By the container's clock, often local time without a zone. */
  readonly recordedAtMs?: number;
  /** Whether that clock is known to show the time of the place; else it may be UTC or the camera's own. */
  readonly clockIsLocal?: boolean;
  readonly video?: VideoFacts;
  readonly audio: readonly AudioFacts[];
}

export interface VideoFacts {
  /** In the words of the format where it has one: `h264`, `h265`, `av1`, `prores`, `vp9`. */
  readonly codec: string;
  readonly profile?: string;
  readonly level?: string;
  readonly tier?: string;
  readonly bits?: number;
  /** `4:2:0`, `4:2:2`, `4:4:4`. */
  readonly chroma?: string;
  /** As shown, after the rotation. */
  readonly raster: Raster;
  readonly rotationDeg: 0 | 90 | 180 | 270;
  /** Width of a pixel by its height, where it is not square. */
  readonly pixelAspect?: number;
  readonly frames: number;
  /** Mean, in frames a second. */
  readonly rate: number;
  readonly smallestStepS: number;
  readonly largestStepS: number;
  /** How long most frames stand. */
  readonly usualStepS: number;
  /** Frames that stand longer or shorter than that, by more than a fifth and more than clocks round. */
  readonly unevenFrames: number;
  readonly colour: ColourMarks;
  readonly interlaced?: boolean;
  /** Mean, in bits a second. */
  readonly bitrate?: number;
}

/** In the words of ITU-T H.273 as containers give them: `bt709`, `bt2020`, `arib-std-b67`, `smpte2084`. */
export interface ColourMarks {
  readonly primaries?: string;
  readonly transfer?: string;
  readonly matrix?: string;
  readonly range?: string;
}

export interface AudioFacts {
  readonly codec: string;
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly durationS: number;
}
