/** Shutter: angle against time, the angle that counts after a speed change, and marked shutter times. */

/** Exposure time in s of a shutter angle at a frame rate: t = angle ÷ 360 ÷ rate. */
export function shutterS(angleDeg: number, fps: number): number {
  return angleDeg / 360 / fps;
}

/** Shutter angle in degrees of an exposure time: 360 × t × rate. Above 360 no camera can: longer than the frame. */
export function shutterAngleDeg(timeS: number, fps: number): number {
  return 360 * timeS * fps;
}

/**
 * k: recorded frames stepped over per film frame, playback speed × recorded rate ÷ timeline rate (1 = real time).
 * Below 1 frames are held; a whole number is even.
 */
export function framesPerStep(playSpeed: number, captureFps: number, timelineFps: number): number {
  return (playSpeed * captureFps) / timelineFps;
}

/** Angle as the viewer sees it, in degrees: 360 × t × recorded rate ÷ max(1, k). 1/100 s at 50 in a 25 film is 90°. */
export function effectiveAngleDeg(timeS: number, captureFps: number, k: number): number {
  return shutterAngleDeg(timeS, captureFps) / Math.max(1, k);
}

/** Exposure time in s that gives `angleDeg` as the viewer sees it. */
export function shutterForEffectiveAngleS(angleDeg: number, captureFps: number, k: number): number {
  return shutterS(angleDeg, captureFps) * Math.max(1, k);
}

/**
 * Marked shutter times in thirds of a stop as "1 over": 50 is 1/50 s (ISO 516, from memory).
 * The exact thirds are 2^(n/3); marks are rounded for reading.
 */
export const markedShutters: readonly number[] = [
  2, 2.5, 3, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000,
  1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400, 8000,
];
