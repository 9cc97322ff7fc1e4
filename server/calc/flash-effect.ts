/** The film frames that an on-and-off effect makes: folding at the frame rate and averaging in the shutter come out by themselves. */
import type { Rgb } from './colour.ts';
import type { FlashFrame } from './flash.ts';

export interface FlashingEffect {
  /** On-and-off cycles a second of film time (set frequency × real seconds per film second). */
  readonly frequencyHz: number;
  /** Share of a cycle that is on. */
  readonly duty: number;
  /** Exposure of one frame in film time, s: shutter ÷ playback speed. */
  readonly exposureS: number;
  readonly on: Rgb;
  readonly off: Rgb;
}

/** Time that a wave, on from each cycle's start, has been on until `cycles`, in cycles. */
function onUntil(cycles: number, duty: number): number {
  const whole = Math.floor(cycles);
  return whole * duty + Math.min(cycles - whole, duty);
}

/** Linear light of each of `count` film frames at `fps`; each is the mean over its exposure. */
export function effectFrames(effect: FlashingEffect, count: number, fps: number): FlashFrame[] {
  // An exposure of no length is one instant; a millionth of a cycle is short enough for that and long enough to divide by.
  const exposed = Math.max(effect.exposureS * effect.frequencyHz, 1e-6);
  return Array.from({ length: count }, (_, frame) => {
    const start = (frame / fps) * effect.frequencyHz + 1e-9;
    const share = (onUntil(start + exposed, effect.duty) - onUntil(start, effect.duty)) / exposed;
    const mix = (on: number, off: number) => off + (on - off) * share;
    const { on, off } = effect;
    return { linear: { r: mix(on.r, off.r), g: mix(on.g, off.g), b: mix(on.b, off.b) } };
  });
}
