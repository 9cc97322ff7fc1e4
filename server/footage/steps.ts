/** How long the frames of a clip stand: what makes a rate constant, varying, or merely rounded by a clock. */
import type { Run } from './iso-index.ts';

export interface Steps {
  readonly frames: number;
  /** Frames a second, from the first frame to the last. */
  readonly rate: number;
  readonly smallestStepS: number;
  readonly largestStepS: number;
  readonly usualStepS: number;
  readonly unevenFrames: number;
}

/** How much a frame's time may differ from the usual before anybody sees it, besides what clocks round. */
const evenShare = 0.2;
/** Containers that count milliseconds round each time by half of one. */
const roundedS = 0.001;
/** Frames whose order is put right one by one; longer clips are judged as they are decoded. */
const mostSorted = 1_000_000;

/**
 * @param steps as decoded, in ticks
 * @param offsets how much later each is shown
 */
export function stepsOf(steps: readonly Run[], offsets: readonly Run[], timescale: number): Steps | undefined {
  const frames = steps.reduce((sum, { count }) => sum + count, 0);
  if (frames === 0) return undefined;
  return summary(shown(steps, offsets, frames), frames, timescale);
}

/** The times between frames as they are shown. What the last one says of itself is left out: nothing follows it. */
function shown(steps: readonly Run[], offsets: readonly Run[], frames: number): readonly Run[] {
  const isOrdered = offsets.every(({ ticks }) => ticks === offsets[0]!.ticks);
  const isEven = withoutLast(steps).every(({ ticks }, _, all) => ticks === all[0]!.ticks);
  if (isOrdered || isEven || frames > mostSorted) return withoutLast(steps);
  const decoded = timesOf(steps, frames);
  const late = each(offsets, frames);
  const times = decoded.map((time, index) => time + (late[index] ?? 0)).sort();
  return Array.from({ length: frames - 1 }, (_, index) => ({ count: 1, ticks: times[index + 1]! - times[index]! }));
}

function withoutLast(steps: readonly Run[]): readonly Run[] {
  const used = steps.filter(({ count }) => count > 0);
  const last = used.at(-1);
  if (!last || (used.length === 1 && last.count === 1)) return used;
  return [...used.slice(0, -1), ...(last.count > 1 ? [{ ...last, count: last.count - 1 }] : [])];
}

function timesOf(steps: readonly Run[], frames: number): Float64Array {
  const times = new Float64Array(frames);
  let [index, time] = [0, 0];
  for (const { count, ticks } of steps) {
    for (let one = 0; one < count; one++, time += ticks) times[index++] = time;
  }
  return times;
}

function each(runs: readonly Run[], frames: number): Float64Array {
  const list = new Float64Array(frames);
  let index = 0;
  for (const { count, ticks } of runs) {
    const end = Math.min(index + count, frames);
    list.fill(ticks, index, end);
    index = end;
  }
  return list;
}

function summary(runs: readonly Run[], frames: number, timescale: number): Steps | undefined {
  const counted = runs.reduce((sum, { count }) => sum + count, 0);
  const ticks = runs.reduce((sum, run) => sum + run.count * run.ticks, 0);
  if (ticks <= 0) return undefined;
  let [smallest, largest] = [Infinity, 0];
  for (const run of runs) {
    smallest = Math.min(smallest, run.ticks);
    largest = Math.max(largest, run.ticks);
  }
  const usual = usualOf(runs, counted);
  const allowed = usual * evenShare + Math.max(1, roundedS * timescale);
  const uneven = runs.reduce((sum, run) => sum + (Math.abs(run.ticks - usual) > allowed ? run.count : 0), 0);
  return {
    frames,
    rate: (counted * timescale) / ticks,
    smallestStepS: smallest / timescale,
    largestStepS: largest / timescale,
    usualStepS: usual / timescale,
    unevenFrames: uneven,
  };
}

/** The middle one of all steps, by length. */
function usualOf(runs: readonly Run[], counted: number): number {
  const byLength = [...runs].sort((a, b) => a.ticks - b.ticks);
  let before = 0;
  for (const { count, ticks } of byLength) if ((before += count) * 2 >= counted) return ticks;
  return 0;
}
