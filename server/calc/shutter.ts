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

/** Stops from `from` to `to`, log2(to ÷ from); negative is less light. `undefined` unless both are above 0. */
export function stopsBetween(from: number, to: number): number | undefined {
  return from > 0 && to > 0 ? Math.log2(to / from) : undefined;
}

/** Two settings are the same mark when they lie within `stops` (a third-stop mark is up to 0.1 off its exact value). */
export function sameMark(a: number, b: number, stops = 0.1): boolean {
  const apart = stopsBetween(a, b);
  return apart !== undefined && Math.abs(apart) <= stops;
}

/**
 * Marked shutter times in thirds of a stop as "1 over": 50 is 1/50 s (ISO 516, from memory).
 * The exact thirds are 2^(n/3); marks are rounded for reading.
 */
export const markedShutters: readonly number[] = [
  2, 2.5, 3, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000,
  1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400, 8000,
];

/** The exact third of a stop that a mark stands for, in s: 1/60 is 2^(−18/3) = 1/64, 1/50 is 1/50.8. */
export function exactShutterS(markedS: number): number {
  return markedS > 0 ? 2 ** (Math.round(3 * Math.log2(markedS)) / 3) : 0;
}

/** Marked time in s nearest in stops to `timeS`; of the stated list of "1 over" values when given. 0 for a time of 0. */
export function nearestMarkedShutterS(timeS: number, oneOver: readonly number[] = markedShutters): number {
  if (!(timeS > 0)) return 0;
  let best = timeS;
  let bestStops = Infinity;
  for (const mark of oneOver) {
    const stops = Math.abs(Math.log2(timeS * mark));
    if (stops < bestStops) [best, bestStops] = [1 / mark, stops];
  }
  return best;
}
