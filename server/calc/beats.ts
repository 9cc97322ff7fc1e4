/** The beat grid in frames: kept as exact fractions, rounded only where a cut is placed. */
import { type Rate, rate } from './rate.ts';

/** A tempo in beats a minute as a fraction: 120 is 120/1, 92.5 is 185/2 (to a thousandth). */
export function tempo(beatsPerMinute: number): Rate {
  return rate(Math.round(beatsPerMinute * 1000), 1000);
}

/** Frames for each beat, exactly: rate × 60 ÷ tempo. 25 frames at 120 beats a minute is 25/2. */
export function framesPerBeat(frames: Rate, beats: Rate): Rate {
  return rate(frames.num * 60 * beats.den, frames.den * beats.num);
}

/** Frame position of beat n with its fraction; `firstFrame` is where beat 0 lies. n may be a fraction of a beat. */
export function beatPosition(n: number, perBeat: Rate, firstFrame = 0): number {
  return firstFrame + (n * perBeat.num) / perBeat.den;
}

/** Whole frame of beat n, counted from the first beat; half a frame goes up, so rounding never adds up. */
export function beatFrame(n: number, perBeat: Rate, firstFrame = 0): number {
  return Math.floor(beatPosition(n, perBeat, firstFrame) + 0.5 + 1e-9);
}

export interface NearestBeat {
  /** The beat, in steps of `step` beats. */
  readonly beat: number;
  /** Its position in frames with the fraction. */
  readonly position: number;
  /** The whole frame to cut on. */
  readonly frame: number;
  /** Frames that `cut` lies after the beat; minus is before. */
  readonly late: number;
}

/** The beat nearest to a cut; `step` is 1 for beats, 0.5 for half beats, 4 for bars of four. A tie takes the later. */
export function nearestBeat(cutFrame: number, perBeat: Rate, firstFrame = 0, step = 1): NearestBeat {
  const steps = ((cutFrame - firstFrame) * perBeat.den) / (perBeat.num * step);
  const beat = Math.floor(steps + 0.5) * step;
  const position = beatPosition(beat, perBeat, firstFrame);
  return { beat, position, frame: beatFrame(beat, perBeat, firstFrame), late: cutFrame - position };
}

/** Whole-frame tempos in beats a minute near `beatsPerMinute`: rate × 60 ÷ k for the two k beside it, faster first. */
export function wholeFrameTempos(frames: Rate, beatsPerMinute: number): number[] {
  const perBeat = ((frames.num / frames.den) * 60) / beatsPerMinute;
  const ks = [Math.floor(perBeat), Math.ceil(perBeat)].filter((k) => k >= 1);
  return [...new Set(ks)].map((k) => (frames.num * 60) / (frames.den * k));
}
