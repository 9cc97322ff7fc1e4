/** One file decoded and measured: what rules read as `Decoded`. */
import { statSync } from 'node:fs';
import type { Decoded } from '../../core/decoded.ts';
import type { Ffmpeg } from './ffmpeg.ts';
import { measurePicture } from './picture.ts';
import { readPackets } from './packets.ts';
import { measureSound } from './sound.ts';

/** Longer or larger files are no takes and no films of this kind: what is in them is not looked at. */
const longestS = 30 * 60;
const mostBytes = 60e9;
/** Each of the runs over one file is given up after so long. */
const mostS = 20 * 60;
/** Packets of half an hour at 240 frames and 100 pieces of sound a second, a line of 60 characters each. */
const mostPacketList = 40e6;

export interface DecodeOptions {
  readonly signal?: AbortSignal;
  /** Share of the file that has been looked at, 0 to 1. */
  readonly progress?: (share: number) => void;
}

/** Decodes one file by its absolute path; undefined when it was cancelled. */
export async function decode(
  program: Ffmpeg,
  file: string,
  { signal, progress }: DecodeOptions = {},
): Promise<Decoded | undefined> {
  if (statSync(file).size > mostBytes) return { failed: 'it is larger than 60 GB' };
  const limits = { mostS, signal };
  const { packets, ...read } = await readPackets(program, file, { ...limits, mostBytes: mostPacketList });
  if (read.cancelled) return undefined;
  if (packets && packets.durationS > longestS) return { failed: 'it is longer than 30 minutes' };
  const isHeard = packets?.hasSound ?? true;
  const heard = isHeard ? await measureSound(program, file, { ...limits, mostBytes: longestS * 192e3 * 8 * 4 }) : {};
  if (heard.cancelled) return undefined;
  const tell = (frames: number) => progress?.(packets ? Math.min(1, frames / packets.frames) : 1);
  const seen = packets ? await measurePicture(program, file, packets, { ...limits, progress: tell }) : {};
  if (seen.cancelled) return undefined;
  const failed = read.why ?? ('why' in seen ? seen.why : undefined) ?? heard.why;
  return { sound: heard.sound, picture: 'picture' in seen ? seen.picture : undefined, failed };
}
