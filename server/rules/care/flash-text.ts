/** What general and red flashes have in common: the worst run of each source, and how to say it. */
import { type FlashCount, type FlashFrame, flashVerdict, leastFlashFrames, mostFlashes } from '../../calc/flash.ts';
import { type FlashRun, flashRuns } from '../../core/derived/flashes.ts';
import type { Film, Val } from '../../core/film.ts';
import type { Severity } from '../../core/finding.ts';
import { listText, num, percentText, quoted, secondsText } from '../../core/say.ts';

export interface WorstRun {
  readonly run: FlashRun;
  readonly count: FlashCount;
  /** Names of the deliverables in which the same source is over the same limit. */
  readonly where: readonly string[];
}

type Count = (frames: readonly FlashFrame[], fps: number) => FlashCount;
type Verdict = ReturnType<typeof flashVerdict>;

/** Of each thing that flashes, the run with the most flashes in a second, among those that `wanted` picks. */
export function worstRuns(film: Film, counts: Count, wanted: (verdict: Verdict) => boolean): WorstRun[] {
  const bySource = new Map<number, { run: FlashRun; count: FlashCount; where: Set<string> }>();
  for (const run of flashRuns(film)) {
    const count = counts(run.frames, run.fps);
    if (!wanted(flashVerdict(count, run.areaShare, run.fps))) continue;
    const known = bySource.get(run.at.start);
    if (!known) {
      bySource.set(run.at.start, { run, count, where: new Set([run.deliverable.name]) });
    } else {
      known.where.add(run.deliverable.name);
      if (count.inOneSecond > known.count.inOneSecond) Object.assign(known, { run, count });
    }
  }
  return [...bySource.values()].map((one) => ({ ...one, where: [...one.where] }));
}

/** The words of a message: `{what} makes {count} flashes in one second of {where}, over {area}, for {lasts}. {slower}.` */
export function flashWords({ run, count, where }: WorstRun) {
  return {
    what: whatFlashes(run),
    count: count.inOneSecond,
    where: listText(where.map(quoted)),
    area: areaText(run),
    lasts: secondsText(Math.max(1 / run.fps, count.lastsFrames / run.fps), 1),
    slower: slowerText(run),
  };
}

function whatFlashes({ source }: FlashRun): string {
  if (source.kind === 'cuts') return 'the cut between plain colours';
  const name = source.kind === 'lamp' ? quoted(source.lamp.name) : 'the screen';
  const played = source.speed === 1 ? '' : `, played at ${percentText(source.speed, 1)},`;
  return `${source.shot.name}: ${name} at ${num(source.hz, 2)} Hz${played}`;
}

function areaText({ areaShare, areaFrom }: FlashRun): string {
  if (areaFrom === 'assumed') return 'the whole picture (taken so, because `flash-area` is not said)';
  if (areaShare >= 1) return 'the whole picture';
  return `${areaFrom === 'sizes' ? 'up to ' : ''}${percentText(areaShare)} of the picture`;
}

function slowerText({ source, fps }: FlashRun): string {
  if (source.kind === 'cuts') {
    return `Leave ${leastFlashFrames(fps)} frames or more from one bright cut to the next at ${num(fps, 3)} frames a second`;
  }
  const hz = Math.floor((mostFlashes / source.speed) * 10 + 1e-9) / 10;
  return `Flash at ${num(hz)} Hz or slower`;
}

/** A practical that flashes, a bicycle's rear light, may be a dot in the picture: until `flash-area` says so it is a warning. */
export function gravityOf({ run: { source, areaFrom } }: WorstRun): { severity?: Severity } {
  const isSmall = areaFrom === 'assumed' && source.kind === 'lamp' && source.lamp.role?.value === 'practical';
  return isSmall ? { severity: 'warning' } : {};
}

/** Where to point: at the colour with which the second with the most flashes begins, or at the frequency. */
export function flashAt({ run, count }: WorstRun): Val<unknown> {
  if (run.source.kind !== 'cuts') return run.at;
  const piece = run.source.pieces.filter((one) => one.fromFrame <= count.fromFrame).at(-1)?.piece;
  return piece?.colour ?? run.at;
}
