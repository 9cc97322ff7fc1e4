/** The music of a film as its file has it: what rules, pictures and completions ask. */
import { asCounted, type Beats, evenS } from '../../calc/beat-track.ts';
import type { MusicHeard } from '../decoded.ts';
import type { Film, Music, Val } from '../film.ts';
import { once } from '../memo.ts';
import { num } from '../say.ts';
import type { Seconds } from '../units.ts';

export interface FilmMusic {
  readonly music: Music;
  readonly file: Val<string>;
  readonly heard: MusicHeard;
  /** Its beats as the spec counts them; undefined where it has none. */
  readonly beats?: Beats;
}

/** Undefined where the spec names no file of its music, or nobody listened to it. */
export const filmMusic = once((film: Film): FilmMusic | undefined => {
  const { music } = film;
  const file = music?.track && film.rights.get(music.track.value)?.media;
  const heard = file && film.heard(file.value);
  if (!music || !file || !heard) return undefined;
  // Who says no tempo that can be read counts as most would.
  const said = { bpm: music.tempo?.value ?? heard.rows[0]?.bpm ?? 0, beatS: music.firstBeatS };
  const beats = said.bpm > 0 ? asCounted(heard.rows, said) : undefined;
  return { music, file, heard, ...(beats && { beats }) };
});

export function isEven({ unevenS }: Beats): boolean {
  return unevenS <= evenS;
}

/** The tempo as it would be written: a round one where the measured one is no other. */
export function tempoText({ bpm, bpmError }: Beats): string {
  const error = Math.max(0.02, 3 * bpmError);
  const round = [1, 2, 10].map((parts) => Math.round(bpm * parts) / parts).find((one) => Math.abs(one - bpm) <= error);
  return `${num(round ?? bpm, 2)} bpm`;
}

/** A moment of the music, to a millisecond. */
export function momentText(seconds: Seconds): string {
  return `${num(seconds, 3)} s`;
}

/** The beat of the file nearest to a moment; even ones go on before the first that is heard. */
export function beatNear(beats: Beats, atS: Seconds): Seconds {
  if (!isEven(beats))
    return beats.beatsS.reduce((best, one) => (Math.abs(one - atS) < Math.abs(best - atS) ? one : best));
  const stepS = 60 / beats.bpm;
  const first = Math.ceil(-beats.firstS / stepS);
  return beats.firstS + Math.max(first, Math.round((atS - beats.firstS) / stepS)) * stepS;
}

/**
 * Where each beat lies in the film, from beat 0, which is what the spec calls the first one; undefined where its beats are even, or what
 * the spec says of them is not what is heard: then the spec's even beats count.
 */
export interface PlayedBeats {
  /** In the film, from beat `first` on; none has the same moment as another. */
  readonly atS: readonly Seconds[];
  /** The number of the first of them. */
  readonly first: number;
}

export const playedBeats = once((film: Film): PlayedBeats | undefined => {
  const known = filmMusic(film);
  if (!known?.beats || isEven(known.beats) || !isAsSaid(known, film)) return undefined;
  const { music, beats } = known;
  const zero = beats.beatsS.reduce(
    (best, one, index) =>
      Math.abs(one - music.firstBeatS) < Math.abs(beats.beatsS[best]! - music.firstBeatS) ? index : best,
    0,
  );
  return { atS: beats.beatsS.map((at) => at - music.trimS), first: -zero };
});

/** Seconds that a frame of the edit takes; a 25th where the rate is not known. */
export function frameS({ timeline }: Film): Seconds {
  const rate = timeline.rate?.value;
  return rate ? rate.den / rate.num : 1 / 25;
}

/** How far the beats of the spec's tempo have run from those that are heard at the end of the film. */
export function driftOfTempoS({ music, beats }: FilmMusic, film: Film): Seconds {
  if (!beats || !music.tempo || film.cutS === undefined) return 0;
  return Math.abs(film.cutS * (music.tempo.value / beats.bpm - 1));
}

/** Does the spec say of the beats what is heard, to a frame? */
export function isAsSaid(known: FilmMusic, film: Film, frames = 1): boolean {
  const { music, beats } = known;
  if (!beats) return false;
  return (
    !isOtherTempo(known, film, frames) &&
    Math.abs(beatNear(beats, music.firstBeatS) - music.firstBeatS) <= frames * frameS(film)
  );
}

/** Is it another tempo, by more than the measurement may be off? Of uneven beats none is exact: a hundredth counts. */
export function isOtherTempo(known: FilmMusic, film: Film, frames: number): boolean {
  const { music, beats } = known;
  if (!beats || !music.tempo) return false;
  const off = Math.abs(music.tempo.value - beats.bpm);
  const least = isEven(beats) ? 3 * beats.bpmError : Math.max(3 * beats.bpmError, 0.01 * beats.bpm);
  return off > least && driftOfTempoS(known, film) > frames * frameS(film);
}
