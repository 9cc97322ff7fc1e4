/** Movement: speeds, turns and blur in one exposure. Lengths in mm, times in s. */

/** Rim speed of a turntable in mm/s: 2πr·rpm ÷ 60. */
export function rimSpeedMmS(radiusMm: number, rpm: number): number {
  return (2 * Math.PI * radiusMm * rpm) / 60;
}

/** Degrees turned: 6° a second for each rpm. */
export function degreesTurned(rpm: number, seconds: number): number {
  return 6 * rpm * seconds;
}

/** Rpm that turns `degrees` in `seconds`; `Infinity` in no time. */
export function rpmFor(degrees: number, seconds: number): number {
  return degrees / (6 * seconds);
}

/** Blur in delivered pixels of something that moves across the picture during one exposure: v·t·px/mm. */
export function blurPx(speedMmS: number, timeS: number, pxPerMm: number): number {
  return speedMmS * timeS * pxPerMm;
}

/** Longest exposure in s for a blur of `limitPx`; `Infinity` when nothing moves. */
export function timeForBlurS(speedMmS: number, pxPerMm: number, limitPx: number): number {
  return limitPx / (speedMmS * pxPerMm);
}
