/**
 * Flashing pictures against the limits of WCAG 2.3.1 and ITU-R BT.1702-3. Works on the light of film frames; says what
 * the published limits say of it and never that a picture is safe: BT.1702 itself says that risk cannot be removed.
 */
import { chromaticityUv76, isSaturatedRed, luminance, type Rgb } from './colour.ts';

/** What the flashing part of the picture shows in one film frame: linear light, 1 is the display's white. */
export interface FlashFrame {
  readonly linear: Rgb;
}

/** Smallest change that counts: 10 % of the greatest relative luminance, 20 of 200 cd/m². */
const leastChange = 0.1;
/** Pairs count only when their darker picture is below this: 0.80, 160 of 200 cd/m². */
const darkerBelow = 0.8;
/** Flashes allowed in any second, and the share of the picture above which they count. */
export const mostFlashes = 3;
export const leastArea = 0.25;
const leastRedChange = 20;
const leastUvChange = 0.2;

interface Edge {
  readonly frame: number;
  readonly rises: boolean;
}

/** Compares the last extreme with a new frame: the counted change and its way, or how the extreme moves. */
type Judge = (extreme: Rgb, next: Rgb) => { readonly counts: boolean; readonly rise: number };

const judgeLuminance: Judge = (extreme, next) => ({
  counts: isCountedChange(extreme, next),
  rise: luminance(next) - luminance(extreme),
});

/** Of linear light: a change of at least 10 % of the greatest luminance with the darker below 0.80. */
export function isCountedChange(one: Rgb, other: Rgb): boolean {
  const [before, after] = [luminance(one), luminance(other)];
  return Math.abs(after - before) >= leastChange - 1e-12 && Math.min(before, after) < darkerBelow;
}

/** (R − G − B) × 320 of linear light, negatives as 0: the older working definition of WCAG 2.3.1. */
export function redSignal({ r, g, b }: Rgb): number {
  return Math.max(0, r - g - b) * 320;
}

const judgeRed: Judge = (extreme, next) => ({
  counts: isCountedRed(extreme, next),
  rise: redSignal(next) - redSignal(extreme),
});

/** Of linear light: a change from or to a saturated red, of > 0.2 in u′v′ or of > 20 in (R − G − B) × 320. */
export function isCountedRed(one: Rgb, other: Rgb): boolean {
  if (!isSaturatedRed(one) && !isSaturatedRed(other)) return false;
  if (Math.abs(redSignal(other) - redSignal(one)) > leastRedChange) return true;
  const [before, after] = [chromaticityUv76(one), chromaticityUv76(other)];
  return (
    before !== undefined && after !== undefined && Math.hypot(before.u - after.u, before.v - after.v) > leastUvChange
  );
}

/** Changes that count, each opposite to the one before, measured from the last extreme so that slow ones count too. */
function edges(frames: readonly FlashFrame[], judge: Judge): Edge[] {
  const found: Edge[] = [];
  const first = frames[0]?.linear;
  if (!first) return found;
  // Before the first change either extreme may be the one it starts from.
  let [lowest, highest] = [first, first];
  frames.forEach(({ linear }, frame) => {
    const up = judge(lowest, linear);
    const down = judge(highest, linear);
    const last = found.at(-1);
    if (up.counts && up.rise > 0 && last?.rises !== true) {
      found.push({ frame, rises: true });
      highest = linear;
    } else if (down.counts && down.rise < 0 && last?.rises !== false) {
      found.push({ frame, rises: false });
      lowest = linear;
    }
    // After a rise only the top moves with the picture, after a fall only the bottom; the other end starts anew there.
    const rises = found.at(-1)?.rises;
    if (rises !== false && judge(highest, linear).rise >= 0) highest = linear;
    if (rises !== true && judge(lowest, linear).rise <= 0) lowest = linear;
  });
  return found;
}

export interface FlashCount {
  /** Most flashes that begin within one second. */
  readonly inOneSecond: number;
  /** First frame of that second; 0 when there are none. */
  readonly fromFrame: number;
  /** Frames between the first and the last change that counts. */
  readonly lastsFrames: number;
}

/**
 * A flash is a pair of opposing changes, the second within a second of the first. Counted by leading edges in any
 * second (one second's frames, the end not included), so that edges 9 frames apart at 25 and 10 at 30 make three: the
 * spacing that BT.1702-3 always accepts (360 ms and 334 ms). Rising and falling edges are counted apart; the greater
 * number counts.
 */
function countFlashes(frames: readonly FlashFrame[], fps: number, judge: Judge): FlashCount {
  const all = edges(frames, judge);
  let best: FlashCount = { inOneSecond: 0, fromFrame: 0, lastsFrames: 0 };
  const lastsFrames = (all.at(-1)?.frame ?? 0) - (all[0]?.frame ?? 0);
  for (const rises of [true, false]) {
    const leading = all
      .filter((edge, index) => edge.rises === rises && (all[index + 1]?.frame ?? Infinity) - edge.frame <= fps)
      .map((edge) => edge.frame);
    leading.forEach((fromFrame, index) => {
      let end = index;
      while (end < leading.length && (leading[end] ?? 0) - fromFrame < fps - 1e-6) end++;
      if (end - index > best.inOneSecond) best = { inOneSecond: end - index, fromFrame, lastsFrames };
    });
  }
  return best;
}

/** Counts general flashes: changes of at least 10 % of the greatest relative luminance with the darker below 0.80. */
export function generalFlashes(frames: readonly FlashFrame[], fps: number): FlashCount {
  return countFlashes(frames, fps, judgeLuminance);
}

/** Counts red flashes: one state with R ÷ (R + G + B) ≥ 0.8 and a change of > 0.2 in u′v′, or of > 20 in (R − G − B) × 320. */
export function redFlashes(frames: readonly FlashFrame[], fps: number): FlashCount {
  return countFlashes(frames, fps, judgeRed);
}

export interface FlashVerdict {
  readonly overLimit: boolean;
  /** A sequence at the limit that lasts over 5 s: a caution of BT.1702-3 even within the limit. */
  readonly longSequence: boolean;
  readonly clause: string;
}

/**
 * More than three flashes in any second and more than a quarter of the picture, both together (WCAG 2.3.1; BT.1702-3
 * Guideline 1). `areaShare` is the flashing part of the picture, 0 to 1; 1 where it is not known.
 */
export function flashVerdict(count: FlashCount, areaShare: number, fps: number): FlashVerdict {
  const large = areaShare > leastArea;
  return {
    overLimit: large && count.inOneSecond > mostFlashes,
    longSequence: large && count.inOneSecond >= mostFlashes && count.lastsFrames / fps > 5,
    clause: 'WCAG 2.3.1; ITU-R BT.1702-3, Guideline 1',
  };
}

/** Frames between leading edges that keep to three flashes a second: 9 at 25, 10 at 30 and 29.97. */
export function leastFlashFrames(fps: number): number {
  return Math.ceil(fps / mostFlashes - 1e-9);
}
