/** Frame rates as exact fractions, so that 23.976 stays 24000/1001 and never drifts. */

/** Frames a second as a reduced fraction of whole numbers, `den` above 0: 25 is 25/1, 29.97 is 30000/1001. */
export interface Rate {
  readonly num: number;
  readonly den: number;
}

function gcd(a: number, b: number): number {
  return b === 0 ? Math.abs(a) : gcd(b, a % b);
}

/** The reduced fraction num/den of two whole numbers; den must not be 0. */
export function rate(num: number, den = 1): Rate {
  const divisor = (gcd(num, den) || 1) * Math.sign(den || 1);
  return { num: num / divisor, den: den / divisor };
}

/** Frames a second as an ordinary number. */
export function rateFps(r: Rate): number {
  return r.num / r.den;
}

/**
 * A rate as people write it: `25`, `12.5`, `23.976`, `24000/1001`. `undefined` when it is none or not above 0.
 * A decimal within 0.01 of 1000/1001 of a multiple of 24 or 30 means that fraction (ITU-R BT.709-6: 60, 30 and 24 Hz
 * and these divided by 1.001; the same division for their multiples), so 23.98, 23.976 and 23.97 are one rate.
 */
export function parseRate(written: string | number): Rate | undefined {
  const text = String(written).trim();
  const fraction = /^(\d{1,7})\/(\d{1,7})$/.exec(text);
  if (fraction) {
    const num = Number(fraction[1]);
    const den = Number(fraction[2]);
    return num > 0 && den > 0 ? rate(num, den) : undefined;
  }
  const decimal = /^(\d{1,6})(?:\.(\d{1,6}))?$/.exec(text);
  if (!decimal || !(Number(text) > 0)) return undefined;
  const digits = decimal[2] ?? '';
  const fps = Number(text);
  const whole = Math.round(fps * 1.001);
  const pulledDown = whole > 0 && (whole % 24 === 0 || whole % 30 === 0);
  if (digits !== '' && pulledDown && !Number.isInteger(fps) && Math.abs(fps - whole / 1.001) < 0.01) {
    return rate(whole * 1000, 1001);
  }
  return rate(Number(`${decimal[1]}${digits}`), 10 ** digits.length);
}

/** a ÷ b, exactly. */
export function divideRates(a: Rate, b: Rate): Rate {
  return rate(a.num * b.den, a.den * b.num);
}

export function sameRate(a: Rate, b: Rate): boolean {
  return a.num * b.den === b.num * a.den;
}

/** Seconds that `frames` frames last. */
export function framesToS(frames: number, r: Rate): number {
  return (frames * r.den) / r.num;
}

/** Frames in `seconds`, with fractions. */
export function sToFrames(seconds: number, r: Rate): number {
  return (seconds * r.num) / r.den;
}

/** Whole frame nearest to `seconds`; half a frame goes up. A billionth of a frame is forgiven. */
export function nearestFrame(seconds: number, r: Rate): number {
  return Math.floor(sToFrames(seconds, r) + 0.5 + 1e-9);
}

/**
 * Places of a film are the same up to here: cuts go to the nearest frame, whether they are said in beats, frames or
 * seconds. Where no rate is said, as at 60 frames a second.
 */
export function halfFrameS(r: Rate | undefined): number {
  return (r ? r.den / r.num : 1 / 60) / 2;
}

/** The seconds that two stretches of a film have in common, 0 where that is less than half a frame. */
export function sharedS(a: Stretch, b: Stretch, r: Rate | undefined): number {
  const shared = Math.min(a.to, b.to) - Math.max(a.from, b.from);
  return shared < halfFrameS(r) - 1e-9 ? 0 : shared;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** How two joined rates divide. */
export interface Conform {
  /** `from` is a whole multiple of `to`, 1 or more: every n-th frame is used and nothing is repeated. */
  readonly whole: boolean;
  /** The whole number nearest to from ÷ to, at least 1. */
  readonly nearest: number;
  /** |from ÷ to ÷ nearest − 1|, a share: 0.001 for 24 against 24000/1001. */
  readonly offBy: number;
  /** Seconds until one frame of `to` is gained or lost against the nearest whole step; `Infinity` when whole. */
  readonly slipEveryS: number;
}

/** Whether pictures at `from` fill a line at `to` evenly, and how fast they slip if not. Arithmetic on exact fractions. */
export function conform(from: Rate, to: Rate): Conform {
  const ratio = divideRates(from, to);
  const nearest = Math.max(1, Math.round(ratio.num / ratio.den));
  const missNum = Math.abs(ratio.num - nearest * ratio.den);
  const missFps = (missNum / ratio.den / nearest) * rateFps(to);
  return {
    whole: missNum === 0,
    nearest,
    offBy: missNum / (ratio.den * nearest),
    slipEveryS: missNum === 0 ? Infinity : 1 / missFps,
  };
}
