/** Sound with speed and distance. */

/** Semitones that a speed change shifts pitch by: 12·log2 of the speed (equal temperament); `-Infinity` at 0. */
export function semitones(playSpeed: number): number {
  return 12 * Math.log2(Math.abs(playSpeed));
}

/** Level change in dB from one microphone distance to another, 20·log10(from ÷ to): −6 for twice as far. */
export function distanceDb(fromMm: number, toMm: number): number {
  return 20 * Math.log10(fromMm / toMm);
}
