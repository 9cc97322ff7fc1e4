/** Codec levels: what a level allows and which is the lowest that holds a stream; bits for each pixel; raw data rates. */
import { h264Levels, hevcLevels } from './codec-levels.ts';

export type LevelledCodec = 'h264' | 'h265';
export type CodecProfile = 'baseline' | 'main' | 'high' | 'main-10' | 'high-10' | 'high-4-2-2' | 'main-4-2-2-10';
export type CodecTier = 'main' | 'high';
export type Chroma = '4:2:0' | '4:2:2' | '4:4:4';

export interface Stream {
  readonly codec: LevelledCodec;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fps: number;
  readonly profile: CodecProfile;
  /** HEVC only. */
  readonly tier: CodecTier;
  /** Bits a second of the picture; without it only size and rate are judged. */
  readonly bitrateBps?: number;
}

/** Bits a second that MaxBR counts in, by profile: H.264 table A-2 (VCL); HEVC CpbVclFactor in table A.8's profiles. */
const bitrateFactors: Record<LevelledCodec, Partial<Record<CodecProfile, number>>> = {
  h264: { baseline: 1000, main: 1000, high: 1250, 'high-10': 3000, 'high-4-2-2': 4000 },
  h265: { main: 1000, 'main-10': 1000, 'main-4-2-2-10': 1667 },
};

/** Whether a profile belongs to a codec. */
export function isProfileOf(codec: LevelledCodec, profile: CodecProfile): boolean {
  return bitrateFactors[codec][profile] !== undefined;
}

/**
 * The ordinary profile for bits and chroma; `undefined` where none of the named ones holds them. H.264 at 8 bits 4:2:0
 * is High: every player of Main from the last decade takes it (common practice, no source).
 */
export function profileFor(codec: LevelledCodec, bits: number, chroma: Chroma): CodecProfile | undefined {
  if (bits > 10 || chroma === '4:4:4') return undefined;
  if (chroma === '4:2:2') return codec === 'h264' ? 'high-4-2-2' : 'main-4-2-2-10';
  if (bits > 8) return codec === 'h264' ? 'high-10' : 'main-10';
  return codec === 'h264' ? 'high' : 'main';
}

/** What of a level a stream breaks, with the number found and the limit. */
export interface LevelBreach {
  /** side: a side is too long · picture: samples in a picture · rate: samples a second · bitrate · no-tier: no High tier. */
  readonly kind: 'side' | 'picture' | 'rate' | 'bitrate' | 'no-tier' | 'no-level';
  readonly found: number;
  readonly limit: number;
  readonly unit: 'macroblocks' | 'luma samples' | 'px' | 'bit/s' | '';
}

interface Limits {
  readonly name: string;
  readonly picture: number;
  readonly perSecond: number;
  readonly maxBr: number | undefined;
}

function levels(codec: LevelledCodec, tier: CodecTier): readonly Limits[] {
  if (codec === 'h264') {
    return h264Levels.map(({ name, maxFs, maxMbps, maxBr }) => ({ name, picture: maxFs, perSecond: maxMbps, maxBr }));
  }
  return hevcLevels.map((level) => ({
    name: level.name,
    picture: level.maxLumaPs,
    perSecond: level.maxLumaSr,
    maxBr: tier === 'main' ? level.maxBrMain : level.maxBrHigh,
  }));
}

/** Names of the levels of a codec, lowest first; H.264 from 1, HEVC from 3. */
export function levelNames(codec: LevelledCodec): string[] {
  return levels(codec, 'main').map(({ name }) => name);
}

/** Bit/s that a level allows a profile and tier (VCL); `undefined` when there is no such level, profile or tier. */
export function levelBitrateBps(stream: Omit<Stream, 'bitrateBps'>, levelName: string): number | undefined {
  const level = levels(stream.codec, stream.tier).find(({ name }) => name === levelName);
  const factor = bitrateFactors[stream.codec][stream.profile];
  return level?.maxBr === undefined || factor === undefined ? undefined : level.maxBr * factor;
}

/** Units that a codec counts in: macroblocks of 16 × 16, or luma samples of sides padded to 8. */
function counted(stream: Stream): { width: number; height: number; unit: 'macroblocks' | 'luma samples' } {
  const { codec, widthPx, heightPx } = stream;
  if (codec === 'h264') {
    return { width: Math.ceil(widthPx / 16), height: Math.ceil(heightPx / 16), unit: 'macroblocks' };
  }
  return { width: Math.ceil(widthPx / 8) * 8, height: Math.ceil(heightPx / 8) * 8, unit: 'luma samples' };
}

/**
 * The first limit of a level that a stream breaks, or `undefined` when the level holds it (Rec. ITU-T H.264 A.3 and
 * table A-1; H.265 A.4, tables A.8 and A.9): samples in a picture, each side at most √(8 × that), samples a second,
 * bitrate with the profile's factor and the tier.
 */
export function levelBreach(stream: Stream, levelName: string): LevelBreach | undefined {
  const level = levels(stream.codec, stream.tier).find(({ name }) => name === levelName);
  if (!level) return { kind: 'no-level', found: 0, limit: 0, unit: '' };
  const { width, height, unit } = counted(stream);
  const size = width * height;
  if (size > level.picture) return { kind: 'picture', found: size, limit: level.picture, unit };
  const longest = Math.floor(Math.sqrt(8 * level.picture));
  if (Math.max(width, height) > longest) {
    return { kind: 'side', found: Math.max(width, height), limit: longest, unit: unit === 'macroblocks' ? unit : 'px' };
  }
  const perSecond = size * stream.fps;
  if (perSecond > level.perSecond * (1 + 1e-9)) {
    return { kind: 'rate', found: perSecond, limit: level.perSecond, unit };
  }
  if (stream.bitrateBps === undefined) return undefined;
  const limit = levelBitrateBps(stream, levelName);
  if (limit === undefined) return { kind: 'no-tier', found: stream.bitrateBps, limit: 0, unit: 'bit/s' };
  if (stream.bitrateBps <= limit) return undefined;
  return { kind: 'bitrate', found: stream.bitrateBps, limit, unit: 'bit/s' };
}

export interface LevelFound {
  readonly name: string;
  /** What the level below breaks; absent for the lowest level. */
  readonly below?: LevelBreach;
}

/** The lowest level that holds a stream, with what the one below breaks; `undefined` when none does. */
export function lowestLevel(stream: Stream): LevelFound | undefined {
  let below: LevelBreach | undefined;
  for (const name of levelNames(stream.codec)) {
    const breach = levelBreach(stream, name);
    if (!breach) return below ? { name, below } : { name };
    below = breach;
  }
  return undefined;
}
