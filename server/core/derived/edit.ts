/** The edit in seconds: what each deliverable shows of the cut and of its titles, and film time as it would be written. */
import { halfFrameS, type Rate, rateFps, sharedS } from '../../calc/rate.ts';
import type { Deliverable, Film, Piece, Title, Val } from '../film.ts';
import { num } from '../say.ts';
import type { Ends, FilmTime, Seconds } from '../units.ts';

/** Seconds are equal when they differ by less than this. */
export const sameTimeS = 1e-6;

/** Places of the cut are the same when they differ by less than this: half a frame of the edit. */
export function samePlaceS({ timeline }: Film): Seconds {
  return halfFrameS(timeline.rate?.value);
}

/** The stretch of the cut that a deliverable shows; undefined where the cut's length is not known or there is none. */
export function shownStretch(deliverable: Deliverable, film: Film): Ends<Seconds> | undefined {
  const { sectionS } = deliverable;
  if (film.cutS === undefined || !sectionS) return undefined;
  return { from: Math.min(sectionS.from, film.cutS), to: Math.min(sectionS.to, film.cutS) };
}

/** How long a deliverable runs: what the cut gives it, else what was promised. */
export function runsS(deliverable: Deliverable, film: Film): Seconds | undefined {
  const stretch = shownStretch(deliverable, film);
  return stretch ? stretch.to - stretch.from : deliverable.lengthS;
}

/** Seconds of a piece that a deliverable shows. */
export function shownOfPieceS(piece: Piece, deliverable: Deliverable, film: Film): Seconds {
  const stretch = shownStretch(deliverable, film);
  if (!stretch || piece.startS === undefined || piece.endS === undefined) return 0;
  return sharedS({ from: piece.startS, to: piece.endS }, stretch, deliverable.rate?.value);
}

/** The deliverables that a title is meant for and that show any of it. */
export function deliverablesOf(title: Title, film: Film): Deliverable[] {
  return [...film.deliverables.values()].filter((one) => {
    if (title.onlyIn && !title.onlyIn.some((name) => name.value === one.name)) return false;
    const stretch = shownStretch(one, film);
    if (!stretch || title.atS === undefined || title.holdS === undefined) return true;
    return sharedS({ from: title.atS, to: title.atS + title.holdS }, stretch, one.rate?.value) > 0;
  });
}

/** The last moment of the cut that a deliverable with sound plays; undefined where none has any. */
export function lastHeardS(film: Film): Seconds | undefined {
  const ends = [...film.deliverables.values()]
    .filter((one) => one.sound !== 'none')
    .map((one) => shownStretch(one, film)?.to ?? film.cutS ?? 0);
  return ends.length > 0 ? Math.max(...ends) : undefined;
}

/** Seconds for each beat, where there is music. */
export function beatOfFilmS(film: Film): Seconds | undefined {
  const bpm = film.music?.tempo?.value;
  return bpm ? 60 / bpm : undefined;
}

/**
 * A film time of about `seconds`, written in the unit that the user wrote: whole or half beats, whole frames, tenths of
 * a second. `round` says to which side; undefined where the unit can't be converted or gives nothing above 0.
 */
export function filmTimeLike(
  written: Val<FilmTime> | undefined,
  seconds: Seconds,
  film: Film,
  round: 'up' | 'down',
): string | undefined {
  const steps = (one: Seconds) => {
    const count = seconds / one;
    return Math.max(0, round === 'up' ? Math.ceil(count - 1e-6) : Math.floor(count + 1e-6));
  };
  const beatS = beatOfFilmS(film);
  const rate = film.timeline.rate?.value;
  switch (written?.value.kind) {
    case 'beats': {
      const beats = beatS === undefined ? 0 : steps(beatS / 2) / 2;
      return beats > 0 ? beatsText(beats) : undefined;
    }
    case 'frames':
    case 'timecode': {
      const frames = rate ? steps(rate.den / rate.num) : 0;
      return frames > 0 ? framesText(frames) : undefined;
    }
    default: {
      const tenths = steps(0.1);
      return tenths > 0 ? `${num(tenths / 10, 1)} s` : undefined;
    }
  }
}

/** `1 beat`, `7.5 beats`. */
export function beatsText(beats: number): string {
  return `${num(beats, 3)} ${beats === 1 ? 'beat' : 'beats'}`;
}

/** `1 frame`, `104 frames`. */
export function framesText(frames: number): string {
  return `${frames} ${frames === 1 ? 'frame' : 'frames'}`;
}

/** Frames as film time, exactly: whole beats or hundredths of a second where they are that, else frames. */
export function exactTime(frames: number, like: Val<FilmTime> | undefined, film: Film): string | undefined {
  const rate = film.timeline.rate?.value;
  if (!rate || frames <= 0) return undefined;
  const seconds = (frames * rate.den) / rate.num;
  const beats = seconds / (beatOfFilmS(film) ?? Infinity);
  if (like?.value.kind === 'beats' && beats > 0 && isNear(beats * 2)) return beatsText(Math.round(beats * 2) / 2);
  if (like?.value.kind === 'seconds' && isNear(seconds * 100)) return `${num(seconds, 2)} s`;
  return framesText(frames);
}

function isNear(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-6;
}

/** `19.15 s (479 frames)`: a film time as people compare it. */
export function secondsAndFrames(seconds: Seconds, rate: Rate | undefined): string {
  const text = `${num(seconds, 2)} s`;
  return rate ? `${text} (${framesText(Math.round(seconds * rateFps(rate)))})` : text;
}
