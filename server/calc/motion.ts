/** Movement: speeds, blur in one exposure, steps from frame to frame. Lengths in mm, times in s. */

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

/** Movement from one film frame to the next in pixels: speed in real mm/s × playback speed × px/mm ÷ film rate. */
export function stepPx(speedMmS: number, pxPerMm: number, fps: number, playSpeed = 1): number {
  return (speedMmS * playSpeed * pxPerMm) / fps;
}

/**
 * Pan guide: the greatest step as a share of the picture's width per frame. A full width in 7 s at 24 frames a second
 * is 1 ÷ 168 = 0.595 % ("Motion Picture", chapter 4), written 0.6 %.
 */
export const panStepShare = 0.006;

/** Step at the picture's left and right edge while zooming evenly, a share of the width: ½ × |change| ÷ (seconds × rate) ÷ zoom. */
export function zoomStepShare(fromZoom: number, toZoom: number, seconds: number, fps: number): number {
  const smallest = Math.min(fromZoom, toZoom);
  return (0.5 * Math.abs(toZoom - fromZoom)) / (seconds * fps) / smallest;
}

/** Shortest zoom in s whose edge keeps to `stepShare` of the width per frame. */
export function secondsForZoom(fromZoom: number, toZoom: number, fps: number, stepShare = panStepShare): number {
  return (0.5 * Math.abs(toZoom - fromZoom)) / (stepShare * fps) / Math.min(fromZoom, toZoom);
}

/** Speed in mm/s after falling freely: √(2·g·h), g = 9.81 m/s². */
export function fallSpeedMmS(heightMm: number): number {
  return Math.sqrt(2 * 9810 * heightMm);
}
