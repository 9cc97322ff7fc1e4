/**
 * The program that started this one over a channel, as an editor does: it is told how far a long run is. When it closes the
 * channel, or ends, the run is given up; signals say that too, but not on every system.
 */
import type { Progress } from './progress.ts';

/** What is sent: how many of all frames are made, and how long the rest takes where that is known. */
interface HowFar {
  readonly done: number;
  readonly all: number;
  readonly leftS?: number;
}

const betweenMs = 200;
/** Before that, what is left is a guess. */
const patienceMs = 1000;

/** Undefined where nobody listens. */
export function tellParent(frames: number, now: () => number = () => performance.now()): Progress | undefined {
  if (!process.connected) return undefined;
  const start = now();
  let next = start;
  const send = (message: HowFar) => process.connected && process.send?.(message);
  return {
    tell: (done) => {
      const goneMs = now() - start;
      if (start + goneMs < next) return;
      next = start + goneMs + betweenMs;
      const leftS = Math.ceil((goneMs / 1000 / Math.max(1, done)) * (frames - done));
      send({ done, all: frames, ...(goneMs > patienceMs && { leftS }) });
    },
    end: () => undefined,
  };
}
