/** Cuts in a finished film: frames whose picture has little to do with the one before, while the frames around them follow on. */

/** Share of full scale by which the picture must change, and how many times more than the frames around. */
const leastJump = 0.02;
const leastTimes = 4;
/** Frames on either side that a jump is held against. */
const around = 4;

/**
 * Frames that begin a new picture, of how much each differs from the one before (mean absolute difference as a share of full
 * scale). A dissolve or a fade changes as much in many frames and is none; a flash jumps back at once and is none either.
 */
export function findJumps(changes: Float32Array, skips: Float32Array): number[] {
  const found: number[] = [];
  for (let frame = 1; frame < changes.length; frame++) {
    const jump = changes[frame]!;
    if (jump < leastJump || jump < leastTimes * usual(changes, frame)) continue;
    // What is as it was before the jump one or two frames later was a flash.
    if ((skips[frame + 1] ?? Infinity) < jump / 2) continue;
    if ((skips[frame] ?? Infinity) < jump / 2) continue;
    found.push(frame);
  }
  return found;
}

/** Middle one of the changes around a frame; jumps that are near do not spoil it. */
function usual(changes: Float32Array, frame: number): number {
  const near: number[] = [];
  for (let at = Math.max(1, frame - around); at <= Math.min(changes.length - 1, frame + around); at++)
    if (at !== frame) near.push(changes[at]!);
  near.sort((a, b) => a - b);
  return near[Math.floor(near.length / 2)] ?? 0;
}
