/** The beats of a film in frames: those that are played, where it is known that they are not even, else those of its tempo. */
import { framesPerBeat, nearestBeat, tempo } from '../../calc/beats.ts';
import { type Rate, sToFrames } from '../../calc/rate.ts';
import type { Film, Piece } from '../film.ts';
import { once } from '../memo.ts';
import type { Ends, Seconds } from '../units.ts';
import { beatOfFilmS, sameTimeS } from './edit.ts';
import { type PlayedBeats, playedBeats } from './music.ts';

export interface NearBeat {
  /** In frames, with the fraction. */
  readonly position: number;
  /** The whole frame to cut on. */
  readonly frame: number;
  /** Frames that a cut lies after it; minus is before. */
  readonly late: number;
}

export interface BeatGrid {
  readonly frames: Rate;
  /** Frames for each beat of the tempo. */
  readonly perBeat: number;
  readonly isPlayed: boolean;
  near(frame: number): NearBeat;
  /** By the tempo, as who counts does. */
  nearEven(frame: number): NearBeat;
}

/** Undefined where tempo or rate are not known. */
export const beatGrid = once((film: Film): BeatGrid | undefined => {
  const { music, timeline, cut } = film;
  const frames = timeline.rate?.value;
  if (!music?.tempo?.value || !frames) return undefined;
  const perBeat = framesPerBeat(frames, tempo(music.tempo.value));
  // Later than the film's start where less than the music's upbeat is left out.
  const firstFrame = sToFrames(music.firstBeatS - music.trimS, frames);
  const step = stepOf(cut);
  const played = playedFrames(film, frames, step);
  const nearEven = (frame: number) => nearestBeat(frame, perBeat, firstFrame, step);
  return {
    frames,
    perBeat: perBeat.num / perBeat.den,
    isPlayed: played !== undefined,
    near: (frame) => (played ? nearOf(played, frame) : nearEven(frame)),
    nearEven,
  };
});

/** The played beats of all of the film: beyond the first and the last that are heard they go on as the outermost do. */
const playedInFilm = once((film: Film): PlayedBeats | undefined => {
  const played = playedBeats(film);
  if (!played || film.cutS === undefined) return undefined;
  const { atS } = played;
  const [first, last] = [atS[1]! - atS[0]!, atS.at(-1)! - atS.at(-2)!];
  const before = Math.min(mostBeyond, Math.max(0, Math.ceil(atS[0]! / first) + 1));
  const after = Math.min(mostBeyond, Math.max(0, Math.ceil((film.cutS - atS.at(-1)!) / last) + 1));
  return {
    first: played.first - before,
    atS: [
      ...Array.from({ length: before }, (_, index) => atS[0]! - (before - index) * first),
      ...atS,
      ...Array.from({ length: after }, (_, index) => atS.at(-1)! + (index + 1) * last),
    ],
  };
});

export interface BeatMoment {
  readonly beat: number;
  readonly atS: Seconds;
}

/** Every so many beats of a stretch of the film, those whose number they divide; at most so many. */
export function beatsBetween(film: Film, { from, to }: Ends<Seconds>, every = 1, most = mostBeyond): BeatMoment[] {
  const beatS = beatOfFilmS(film);
  const { music } = film;
  if (!beatS || !music) return [];
  const played = playedInFilm(film);
  if (played) {
    const all = played.atS.map((atS, index) => ({ beat: played.first + index, atS }));
    return all.filter(({ beat, atS }) => beat % every === 0 && isWithin(atS, from, to)).slice(0, most);
  }
  const zeroS = music.firstBeatS - music.trimS;
  const first = Math.ceil((from - zeroS) / beatS / every - 1e-6) * every;
  const count = Math.max(0, Math.floor((to + sameTimeS - zeroS) / beatS / every) - first / every + 1);
  return Array.from({ length: Math.min(count, most) }, (_, index) => {
    const beat = first + index * every;
    return { beat, atS: zeroS + beat * beatS };
  });
}

function isWithin(atS: Seconds, from: Seconds, to: Seconds): boolean {
  return atS >= from - sameTimeS && atS <= to + sameTimeS;
}

/** 1 for beats; less where the cut counts in halves or quarters of one: whoever writes `1.5 beats` means the half beat. */
function stepOf(cut: readonly Piece[]): number {
  const beats = cut.flatMap(({ length }) => (length?.value.kind === 'beats' ? length.value.beats : []));
  const whole = (step: number) => beats.every((one) => Math.abs(one / step - Math.round(one / step)) < 1e-6);
  return [1, 0.5, 0.25].find(whole) ?? 0.25;
}

/** No film has more. */
const mostBeyond = 10_000;

/** Where the steps of the played beats lie, rising. */
function playedFrames(film: Film, frames: Rate, step: number): readonly number[] | undefined {
  const played = playedInFilm(film);
  if (!played) return undefined;
  const beats = played.atS;
  const parts = Math.round(1 / step);
  return beats.flatMap((at, index) => {
    const next = beats[index + 1];
    const steps = next === undefined ? 1 : parts;
    return Array.from({ length: steps }, (_, part) => sToFrames(at + (((next ?? at) - at) * part) / parts, frames));
  });
}

function nearOf(positions: readonly number[], frame: number): NearBeat {
  let [low, high] = [0, positions.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (positions[middle]! <= frame) low = middle;
    else high = middle;
  }
  const [before, after] = [positions[low]!, positions[high]!];
  const position = frame - before < after - frame ? before : after;
  return { position, frame: Math.floor(position + 0.5 + 1e-9), late: frame - position };
}
