/**
 * The beats of a recording. Tempos are where what begins in it repeats (autocorrelation); the beats of a tempo are the row of moments
 * that sounds begin at and that are as even as can be (dynamic programming): D. P. W. Ellis, "Beat Tracking by Dynamic Programming",
 * J. New Music Research 36(1), 2007. Each beat is then moved to where its sound sets in, and an even row is laid through all by least
 * squares.
 */
import { levelHz, onsetHz, type Onsets } from './onsets.ts';

export interface Beats {
  /** Of the even row that fits best. */
  readonly bpm: number;
  /** How far that may be off: its standard error. */
  readonly bpmError: number;
  /** Where the first beat that is heard lies: on that row, where the beats are even. */
  readonly firstS: number;
  /** Each beat from the first that is heard to the last, as it is played. */
  readonly beatsS: readonly number[];
  /** How far nineteen of twenty beats are at most from the even row. */
  readonly unevenS: number;
}

/** Slower and faster rows are no beats that anybody counts. */
const [slowestBpm, fastestBpm] = [40, 240];
/** The tempo that people tap when several would do, and how far others are from it, in octaves (Ellis 2007, section 3.2). */
const usualBpm = 120;
const usualOctaves = 0.9;
const mostTempos = 4;
/** Beats that are closer to an even row than this are even: sounds set in over so long. */
export const evenS = 0.02;
/** Fewer are no row. */
const leastBeats = 8;

/**
 * The rows of beats that a sound may be counted by, the likeliest first; none where it has no beat: speech, silence, a held tone. It takes
 * a second of reckoning for a long song, so a step is given back after each row.
 */
export function* beatsInSteps(onsets: Onsets): Generator<undefined, Beats[]> {
  const rows: Beats[] = [];
  for (const [index, bpm] of temposOf(onsets.strength).entries()) {
    yield;
    const row = rowOf(onsets, bpm);
    if (row && isBeat(row)) rows.push(row.beats);
    // Where the likeliest is none, the others are chance.
    else if (index === 0) return [];
  }
  return rows;
}

/** How users count: as fast as a row, or two or three times as fast or as slow. */
const countings = [1, 2, 1 / 2, 3, 1 / 3];
/** A tempo that is so far from all of these is another one: in octaves. */
const mostOctaves = 0.2;

/**
 * The row of beats as somebody counts it who says a tempo and where a beat is. What is heard can be counted twice as fast and half as
 * fast, and nobody but who counts can tell which is meant: so the row nearest to what is said is taken, the likeliest where none is near.
 */
export function asCounted(
  rows: readonly Beats[],
  said: { readonly bpm: number; readonly beatS: number },
): Beats | undefined {
  const away = (bpm: number) => Math.abs(Math.log2(bpm / said.bpm));
  const near = rows
    .flatMap((row) => countings.map((times) => ({ row, times, octaves: away(row.bpm * times) })))
    .filter(({ octaves }) => octaves < mostOctaves);
  const nearest = Math.min(...near.map(({ octaves }) => octaves));
  // Rows of one tempo may take different beats of it: the one with a beat where somebody says that one is.
  const [best] = near
    .filter(({ octaves }) => octaves < nearest + sameOctaves)
    .map(({ row, times }) => ({ times, counted: counted(row, times, said.beatS) }))
    .map((one) => ({ ...one, offS: offBeatS(one.counted, said.beatS) + (one.times === 1 ? 0 : preferredS) }))
    .sort((one, other) => one.offS - other.offS);
  return best?.counted ?? rows[0];
}

const sameOctaves = 0.02;
/** What is heard so stands before what is made of it. */
const preferredS = 0.01;

function counted(row: Beats, times: number, beatS: number): Beats {
  if (times === 1) return row;
  return times > 1 ? dividedBy(row, times) : everyNth(row, Math.round(1 / times), beatS);
}

/** How far a moment is from the nearest beat of a row, which goes on evenly before and after it. */
export function offBeatS({ bpm, firstS }: Beats, atS: number): number {
  const steps = ((atS - firstS) * bpm) / 60;
  return (Math.abs(steps - Math.round(steps)) * 60) / bpm;
}

function dividedBy(row: Beats, parts: number): Beats {
  const beatsS = row.beatsS.flatMap((at, index) => {
    const next = row.beatsS[index + 1];
    if (next === undefined) return [at];
    return Array.from({ length: parts }, (_, part) => at + ((next - at) * part) / parts);
  });
  return { ...row, bpm: row.bpm * parts, bpmError: row.bpmError * parts, beatsS };
}

/** Those among which the one nearest to a moment is. */
function everyNth(row: Beats, nth: number, nearS: number): Beats {
  const stepS = 60 / row.bpm;
  const index = Math.round((nearS - row.firstS) / stepS);
  const first = ((index % nth) + nth) % nth;
  return {
    ...row,
    bpm: row.bpm / nth,
    bpmError: row.bpmError / nth,
    firstS: row.unevenS > evenS ? (row.beatsS[first] ?? row.firstS) : row.firstS + first * stepS,
    beatsS: row.beatsS.filter((_, at) => at % nth === first),
  };
}

// -- tempos ----------------------------------------------------------------------------------------------------------

/** A tempo repeats so much as least, as a share of the most that one does. */
const leastShare = 0.4;

function temposOf(strength: Float32Array): number[] {
  const slowest = Math.ceil((60 / slowestBpm) * onsetHz);
  const fastest = Math.floor((60 / fastestBpm) * onsetHz);
  if (strength.length < 3 * slowest) return [];
  const alike = Float64Array.from({ length: slowest + 2 }, (_, lag) =>
    lag < fastest - 1 ? 0 : alikeAt(strength, lag),
  );
  const lags: number[] = [];
  for (let lag = fastest; lag <= slowest; lag++)
    if (alike[lag]! > 0 && alike[lag]! >= alike[lag - 1]! && alike[lag]! > alike[lag + 1]!) lags.push(lag);
  const most = Math.max(0, ...lags.map((lag) => alike[lag]!));
  const weight = (lag: number) => {
    const octaves = Math.log2((60 * onsetHz) / lag / usualBpm) / usualOctaves;
    return alike[lag]! * Math.exp(-0.5 * octaves * octaves);
  };
  return lags
    .filter((lag) => alike[lag]! >= leastShare * most)
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, mostTempos)
    .map((lag) => (60 * onsetHz) / crest(alike, lag));
}

function alikeAt(values: Float32Array, lag: number): number {
  let sum = 0;
  for (let at = lag; at < values.length; at++) sum += values[at]! * values[at - lag]!;
  return sum / (values.length - lag);
}

/** Between values, by the parabola through the highest and its neighbours. */
function crest(values: Float64Array, at: number): number {
  const [before, here, after] = [values[at - 1]!, values[at]!, values[at + 1]!];
  const bend = before - 2 * here + after;
  return bend < 0 ? at + Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : at;
}

// -- the row of one tempo --------------------------------------------------------------------------------------------

interface Row {
  readonly beats: Beats;
  /** How strongly sounds begin on the beats, in deviations. */
  readonly stress: number;
  /** Share of the beats that a sound begins at. */
  readonly heard: number;
  /** How far what begins repeats a beat and two beats later: correlation, 0 to 1. */
  readonly alike: number;
}

/**
 * What a row must have to be a beat. Music of known tempo has a correlation over 0.35, also with rests, 15 ms of play and a tempo that
 * goes up by 6 %; speech, syllables, notes and noise at random stay under 0.16.
 */
const [leastStress, leastHeard, leastAlike] = [1.2, 0.5, 0.25];

function isBeat({ stress, heard, alike, beats }: Row): boolean {
  return beats.beatsS.length >= leastBeats && stress >= leastStress && heard >= leastHeard && alike >= leastAlike;
}

function rowOf(onsets: Onsets, bpm: number): Row | undefined {
  const tracked = track(onsets.strength, (60 * onsetHz) / bpm);
  const all = tracked.map((at) => ({
    roughS: at / onsetHz,
    strength: strongestNear(onsets.strength, at),
    ...setInNear(onsets.level, at / onsetHz),
  }));
  const usual = quantile(
    all.map(({ strength }) => strength),
    0.5,
  );
  const usualRise = quantile(
    all.map(({ rise }) => rise),
    0.5,
  );
  const isHeard = all.map(({ strength, rise }) => strength >= 0.3 * usual && rise >= 0.2 * usualRise);
  const [first, last] = [isHeard.indexOf(true), isHeard.lastIndexOf(true)];
  if (usual <= 0 || first < 0 || last - first + 1 < leastBeats) return undefined;
  const heard = isHeard.slice(first, last + 1);
  const row = all.slice(first, last + 1);
  const shiftS = quantile(
    row.map((one) => one.atS - one.roughS),
    0.5,
  );
  const found = row.map(({ atS, roughS }, index) =>
    heard[index] && Math.abs(atS - roughS - shiftS) < 0.03 ? atS : undefined,
  );
  const whole = fit(found);
  if (!whole) return undefined;
  // Noise that sets in at the very start may look like a beat before all sound.
  const early = Math.max(0, Math.ceil((-0.005 - whole.startS) / whole.stepS));
  const line = { ...whole, startS: whole.startS + early * whole.stepS };
  const beatsS = between(found.slice(early), line);
  const unevenS = quantile(
    beatsS.map((at, index) => Math.abs(at - line.startS - index * line.stepS)),
    0.95,
  );
  return {
    beats: {
      bpm: 60 / line.stepS,
      bpmError: (60 / line.stepS ** 2) * line.stepErrorS,
      firstS: unevenS > evenS ? beatsS[0]! : Math.max(0, line.startS),
      beatsS,
      unevenS,
    },
    stress: usual,
    heard: heard.filter(Boolean).length / heard.length,
    alike: alikeAfter(onsets.strength, line.stepS * onsetHz),
  };
}

/** Steps of a tempo that changes differ: the most alike of those around counts. */
function alikeAfter(strength: Float32Array, step: number): number {
  const whole = alikeAt(strength, 0);
  const near = (lag: number) => {
    const reach = Math.ceil(lag * 0.02) + 1;
    const around = Array.from({ length: 2 * reach + 1 }, (_, by) => alikeAt(strength, Math.round(lag) + by - reach));
    return Math.max(...around) / whole;
  };
  return (near(step) + near(2 * step)) / 2;
}

/** How much evenness weighs against what is heard (Ellis 2007, equation 3). */
const tightness = 400;

/** The moments of the best row of steps near `step`, in values of `strength`. */
function track(strength: Float32Array, step: number): number[] {
  const { length } = strength;
  const score = new Float64Array(length);
  const before = new Int32Array(length).fill(-1);
  const [nearest, farthest] = [Math.max(1, Math.round(step / 2)), Math.round(2 * step)];
  const cost = Float64Array.from({ length: farthest + 1 }, (_, lag) =>
    lag < nearest ? 0 : -tightness * Math.log(lag / step) ** 2,
  );
  for (let at = 0; at < length; at++) {
    let [best, from] = [0, -1];
    for (let lag = nearest; lag <= farthest && lag <= at; lag++) {
      const value = score[at - lag]! + cost[lag]!;
      if (value > best) [best, from] = [value, at - lag];
    }
    score[at] = strength[at]! + best;
    before[at] = from;
  }
  // The last beat: the best end among those of the last step.
  let end = length - 1;
  for (let at = Math.max(0, length - Math.round(step)); at < length; at++) if (score[at]! > score[end]!) end = at;
  const row: number[] = [];
  for (let at = end; at >= 0; at = before[at]!) row.push(at);
  return row.reverse();
}

function strongestNear(strength: Float32Array, at: number): number {
  let most = 0;
  for (let near = at - 6; near <= at + 6; near++) most = Math.max(most, strength[near] ?? 0);
  return most;
}

/** Within so much of a tracked beat its sound sets in. */
const nearS = 0.045;
/** What is louder is looked at over so long, before and after. */
const riseS = 0.004;

/** Where near a moment it gets louder most steeply, and by how much. */
function setInNear(level: Float32Array, nearAtS: number): { atS: number; rise: number } {
  const span = Math.round(riseS * levelHz);
  const middle = Math.round(nearAtS * levelHz);
  const reach = Math.round(nearS * levelHz);
  let [best, found, most] = [-Infinity, middle, 0];
  for (let at = middle - reach; at <= middle + reach; at++) {
    let rise = 0;
    for (let by = 0; by < span; by++) rise += (level[at + by] ?? 0) - (level[at - 1 - by] ?? 0);
    const value = rise * Math.exp(-0.5 * ((at - middle) / reach) ** 2);
    if (value > best) [best, found, most] = [value, at, rise];
  }
  return { atS: found / levelHz, rise: most };
}

// -- an even row through the beats -----------------------------------------------------------------------------------

interface Line {
  readonly startS: number;
  readonly stepS: number;
  readonly stepErrorS: number;
}

/** By least squares; twice again without what is far from it. */
function fit(beats: readonly (number | undefined)[]): Line | undefined {
  let points = beats.flatMap((s, index) => (s === undefined ? [] : [{ index, s }]));
  for (let round = 0; ; round++) {
    const line = leastSquares(points);
    if (!line || round === 2) return line;
    const off = points.map(({ index, s }) => Math.abs(s - line.startS - index * line.stepS));
    const most = Math.max(0.003, 4 * quantile(off, 0.5));
    points = points.filter((_, at) => off[at]! <= most);
  }
}

function leastSquares(points: readonly { readonly index: number; readonly s: number }[]): Line | undefined {
  if (points.length < leastBeats / 2) return undefined;
  const mean = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [middle, middleS] = [mean(({ index }) => index), mean(({ s }) => s)];
  const square = mean(({ index }) => (index - middle) ** 2);
  if (square === 0) return undefined;
  const stepS = mean(({ index, s }) => (index - middle) * (s - middleS)) / square;
  if (stepS <= 0) return undefined;
  const startS = middleS - middle * stepS;
  const left = mean(({ index, s }) => (s - startS - index * stepS) ** 2);
  return { startS, stepS, stepErrorS: Math.sqrt(left / square / Math.max(1, points.length - 2)) };
}

/** Beats that no sound begins at lie evenly between those around them. */
function between(found: readonly (number | undefined)[], { startS, stepS }: Line): number[] {
  const off = found.map((s, index) => (s === undefined ? undefined : s - startS - index * stepS));
  return found.map((s, index) => {
    if (s !== undefined) return s;
    const before = off.findLastIndex((one, at) => at < index && one !== undefined);
    const after = off.findIndex((one, at) => at > index && one !== undefined);
    const [low, high] = [off[before] ?? off[after] ?? 0, off[after] ?? off[before] ?? 0];
    const share = before < 0 || after < 0 ? 0 : (index - before) / (after - before);
    return startS + index * stepS + low + (high - low) * share;
  });
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) * share)] ?? 0;
}
