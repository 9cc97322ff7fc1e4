/** Sound that is played at another speed. */

/** Semitones that a speed change shifts pitch by: 12·log2 of the speed (equal temperament); `-Infinity` at 0. */
export function semitones(playSpeed: number): number {
  return 12 * Math.log2(Math.abs(playSpeed));
}
