/**
 * What sound and picture of a file say once they are decoded: plain data that can be kept as JSON. Rules read it; who decodes
 * it is no matter of theirs.
 */
import type { Beats } from '../calc/beat-track.ts';
import type { Bars, EndCodes } from '../calc/code-values.ts';
import type { PictureFlashes } from '../calc/flash-picture.ts';
import type { PulseFound } from '../calc/pulse.ts';
import type { Repeats } from '../calc/repeats.ts';

export interface Decoded {
  readonly sound?: SoundMeasured;
  readonly picture?: PictureMeasured;
  /** Why something could not be looked at, in plain words. */
  readonly failed?: string;
}

/** What is heard in a file of music. */
export interface MusicHeard {
  readonly durationS: number;
  /** Ways to count its beats, the likeliest first; none where it has no beat. */
  readonly rows: readonly Beats[];
  /** How loud each 5 ms are, a letter each, as `calc/sound-offset.ts` takes it. */
  readonly envelope: string;
}

/** Of the first sound track. */
export interface SoundMeasured {
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly durationS: number;
  /** ITU-R BS.1770-5; undefined where nothing is over the gate of −70 LUFS. */
  readonly integratedLufs?: number;
  readonly rangeLu: number;
  readonly momentaryLufs?: number;
  readonly shortTermLufs?: number;
  /** dB over full scale; undefined for digital silence. */
  readonly truePeakDbtp?: number;
  /** How often it clips, and where: the first of them in seconds. */
  readonly clips: number;
  readonly clipsAtS: readonly number[];
  /** Root mean square of each half second in dB over full scale; −120 for silence. */
  readonly halfSecondsDb: readonly number[];
  /** How loud each 5 ms are, a letter each, as `calc/sound-offset.ts` takes it. */
  readonly envelope: string;
}

/** Of the first picture track. Frames count from 0. */
export interface PictureMeasured {
  /** Frames a second on average. */
  readonly fps: number;
  readonly frames: number;
  readonly raster: { readonly width: number; readonly height: number };
  /** The strongest beat of its brightness. */
  readonly pulse?: PulseFound;
  /** Of the frames looked at whole, the most that stands at either end of the codes; undefined where none could be. */
  readonly endCodes?: EndCodes;
  readonly repeats: Repeats;
  /** Frames that begin a new picture. */
  readonly jumps: readonly number[];
  readonly bars?: Bars;
  /** Frames at the start and at the end that are black all over. */
  readonly black: { readonly start: number; readonly end: number };
  readonly flashes: { readonly general: PictureFlashes; readonly red: PictureFlashes };
  /** Mean linear light of each half second: red, green, blue; display white is 1. */
  readonly light: readonly (readonly [number, number, number])[];
  /** Bits a second of the picture: on average, and of the second with most. */
  readonly bitrate: { readonly meanBps: number; readonly mostBps: number };
}
