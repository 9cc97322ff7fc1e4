/** Code values for tones: how many steps a stop has. */

/** BT.709 signal of linear light, both 0 to 1: 1.099·L^0.45 − 0.099, and 4.5·L below 0.018 (ITU-R BT.709-6). */
export function bt709Signal(linear: number): number {
  return linear < 0.018 ? 4.5 * linear : 1.099 * linear ** 0.45 - 0.099;
}

/** Linear light of a BT.709 signal, both 0 to 1: the inverse of the curve above (ITU-R BT.709-6). */
export function bt709Linear(signal: number): number {
  return signal < 4.5 * 0.018 ? signal / 4.5 : ((signal + 0.099) / 1.099) ** (1 / 0.45);
}

/** Codes from black to white in narrow range: 219 at 8 bits, 876 at 10 (ITU-R BT.709-6). */
export function codeRange(bits: number): number {
  return 219 * 2 ** (bits - 8);
}

/** Codes in the stop that begins `fromStops` above mid-grey (18 %), BT.709 curve: 41 at 8 bits from 0, 22 from −2. */
export function bt709CodesInStop(fromStops: number, bits: number): number {
  const low = 0.18 * 2 ** fromStops;
  return (bt709Signal(2 * low) - bt709Signal(low)) * codeRange(bits);
}

/** Codes in each stop of a log curve that spreads `stops` stops evenly, 14 unless known (common practice, no source). */
export function logCodesInStop(bits: number, stops = 14): number {
  return codeRange(bits) / stops;
}
