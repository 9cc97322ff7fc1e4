/**
 * Where one recording of a sound lies in another: by how their loudness rises and falls. The correlation of onsets is tried at
 * every lag, coarsely first and then finely at the start and at the end; clocks that run apart show in its first and last part.
 */

/** Values a second of an envelope. */
export const envelopeHz = 200;
/** So many of them make one coarse value. */
const coarse = 10;

/** Steps of an envelope, 1.5 dB each, from −96 dB under full scale. */
const [stepDb, lowestDb, mostSteps] = [1.5, -96, 63];

/** An envelope as text, a letter for each value, so that it can be kept in JSON. */
export function envelopeText(values: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < values.length; at += 4096)
    parts.push(String.fromCharCode(...values.subarray(at, at + 4096).map((value) => 48 + value)));
  return parts.join('');
}

export function envelopeFrom(text: string): Uint8Array {
  return Uint8Array.from({ length: text.length }, (_, at) => text.charCodeAt(at) - 48);
}

/** How high a wave stands at a value: its share of the amplitude of the loudest. */
export function loudnessShare(value: number, loudest: number): number {
  return value === 0 ? 0 : 10 ** (((value - loudest) * stepDb) / 20);
}

/** Energy of each 5 ms of sound that comes in pieces, in steps of 1.5 dB. */
export class EnvelopeMeter {
  readonly #channels: number;
  readonly #rate: number;
  readonly #values: number[] = [];
  #sum = 0;
  #frame = 0;
  #start = 0;
  #end: number;

  constructor(sampleRateHz: number, channels: number) {
    this.#rate = sampleRateHz;
    this.#channels = channels;
    this.#end = Math.round(sampleRateHz / envelopeHz);
  }

  push(samples: Float32Array): void {
    for (let at = 0; at + this.#channels <= samples.length; at += this.#channels) {
      let mixed = 0;
      for (let channel = 0; channel < this.#channels; channel++) mixed += samples[at + channel]!;
      mixed /= this.#channels;
      this.#sum += mixed * mixed;
      this.#frame++;
      if (this.#frame === this.#end) this.#endValue();
    }
  }

  #endValue(): void {
    const db = 10 * Math.log10(this.#sum / (this.#end - this.#start) + 1e-12);
    this.#values.push(Math.max(0, Math.min(mostSteps, Math.round((db - lowestDb) / stepDb))));
    this.#sum = 0;
    this.#start = this.#end;
    this.#end = Math.round(((this.#values.length + 1) * this.#rate) / envelopeHz);
  }

  read(): Uint8Array {
    return Uint8Array.from(this.#values);
  }
}

export interface SoundOffset {
  /** Where the first sample of `other` lies in `one`, in seconds of `one`. */
  readonly offsetS: number;
  /** How much later the end of `other` lies than its start says, in seconds; undefined where it is too short to tell. */
  readonly driftS?: number;
  /** Correlation there, 0 to 1. */
  readonly alike: number;
}

/** Correlation under which two sounds are not taken for recordings of the same. */
const leastAlike = 0.5;
/** So much must overlap, and of this length parts are compared for drift. */
const leastOverlapS = 2;
const partS = 10;

/** Finds `other` in `one`, both envelopes of 200 values a second; undefined where they do not sound alike anywhere. */
export function soundOffset(one: Uint8Array, other: Uint8Array): SoundOffset | undefined {
  const [a, b] = [onsets(one), onsets(other)];
  const rough = roughLag(a, b);
  if (!rough || rough.alike < leastAlike) return undefined;
  const overlap = { from: Math.max(0, -rough.lag), to: Math.min(b.length, a.length - rough.lag) };
  const part = Math.min(partS * envelopeHz, overlap.to - overlap.from);
  // Of clocks that run apart, the start says where it begins.
  const first = lagOfPart(a, b, { from: overlap.from, length: part, near: rough.lag });
  const isLong = overlap.to - overlap.from >= 3 * part;
  const last = isLong ? lagOfPart(a, b, { from: overlap.to - part, length: part, near: rough.lag }) : undefined;
  const isSure = last !== undefined && Math.min(first.alike, last.alike) >= leastAlike;
  const slope = isSure ? (last.lag - first.lag) / (overlap.to - part - overlap.from) : undefined;
  return {
    offsetS: (first.lag - (slope ?? 0) * (overlap.from + part / 2)) / envelopeHz,
    driftS: slope === undefined ? undefined : (slope * b.length) / envelopeHz,
    alike: rough.alike,
  };
}

/** The lag of a part of `b` by itself, near one that is known roughly. */
function lagOfPart(
  a: Float32Array,
  b: Float32Array,
  { from, length, near }: { readonly from: number; readonly length: number; readonly near: number },
): Lag {
  const within = Math.ceil(0.003 * b.length) + 2 * coarse;
  const found = finest(a, b.subarray(from, from + length), from + near, within, length / 2);
  return { lag: found.lag - from, alike: found.alike };
}

/** How much louder each value is than what was just before it, smoothed over 15 ms; falls count as nothing. */
function onsets(envelope: Uint8Array): Float32Array {
  const rises = Float32Array.from(envelope, (value, at) => Math.max(0, value - (envelope[at - 2] ?? value)));
  return rises.map((value, at) => ((rises[at - 1] ?? value) + 2 * value + (rises[at + 1] ?? value)) / 4);
}

interface Lag {
  readonly lag: number;
  readonly alike: number;
}

/** The lag at which both are most alike, looked at in steps of 50 ms: clocks may run apart by as much within a minute. */
function roughLag(a: Float32Array, b: Float32Array): Lag | undefined {
  const [roughA, roughB] = [thinned(a), thinned(b)];
  const shorter = Math.min(roughA.length, roughB.length);
  const least = Math.max(4, Math.min((leastOverlapS * envelopeHz) / coarse, Math.floor(0.8 * shorter)));
  let best: Lag | undefined;
  for (let lag = least - roughB.length; lag <= roughA.length - least; lag++) {
    const alike = correlation(roughA, roughB, lag, least);
    // Of a short overlap chance makes more.
    const overlap = Math.min(roughA.length, roughB.length + lag) - Math.max(0, lag);
    const sure = alike * Math.min(1, overlap / (0.5 * shorter));
    if (!best || sure > best.alike) best = { lag: lag * coarse, alike: sure };
  }
  return best;
}

/** The best lag near another, between values by the parabola through the best and its neighbours. */
function finest(a: Float32Array, b: Float32Array, near: number, within: number, least: number): Lag {
  let best: Lag = { lag: near, alike: -1 };
  for (let lag = near - within; lag <= near + within; lag++) {
    const alike = correlation(a, b, lag, least);
    if (alike > best.alike) best = { lag, alike };
  }
  const before = correlation(a, b, best.lag - 1, least);
  const after = correlation(a, b, best.lag + 1, least);
  const bend = before - 2 * best.alike + after;
  const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
  return { lag: best.lag + shift, alike: best.alike };
}

function thinned(values: Float32Array): Float32Array {
  return Float32Array.from({ length: Math.floor(values.length / coarse) }, (_, index) => {
    let sum = 0;
    for (let at = index * coarse; at < (index + 1) * coarse; at++) sum += values[at]!;
    return sum;
  });
}

/** Pearson's correlation of what overlaps with `b` standing `lag` values into `a`; −1 where less than `least` do. */
function correlation(a: Float32Array, b: Float32Array, lag: number, least: number): number {
  const from = Math.max(0, lag);
  const to = Math.min(a.length, b.length + lag);
  const count = to - from;
  if (count < least) return -1;
  let [sumA, sumB, squareA, squareB, product] = [0, 0, 0, 0, 0];
  for (let at = from; at < to; at++) {
    const x = a[at]!;
    const y = b[at - lag]!;
    sumA += x;
    sumB += y;
    squareA += x * x;
    squareB += y * y;
    product += x * y;
  }
  const spread = Math.sqrt((squareA - (sumA * sumA) / count) * (squareB - (sumB * sumB) / count));
  return spread > 1e-6 ? (product - (sumA * sumB) / count) / spread : -1;
}
