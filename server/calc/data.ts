/** Data: rates, files, cards and energy. Decimal prefixes (SI): 1 GB is 10⁹ bytes. */
import type { Chroma } from './codec.ts';

/** Samples for each pixel: 3, 2 and 1.5 (definitions of 4:4:4, 4:2:2 and 4:2:0, ITU-R BT.2100-3). */
export function samplesPerPixel(chroma: Chroma): number {
  return { '4:4:4': 3, '4:2:2': 2, '4:2:0': 1.5 }[chroma];
}

/** Bit/s of an unpacked picture: width × height × rate × bits × samples for each pixel. */
export function rawBps(widthPx: number, heightPx: number, fps: number, bits: number, chroma: Chroma): number {
  return widthPx * heightPx * fps * bits * samplesPerPixel(chroma);
}

/** Bits spent on each pixel, bitrate ÷ (w·h·rate). */
export function bitsPerPixel(bitrateBps: number, widthPx: number, heightPx: number, fps: number): number {
  return bitrateBps / (widthPx * heightPx * fps);
}

/** Sides that are odd where the chroma needs even ones: 4:2:0 both, 4:2:2 the width, 4:4:4 none (BT.709, BT.2020). */
export function oddSides(widthPx: number, heightPx: number, chroma: Chroma): ('width' | 'height')[] {
  const odd: ('width' | 'height')[] = [];
  if (chroma !== '4:4:4' && widthPx % 2 !== 0) odd.push('width');
  if (chroma === '4:2:0' && heightPx % 2 !== 0) odd.push('height');
  return odd;
}

/** The greatest even whole number not above a size in pixels: 1606.7 and 1607 become 1606. */
export function evenBelow(px: number): number {
  return 2 * Math.floor(px / 2);
}

/** Bytes of a stream: bit/s × s ÷ 8. */
export function streamBytes(bitrateBps: number, seconds: number): number {
  return (bitrateBps * seconds) / 8;
}

/** Bit/s of the picture at which a file of `seconds` with its sound just meets a cap in bytes; 0 when sound alone is over. */
export function bitrateForFileBps(capBytes: number, seconds: number, soundBps: number): number {
  return Math.max(0, (capBytes * 8) / seconds - soundBps);
}

/**
 * Bytes of the takes of a shot: bit/s ÷ 8 × (record + start and stop 2 s) × takes × 1.02 for the container (both
 * allowances common practice, no source).
 */
export function takesBytes(bitrateBps: number, recordS: number, takes: number): number {
  return streamBytes(bitrateBps, recordS + 2) * takes * 1.02;
}

/** Energy in Wh that `watts` use in `hours`. */
export function energyWh(watts: number, hours: number): number {
  return watts * hours;
}
