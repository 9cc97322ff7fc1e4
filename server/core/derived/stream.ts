/** A deliverable as a coded stream, and numbers as its rules say them. */
import {
  type Chroma,
  type CodecProfile,
  isProfileOf,
  type LevelledCodec,
  levelNames,
  profileFor,
  type Stream,
} from '../../calc/codec.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Deliverable } from '../film.ts';
import { num } from '../say.ts';

/** Undefined for codecs without levels here, or where raster, rate or a profile that holds it is not known. */
export function streamOf(deliverable: Deliverable): Stream | undefined {
  const { codec, raster, rate, bitrate, tier } = deliverable;
  const profile = levelled(codec) && profileOf(deliverable, codec);
  if (!levelled(codec) || !profile || !raster || !rate) return undefined;
  return {
    codec,
    profile,
    tier,
    // An odd side is a finding of its own; what can be coded is even.
    widthPx: raster.value.width - (raster.value.width % 2),
    heightPx: raster.value.height - (raster.value.height % 2),
    fps: rateFps(rate.value),
    bitrateBps: bitrate?.value,
  };
}

export function levelled(codec: string): codec is LevelledCodec {
  return codec === 'h264' || codec === 'h265';
}

/** The profile that is said, where the codec has it, else the ordinary one for bits and chroma. */
function profileOf({ profile, bits, chroma }: Deliverable, codec: LevelledCodec): CodecProfile | undefined {
  if (!profile) return profileFor(codec, bits, chroma as Chroma);
  const said = profile.value as CodecProfile;
  return isProfileOf(codec, said) ? said : undefined;
}

export const codecNames: Readonly<Record<string, string>> = { h264: 'H.264', h265: 'HEVC', av1: 'AV1', vp9: 'VP9' };

export const profileNames: Readonly<Record<string, string>> = {
  baseline: 'Baseline',
  main: 'Main',
  high: 'High',
  'main-10': 'Main 10',
  'high-10': 'High 10',
  'high-4-2-2': 'High 4:2:2',
  'main-4-2-2-10': 'Main 4:2:2 10',
};

/** `H.264 High`, `HEVC Main tier High`. */
export function streamName({ codec, profile, tier }: Stream): string {
  const name = `${codecNames[codec]} ${profileNames[profile]}`;
  return codec === 'h265' && tier === 'high' ? `${name}, High tier` : name;
}

/** The level as the tables name it: `5.0` is 5. */
export function levelName(written: string): string {
  return written.replace(/\.0$/, '');
}

export function isLevel(codec: LevelledCodec, name: string): boolean {
  return levelNames(codec).includes(name);
}

/** A bit rate in tenths of a megabit a second that is not above the one given: `62.5 Mb/s`. */
export function bitRateBelow(bitsPerSecond: number): string {
  return bitsPerSecond >= 1e6
    ? `${num(Math.floor(bitsPerSecond / 1e5 + 1e-6) / 10)} Mb/s`
    : `${Math.floor(bitsPerSecond / 1e3 + 1e-6)} kb/s`;
}

/** One that is not below the one given. */
export function bitRateAbove(bitsPerSecond: number): string {
  return bitsPerSecond >= 1e6
    ? `${num(Math.ceil(bitsPerSecond / 1e5 - 1e-6) / 10)} Mb/s`
    : `${Math.ceil(bitsPerSecond / 1e3 - 1e-6)} kb/s`;
}

/** Does anyone watch it on ordinary players: on the web or in an app? */
export function isForPlayers({ shownOn }: Deliverable): boolean {
  return shownOn.includes('web') || shownOn.includes('social');
}
