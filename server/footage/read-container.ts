/** What the container of a clip says, from few of its bytes: tracks, raster, codec, colour marks, times, clock. */
import {
  BufferSource,
  CustomSource,
  Input,
  type InputAudioTrack,
  type InputVideoTrack,
  MATROSKA,
  MP4,
  QTFF,
  type Source,
  WAVE,
  WEBM,
} from 'mediabunny';
import type { AudioFacts, ClipFacts, VideoFacts } from '../core/footage.ts';
import { type ByteSource, counted, TooMuch } from './byte-source.ts';
import { type CodecWords, codecWords } from './codec-words.ts';
import { type IsoIndex, type IsoTrack, readIsoIndex } from './iso-index.ts';
import { packetSteps } from './packet-steps.ts';
import { type Steps, stepsOf } from './steps.ts';

export interface ContainerRead {
  readonly facts?: ClipFacts;
  /** Why there are none, in plain words. */
  readonly why?: string;
  readonly bytesRead: number;
}

/** A clip with more frames is not looked into by the library, which makes an object of each. */
const mostFramesListed = 300_000;

/** Reads no more than it must; never throws for what is in the file, and says in plain words what is wrong with it. */
export async function readContainer(source: ByteSource): Promise<ContainerRead> {
  const from = counted(source);
  try {
    const index = await readIsoIndex(from);
    const fault = index && faultOf(index);
    if (fault) return { why: fault, bytesRead: from.bytesRead };
    const read = await readTracks(from, index);
    return { ...(typeof read === 'string' ? { why: read } : { facts: read }), bytesRead: from.bytesRead };
  } catch (error) {
    const why = error instanceof TooMuch ? 'its index is larger than that of any clip' : 'its index makes no sense';
    return { why, bytesRead: from.bytesRead };
  }
}

function faultOf({ indexAt, isCut, tracks }: IsoIndex): string | undefined {
  if (indexAt === 'none') return isCut ? 'it ends before its index does' : 'it has no index';
  if (isCut) return 'it ends before the picture does';
  return tracks.length === 0 ? 'its index names no picture and no sound' : undefined;
}

async function readTracks(source: ByteSource, index: IsoIndex | undefined): Promise<ClipFacts | string> {
  const input = new Input({ formats: [MP4, QTFF, MATROSKA, WEBM, WAVE], source: librarySource(source, index) });
  try {
    if (!(await input.canRead())) return 'it is neither MP4, MOV, WebM, MKV nor WAV';
    const [video] = await input.getVideoTracks();
    const audio = await input.getAudioTracks();
    if (!video && audio.length === 0) return 'it holds neither picture nor sound';
    const sounds = await Promise.all(audio.map((track) => audioFacts(track, isoTrack(index, track.id))));
    const picture = video && (await videoFacts(video, isoTrack(index, video.id), source.size));
    const durationS = Math.max(picture?.durationS ?? 0, ...(picture ? [] : sounds.map((sound) => sound.durationS)));
    if (!(durationS > 0)) return 'it says of nothing how long it is';
    return {
      bytes: source.size,
      container: containerNames[(await input.getFormat()).name] ?? (await input.getFormat()).name,
      durationS,
      indexAt: index?.indexAt ?? 'start',
      ...(await clockOf(input, index)),
      ...(picture && { video: picture.facts }),
      audio: sounds,
    };
  } finally {
    input.dispose();
  }
}

const containerNames: Readonly<Record<string, string>> = {
  'QuickTime File Format': 'MOV',
  Matroska: 'MKV',
  WAVE: 'WAV',
};

/** Codecs of which the first picture says what the index does not. */
const namedByPicture = new Set(['av01', 'vp09']);

/** The library passes over media by reading it where there is little: it is given the index alone where that is enough. */
function librarySource(source: ByteSource, index: IsoIndex | undefined): Source {
  if (index && !index.tracks.some(({ entry }) => namedByPicture.has(entry))) return new BufferSource(index.alone);
  return new CustomSource({
    getSize: () => source.size,
    read: (start, end) => source.read(start, end),
    maxCacheSize: 4 * 1024 * 1024,
    prefetchProfile: 'none',
    // It belongs to a read that has failed already.
    handleUnhandledError: () => undefined,
  });
}

function isoTrack(index: IsoIndex | undefined, id: number): IsoTrack | undefined {
  return index?.tracks.find((track) => track.id === id);
}

// -- picture ---------------------------------------------------------------------------------------------------------

async function videoFacts(
  track: InputVideoTrack,
  iso: IsoTrack | undefined,
  bytes: number,
): Promise<{ facts: VideoFacts; durationS: number } | undefined> {
  const steps = iso ? stepsOf(iso.steps, iso.offsets, iso.timescale) : await packetSteps(track);
  if (!steps) return undefined;
  const durationS = iso?.durationS ?? (await track.getDurationFromMetadata()) ?? steps.frames * steps.usualStepS;
  const config = steps.frames <= mostFramesListed ? await configOf(track) : undefined;
  const rotationDeg = await track.getRotation();
  const facts: VideoFacts = {
    ...(await wordsOf(track, config)),
    raster: turned(await track.getCodedWidth(), await track.getCodedHeight(), rotationDeg),
    rotationDeg,
    ...pixelAspect(await track.getPixelAspectRatio()),
    ...wholeClip(steps, durationS),
    colour: colourOf(config?.colorSpace ?? {}),
    ...(iso?.isInterlaced !== undefined && { interlaced: iso.isInterlaced }),
    bitrate: Math.round((await track.getAverageBitrate()) ?? (bytes * 8) / durationS),
  };
  return { facts, durationS };
}

async function configOf(track: InputVideoTrack): Promise<VideoDecoderConfig | undefined> {
  return (await track.getDecoderConfig().catch(() => null)) ?? undefined;
}

async function wordsOf(track: InputVideoTrack, config: VideoDecoderConfig | undefined): Promise<CodecWords> {
  const internal = await track.getInternalCodecId();
  const name = config?.codec ?? (typeof internal === 'string' ? internal.trim() : String(internal ?? 'unknown'));
  const record = config?.description;
  return codecWords(name, record instanceof Uint8Array ? record : undefined);
}

/** Where only the first packets were looked at, the rest is as they are. */
function wholeClip(steps: Steps & { readonly isPart?: boolean }, durationS: number): Omit<Steps, never> {
  const { frames, rate, smallestStepS, largestStepS, usualStepS, unevenFrames, isPart } = steps;
  const all = isPart ? Math.max(frames, Math.round(durationS * rate)) : frames;
  return { frames: all, rate, smallestStepS, largestStepS, usualStepS, unevenFrames };
}

function turned(width: number, height: number, deg: number): { width: number; height: number } {
  return deg % 180 === 0 ? { width, height } : { width: height, height: width };
}

function pixelAspect({ num, den }: { num: number; den: number }): { pixelAspect?: number } {
  return num === den || !(num > 0 && den > 0) ? {} : { pixelAspect: num / den };
}

function colourOf({ primaries, transfer, matrix, fullRange }: VideoColorSpaceInit): VideoFacts['colour'] {
  return {
    ...(primaries && { primaries }),
    ...(transfer && { transfer }),
    ...(matrix && { matrix }),
    ...(typeof fullRange === 'boolean' && { range: fullRange ? ('full' as const) : ('limited' as const) }),
  };
}

// -- sound and clock -------------------------------------------------------------------------------------------------

async function audioFacts(track: InputAudioTrack, iso: IsoTrack | undefined): Promise<AudioFacts> {
  const internal = await track.getInternalCodecId();
  return {
    codec: (await track.getCodec()) ?? (typeof internal === 'string' ? internal.trim() : 'unknown'),
    channels: await track.getNumberOfChannels(),
    sampleRateHz: await track.getSampleRate(),
    durationS: iso?.durationS ?? (await track.getDurationFromMetadata()) ?? 0,
  };
}

/** Tags in which the hour of the place is written with its offset from UTC. */
const placeClocks = ['com.apple.quicktime.creationdate', '©day', 'date'];

async function clockOf(
  input: Input,
  index: IsoIndex | undefined,
): Promise<Pick<ClipFacts, 'recordedAtMs' | 'clockIsLocal'>> {
  const tags = await input.getMetadataTags();
  for (const key of placeClocks) {
    const written = tags.raw?.[key];
    const ms = typeof written === 'string' ? placeClock(written) : undefined;
    if (ms !== undefined) return { recordedAtMs: ms, clockIsLocal: true };
  }
  const ms = index?.createdMs ?? tags.date?.getTime();
  return ms === undefined || !isSet(ms) ? {} : { recordedAtMs: ms };
}

/** `2026-12-02T14:20:05+0100` as if it were UTC, since the hour of the place is what a sheet speaks of. */
function placeClock(written: string): number | undefined {
  const [, time] = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d)(?:\.\d+)?[+-]\d\d:?\d\d$/.exec(written) ?? [];
  const ms = time === undefined ? NaN : Date.parse(`${time}Z`);
  return Number.isNaN(ms) || !isSet(ms) ? undefined : ms;
}

/** A clock that nobody has set starts at one of these years. */
function isSet(ms: number): boolean {
  const year = new Date(ms).getUTCFullYear();
  return year > 2000 && year < 2100;
}
