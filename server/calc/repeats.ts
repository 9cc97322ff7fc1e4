/** Frames that repeat the one before: single ones stutter, many are a picture that stands still. */

/** A stretch of frames without any change: from the first that is like the one before it to the last, both included. */
export interface StillRun {
  readonly fromFrame: number;
  readonly toFrame: number;
}

export interface Repeats {
  /** Frames that repeat the one before while those around them move. */
  readonly single: readonly number[];
  /** Stretches of at least half a second in which nothing changes at all, though elsewhere it does. */
  readonly still: readonly StillRun[];
}

/** Change, as a share of full scale on average, under which two frames are the same but for their coding. */
const sameBelow = 0.0001;
/** What moves changes more than this, and so many times more than a frame among it that is the same. */
const movesAbove = 0.0008;
const timesMore = 6;
const leastStillS = 0.5;

/**
 * Looks for them in how much each frame differs from the one before (mean absolute difference as a share of full scale; the
 * first of them is of no frame). Of a thing that stands on a table hardly anything changes: only where a frame is the same
 * and its neighbours clearly are not, it repeats.
 */
export function findRepeats(changes: Float32Array, fps: number): Repeats {
  const single = Array.from(changes.keys()).filter((frame) => isSingle(changes, frame));
  const long = sameRuns(changes).filter(({ fromFrame, toFrame }) => toFrame - fromFrame + 1 >= leastStillS * fps);
  return { single, still: long.filter((run) => movesBeside(changes, run, fps)) };
}

/** Of the two frames before it and the two after, at least three move clearly more: one may be a repeat itself. */
function isSingle(changes: Float32Array, frame: number): boolean {
  if (frame < 3 || frame + 2 >= changes.length) return false;
  const here = changes[frame]!;
  const moving = [-2, -1, 1, 2].filter((step) => changes[frame + step]! > Math.max(movesAbove, timesMore * here));
  return moving.length >= 3;
}

function sameRuns(changes: Float32Array): StillRun[] {
  const runs: StillRun[] = [];
  for (let frame = 1; frame < changes.length; frame++) {
    if (changes[frame]! >= sameBelow) continue;
    const fromFrame = frame;
    while (frame + 1 < changes.length && changes[frame + 1]! < sameBelow) frame++;
    runs.push({ fromFrame, toFrame: frame });
  }
  return runs;
}

/** Does most of the second before it or after it move? */
function movesBeside(changes: Float32Array, { fromFrame, toFrame }: StillRun, fps: number): boolean {
  const second = Math.round(fps);
  const before = changes.subarray(Math.max(1, fromFrame - second), fromFrame);
  const after = changes.subarray(toFrame + 1, toFrame + 1 + second);
  return [before, after].some((part) => {
    const moving = part.filter((one) => one > movesAbove).length;
    return part.length >= 3 && moving * 2 > part.length;
  });
}
