/** Sound of a file, decoded to samples and measured as it comes. */
import { LoudnessMeter } from '../../calc/loudness.ts';
import { LevelMeter } from '../../calc/sound-level.ts';
import { EnvelopeMeter, envelopeText } from '../../calc/sound-offset.ts';
import { TruePeakMeter } from '../../calc/true-peak.ts';
import type { SoundMeasured } from '../../core/decoded.ts';
import { decodeFile, type Ended, type Ffmpeg, type RunLimits } from './ffmpeg.ts';

const output = ['-map', '0:a:0', '-vn', '-sn', '-dn', '-map_metadata', '-1', '-c:a', 'pcm_f32le', '-f', 'wav'];

/** Measures the first sound track; undefined without `why` where there is none. */
export async function measureSound(
  program: Ffmpeg,
  file: string,
  limits: RunLimits,
): Promise<Ended & { readonly sound?: SoundMeasured }> {
  const { meters, ...ended } = await decodedInto(program, file, limits, (head) => new Meters(head));
  const sound = meters?.read();
  if (ended.noTrack) return {};
  if (ended.why !== undefined) return { ...ended, sound };
  return { sound };
}

interface Taker {
  push(samples: Float32Array): void;
}

/** Decodes the first sound track into what its head asks for; `meters` is undefined where no sound came. */
export async function decodedInto<T extends Taker>(
  program: Ffmpeg,
  file: string,
  limits: RunLimits,
  made: (head: WavHead) => T,
): Promise<Ended & { readonly meters: T | undefined }> {
  const reader = new WavReader(made);
  const ended = await decodeFile(program, file, { output }, (chunk) => reader.push(chunk), limits);
  return { ...ended, meters: reader.taker };
}

/** Takes a WAV file of 32-bit floats apart as it comes through a pipe, where the sizes in its head say nothing. */
class WavReader<T extends Taker> {
  taker: T | undefined;
  #rest: Buffer = Buffer.alloc(0);
  #frameBytes = 4;

  constructor(private readonly made: (head: WavHead) => T) {}

  push(chunk: Buffer): void {
    let bytes = this.#rest.length > 0 ? Buffer.concat([this.#rest, chunk]) : chunk;
    if (!this.taker) {
      const head = wavHead(bytes);
      if (!head) {
        this.#rest = bytes;
        return;
      }
      this.taker = this.made(head);
      this.#frameBytes = head.channels * 4;
      bytes = bytes.subarray(head.dataAt);
    }
    const whole = bytes.length - (bytes.length % this.#frameBytes);
    // Copied, so that it starts where floats may.
    if (whole > 0) this.taker.push(new Float32Array(Uint8Array.from(bytes.subarray(0, whole)).buffer));
    this.#rest = bytes.subarray(whole);
  }
}

export interface WavHead {
  readonly channels: number;
  readonly sampleRateHz: number;
  /** Which loudspeakers the channels are for, one bit each; 0 where it is not said. */
  readonly mask: number;
  readonly dataAt: number;
}

function wavHead(bytes: Buffer): WavHead | undefined {
  let head: Omit<WavHead, 'dataAt'> | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const id = bytes.toString('latin1', at, at + 4);
    const size = bytes.readUInt32LE(at + 4);
    if (id === 'data') return head && { ...head, dataAt: at + 8 };
    if (at + 8 + size > bytes.length) return undefined;
    if (id === 'fmt ') {
      const extended = bytes.readUInt16LE(at + 8) === 0xfffe;
      head = {
        channels: bytes.readUInt16LE(at + 10),
        sampleRateHz: bytes.readUInt32LE(at + 12),
        mask: extended ? bytes.readUInt32LE(at + 28) : 0,
      };
    }
    at += 8 + size + (size % 2);
  }
  return undefined;
}

/** Bits of loudspeakers (WAVEFORMATEXTENSIBLE): the low-frequency one, and those at the sides and behind. */
const lowFrequency = 0x8;
const surround = 0x10 | 0x20 | 0x200 | 0x400;

/** Weights of BS.1770-5, Annex 1, table 3: 1.41 for surrounds, 1 for those in front, none for the low frequencies. */
export function channelWeights(channels: number, mask: number): number[] {
  const speakers: number[] = [];
  for (let bit = 1; bit <= 0x20000 && speakers.length < channels; bit *= 2) if (mask & bit) speakers.push(bit);
  return Array.from({ length: channels }, (_, channel) => {
    const speaker = speakers[channel] ?? 0;
    return speaker === lowFrequency ? 0 : speaker & surround ? 1.41 : 1;
  });
}

class Meters {
  readonly channels: number;
  readonly #rate: number;
  readonly #loudness: LoudnessMeter;
  readonly #peak: TruePeakMeter;
  readonly #levels: LevelMeter;
  readonly #envelope: EnvelopeMeter;
  #frames = 0;

  constructor({ channels, sampleRateHz, mask }: WavHead) {
    this.channels = channels;
    this.#rate = sampleRateHz;
    this.#loudness = new LoudnessMeter(sampleRateHz, channelWeights(channels, mask));
    this.#peak = new TruePeakMeter(channels);
    this.#levels = new LevelMeter(sampleRateHz, channels);
    this.#envelope = new EnvelopeMeter(sampleRateHz, channels);
  }

  push(samples: Float32Array): void {
    this.#frames += samples.length / this.channels;
    for (const meter of [this.#loudness, this.#peak, this.#levels, this.#envelope]) meter.push(samples);
  }

  read(): SoundMeasured {
    const loudness = this.#loudness.read();
    return {
      channels: this.channels,
      sampleRateHz: this.#rate,
      durationS: this.#frames / this.#rate,
      integratedLufs: finite(loudness.integratedLufs),
      rangeLu: loudness.rangeLu,
      momentaryLufs: finite(loudness.momentaryLufs),
      shortTermLufs: finite(loudness.shortTermLufs),
      truePeakDbtp: finite(this.#peak.readDbtp()),
      ...this.#levels.read(),
      envelope: envelopeText(this.#envelope.read()),
    };
  }
}

function finite(value: number): number | undefined {
  return Number.isFinite(value) ? value : undefined;
}
