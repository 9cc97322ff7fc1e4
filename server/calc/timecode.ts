/** Timecode of SMPTE ST 12-1: frames to hours:minutes:seconds:frames and back, drop-frame and not. */
import type { Rate } from './rate.ts';

export interface Timecode {
  readonly hours: number;
  readonly minutes: number;
  readonly seconds: number;
  readonly frames: number;
  readonly drop: boolean;
}

/** Frame numbers in a counted second: the rate rounded up to whole (30 for 29.97). */
export function countedFps(r: Rate): number {
  return Math.ceil(r.num / r.den - 1e-9);
}

/** Numbers left out each minute but every tenth: 2 at 30000/1001, 4 at 60000/1001; 0 at any other rate (no drop-frame). */
export function droppedPerMinute(r: Rate): number {
  if (r.den !== 1001) return 0;
  if (r.num === 30000) return 2;
  return r.num === 60000 ? 4 : 0;
}

/** Whether drop-frame counting is defined for a rate: 30000/1001 and 60000/1001 only. */
export function hasDropFrame(r: Rate): boolean {
  return droppedPerMinute(r) > 0;
}

/**
 * Timecode of frame `frame`, counted from 00:00:00:00; hours go past 23 without wrapping. Drop-frame adds the left-out
 * numbers back: 18 for each ten minutes and 2 for each further minute (twice that at 60). `drop` is ignored at rates
 * that have none.
 */
export function frameToTimecode(frame: number, r: Rate, drop: boolean): Timecode {
  const fps = countedFps(r);
  const dropped = drop ? droppedPerMinute(r) : 0;
  let counted = frame;
  if (dropped > 0) {
    const perMinute = fps * 60 - dropped;
    const perTen = perMinute * 10 + dropped;
    const within = frame % perTen;
    const tens = Math.floor(frame / perTen);
    counted += tens * 9 * dropped + Math.max(0, Math.floor((within - dropped) / perMinute)) * dropped;
  }
  const totalSeconds = Math.floor(counted / fps);
  return {
    hours: Math.floor(totalSeconds / 3600),
    minutes: Math.floor(totalSeconds / 60) % 60,
    seconds: totalSeconds % 60,
    frames: counted % fps,
    drop: dropped > 0,
  };
}

/** Why a timecode cannot be at a rate. */
export type TimecodeFault = 'no-drop-frame-at-this-rate' | 'out-of-range' | 'dropped-number';

/** The fault of a timecode at a rate, or `undefined`. 00:01:00;00 and ;01 do not exist at 29.97. */
export function timecodeFault(code: Timecode, r: Rate): TimecodeFault | undefined {
  const { hours, minutes, seconds, frames, drop } = code;
  const parts = [hours, minutes, seconds, frames];
  if (parts.some((part) => !Number.isInteger(part) || part < 0)) return 'out-of-range';
  if (hours > 23 || minutes > 59 || seconds > 59 || frames >= countedFps(r)) return 'out-of-range';
  if (!drop) return undefined;
  if (!hasDropFrame(r)) return 'no-drop-frame-at-this-rate';
  return seconds === 0 && minutes % 10 !== 0 && frames < droppedPerMinute(r) ? 'dropped-number' : undefined;
}

/** The next number that exists: a dropped one moves on to the first frame of its minute that has a number. */
export function nextLegalTimecode(code: Timecode, r: Rate): Timecode {
  return timecodeFault(code, r) === 'dropped-number' ? { ...code, frames: droppedPerMinute(r) } : code;
}

/** "hh:mm:ss:ff", with ";" before the frames when they are counted drop-frame. */
export function timecodeText({ hours, minutes, seconds, frames, drop }: Timecode): string {
  const two = (part: number) => String(part).padStart(2, '0');
  return `${two(hours)}:${two(minutes)}:${two(seconds)}${drop ? ';' : ':'}${two(frames)}`;
}

/** Seconds by which non-drop timecode falls behind the clock in an hour: 3.6 s at 29.97; 0 at whole rates. */
export function nonDropLagSPerHour(r: Rate): number {
  return 3600 * ((countedFps(r) * r.den) / r.num - 1);
}
