/** Footage that nobody filmed: clips as a test says them, the rest of each as a sound clip has it. */
import type { Decoded, PictureMeasured, SoundMeasured } from '../../server/core/decoded.ts';
import type { ClipFacts, ClipState, Footage, VideoFacts } from '../../server/core/footage.ts';

/** By path: what of a clip is not as usual (`video: null` for sound alone), or why nothing is known of it. Masters stand below `masters`. */
export type SaidClips = Readonly<Record<string, SaidClip>> & {
  readonly masters?: Readonly<Record<string, SaidClip>>;
  readonly decoder?: Footage['decoder'];
};
export type SaidClip =
  | 'pending'
  | 'missing'
  | 'outside'
  | 'empty'
  | 'growing'
  | 'not-a-file'
  | 'too-many'
  | { readonly unreadable: string }
  | (Partial<Omit<ClipFacts, 'video'>> & {
      readonly video?: Partial<VideoFacts> | null;
      readonly decoded?: SaidDecoded;
    });
/** What of sound and picture is not as usual; sound is there where something is said of it. */
export interface SaidDecoded {
  readonly picture?: Partial<PictureMeasured>;
  readonly sound?: Partial<SoundMeasured>;
  readonly failed?: string;
}

const video: VideoFacts = {
  codec: 'h265',
  bits: 10,
  chroma: '4:2:2',
  raster: { width: 3840, height: 2160 },
  rotationDeg: 0,
  frames: 325,
  rate: 25,
  smallestStepS: 0.04,
  largestStepS: 0.04,
  usualStepS: 0.04,
  unevenFrames: 0,
  colour: { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', range: 'limited' },
};

/** A clip as the base spec plans it: 13 s at 25 frames a second. */
const clip: ClipFacts = { bytes: 160_000_000, container: 'MP4', durationS: 13, indexAt: 'end', video, audio: [] };

/** A master as the base spec plans it: 10 s at 25 frames a second, without sound. */
const master: ClipFacts = {
  ...clip,
  bytes: 20_000_000,
  durationS: 10,
  indexAt: 'start',
  video: {
    ...video,
    codec: 'h264',
    profile: 'high',
    level: '4',
    bits: 8,
    chroma: '4:2:0',
    raster: { width: 1920, height: 1080 },
    frames: 250,
  },
};

const noFlashes = { inOneSecond: 0, fromFrame: 0, areaShare: 0, lastsFrames: 0 };

function picture({ video, durationS }: ClipFacts): PictureMeasured {
  const { rate, frames, raster } = video!;
  return {
    fps: rate,
    frames,
    raster,
    repeats: { single: [], still: [] },
    jumps: [],
    black: { start: 0, end: 0 },
    flashes: { general: noFlashes, red: noFlashes },
    light: Array.from({ length: Math.ceil(durationS * 2) }, () => [0.2, 0.2, 0.2] as const),
    bitrate: { meanBps: 15e6, mostBps: 18e6 },
    endCodes: { top: 0.001, bottom: 0 },
  };
}

const sound: SoundMeasured = {
  channels: 2,
  sampleRateHz: 48000,
  durationS: 13,
  integratedLufs: -23,
  rangeLu: 5,
  momentaryLufs: -20,
  shortTermLufs: -21,
  truePeakDbtp: -6,
  clips: 0,
  clipsAtS: [],
  halfSecondsDb: Array.from({ length: 26 }, () => -24),
  envelope: '',
};

/** Clips and masters as said, each said thing beside what a sound one has. */
export function footageOf(said: SaidClips): Footage {
  const { masters = {}, decoder, ...clips } = said;
  const state = (one: SaidClip | undefined, usual: ClipFacts): ClipState => {
    if (one === undefined) return { kind: 'missing' };
    if (typeof one === 'string') return { kind: one };
    if ('unreadable' in one) return { kind: 'unreadable', why: one.unreadable };
    const facts = Object.fromEntries(Object.entries(one).filter(([key]) => key !== 'decoded'));
    const video = one.video === null ? undefined : { ...usual.video!, ...one.video };
    return { kind: 'facts', facts: { ...usual, ...facts, video } as ClipFacts };
  };
  const decodedOf = (one: SaidClip | undefined, usual: ClipFacts): Decoded | undefined => {
    if (typeof one !== 'object' || 'unreadable' in one || !one.decoded) return undefined;
    const found = state(one, usual);
    const { failed } = one.decoded;
    return {
      ...(found.kind === 'facts' && { picture: { ...picture(found.facts), ...one.decoded.picture } }),
      ...(one.decoded.sound && { sound: { ...sound, ...one.decoded.sound } }),
      ...(failed !== undefined && { failed }),
    };
  };
  // Told once, as a store does: rules keep what they reckon from it.
  const known = new Map<string, Decoded | undefined>();
  const of = (path: string) => (clips as Record<string, SaidClip>)[path];
  return {
    entries: () =>
      Object.keys(clips)
        .sort()
        .map((path) => ({ path, bytes: clip.bytes, changedMs: 0 })),
    clip: (path) => state(of(path), clip),
    master: (path) => state(masters[path], master),
    decoded: (kind, path) => {
      const key = `${kind} ${path}`;
      if (!known.has(key))
        known.set(key, kind === 'clip' ? decodedOf(of(path), clip) : decodedOf(masters[path], master));
      return known.get(key);
    },
    decoder: decoder ?? 'ready',
  };
}
