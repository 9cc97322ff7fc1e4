/** The finished file: how long it runs, what sound adds, what a cap leaves for the picture. */
import { bitrateForFileBps, streamBytes } from '../../calc/data.ts';
import { runsS } from './edit.ts';
import type { Deliverable, Film } from '../film.ts';

/** Coded sound where nothing says more: 256 kb/s for two channels, half for one (common practice, no source). */
export function soundBitrateBps({ sound }: Deliverable): number {
  return { stereo: 256_000, mono: 128_000 }[sound] ?? 0;
}

/** Share of a cap that is planned for: the container needs the rest (common practice, no source). */
export const usableShare = 0.99;

/** The highest bitrate of the picture with which the file stays clear of its cap; undefined without cap or length. */
export function bitrateUnderCapBps(deliverable: Deliverable, film: Film): number | undefined {
  const seconds = fileS(deliverable, film);
  const cap = deliverable.largestFile?.value;
  if (!seconds || cap === undefined) return undefined;
  return bitrateForFileBps(cap * usableShare, seconds, soundBitrateBps(deliverable));
}

/** The longer of what is promised and what the cut gives. */
export function fileS(deliverable: Deliverable, film: Film): number | undefined {
  const seconds = Math.max(deliverable.lengthS ?? 0, runsS(deliverable, film) ?? 0);
  return seconds > 0 ? seconds : undefined;
}

/** The file with its sound, without the container; undefined without bitrate or length. */
export function fileBytes(deliverable: Deliverable, film: Film): number | undefined {
  const seconds = fileS(deliverable, film);
  const { bitrate } = deliverable;
  return seconds && bitrate && streamBytes(bitrate.value + soundBitrateBps(deliverable), seconds);
}
