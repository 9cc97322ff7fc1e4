/** The shutters that a shot can be given: within the camera's range and near half a frame, the steadiest first. */
import { cleanShuttersS, lampRippleHz, worstPulseSwing } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import { effectiveAngleDeg, framesPerStep, shutterForEffectiveAngleS, shutterS } from '../../calc/shutter.ts';
import type { Film, Shot } from '../film.ts';
import type { Degrees, Seconds, Shutter } from '../units.ts';
import { mainsSwing, pulsedLights, pulsedSwing, screenClock, screenPulses } from './pulses.ts';
import { showsMovingScreen } from './time.ts';

/** The swing from which flicker is worth a word. */
const seen = 0.02;

/** How the shot's frames are stepped over in the film. */
export interface Stepping {
  readonly fps: number;
  /** Recorded frames for each film frame, of the piece that plays fastest; 1 where the cut does not tell. */
  readonly k: number;
  /** Playback speed of that piece. */
  readonly speed: number;
}

/** Undefined without a recorded rate, and for a time-lapse: no picture of it is meant to flow into the next. */
export function stepping(shot: Shot, film: Film): Stepping | undefined {
  const recorded = shot.camera.rate?.value;
  if (!recorded || shot.interval) return undefined;
  const fps = rateFps(recorded);
  const edit = film.timeline.rate?.value;
  const speed = shot.pieces.reduce((most, piece) => Math.max(most, Math.abs(piece.speed)), 0) || 1;
  const inCut = edit && shot.pieces.length > 0;
  return { fps, speed, k: inCut ? framesPerStep(speed, fps, rateFps(edit)) : 1 };
}

/** Exposure time that is half a frame as the film shows it. */
export function halfFrameS({ fps, k }: Stepping): Seconds {
  return shutterForEffectiveAngleS(180, fps, k);
}

export function angleInFilm(timeS: Seconds, { fps, k }: Stepping): Degrees {
  return effectiveAngleDeg(timeS, fps, k);
}

/** Can the camera be set to it, and does it end before the next frame begins? A tenth of a stop is forgiven. */
export function isSettable(shot: Shot, timeS: Seconds, fps: number): boolean {
  if (timeS * fps > 1 + 1e-9) return false;
  const range = shot.camera.body?.shutter?.value;
  if (!range) return true;
  const ends = [seconds(range.from, fps), seconds(range.to, fps)];
  return timeS >= Math.min(...ends) * 0.93 && timeS <= Math.max(...ends) * 1.07;
}

function seconds(shutter: Shutter, fps: number): Seconds {
  return shutter.kind === 'time' ? shutter.s : shutterS(shutter.deg, fps);
}

/** Shutters that average whole pulses of mains light, settable, shortest first; none without a mains frequency. */
export function mainsShuttersS(shot: Shot, film: Film, fps: number): Seconds[] {
  if (film.mainsHz === undefined) return [];
  return cleanShuttersS(lampRippleHz(film.mainsHz), fps).filter((timeS) => isSettable(shot, timeS, fps));
}

/**
 * Shutters within `allowDeg` of half a frame: those that leave the least trouble first (mains light, pulsed lamps,
 * screens), among equals the one nearest to half a frame. Half a frame itself is among them where the camera has it.
 */
export function steadyShuttersS(shot: Shot, film: Film, step: Stepping, allowDeg: Degrees): Seconds[] {
  const half = halfFrameS(step);
  const near = (timeS: Seconds) => Math.abs(angleInFilm(timeS, step) - 180) <= allowDeg + 1e-6;
  const rank = (timeS: Seconds) => trouble(shot, film, timeS);
  return [
    ...mainsShuttersS(shot, film, step.fps),
    ...screenShuttersS(shot, step.fps),
    ...pulseShuttersS(shot, half),
    half,
  ]
    .filter((timeS) => near(timeS) && isSettable(shot, timeS, step.fps))
    .map((timeS) => ({ timeS, rank: rank(timeS), apart: apartFrom(half, timeS) }))
    .sort((a, b) => a.rank - b.rank || a.apart - b.apart)
    .map((one) => one.timeS);
}

/** Stops from half a frame; smear is judged a little worse than as much stutter: common practice, no source. */
function apartFrom(half: Seconds, timeS: Seconds): number {
  const stops = Math.log2(timeS / half);
  return stops > 0 ? 1.3 * stops : -stops;
}

function screenShuttersS(shot: Shot, fps: number): Seconds[] {
  const hz = shot.backdrop?.refresh?.value;
  return hz && shot.backdrop?.screenName ? cleanShuttersS(hz, fps) : [];
}

/** Whole pulses of each slow pulsed lamp or screen, just under and just over half a frame. */
function pulseShuttersS(shot: Shot, half: Seconds): Seconds[] {
  const all = [...pulsedLights(shot).map((one) => one.hz), ...[screenPulses(shot)?.hz ?? []].flat()];
  return all
    .filter((hz) => hz * half < 50)
    .flatMap((hz) => [Math.floor(hz * half) / hz, Math.ceil(hz * half) / hz])
    .filter((timeS) => timeS > 0);
}

/** How many lights a shutter leaves unsteady. Off the mains' pulses counts a little even where no lamp is known to ripple. */
function trouble(shot: Shot, film: Film, timeS: Seconds): number {
  const { mainsHz } = film;
  const offPulse = mainsHz === undefined || isWhole(timeS * lampRippleHz(mainsHz)) ? 0 : 0.1;
  const mains = (mainsSwing(shot, film, timeS) ?? 0) >= seen ? 1 : offPulse;
  const pulsed = pulsedLights(shot).some((one) => pulsedSwing(one, timeS) >= seen) ? 1 : 0;
  const pulses = screenPulses(shot);
  const refresh = shot.backdrop?.refresh?.value;
  const torn = refresh !== undefined && showsMovingScreen(shot) && timeS * refresh < 1 - 1e-3;
  const blinks = pulses !== undefined && worstPulseSwing(pulses.hz, timeS, pulses.duty, screenClock) >= seen;
  return mains + pulsed + (torn || blinks ? 1 : 0);
}

export function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-3 * Math.max(1, value);
}
