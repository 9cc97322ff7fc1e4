/**
 * Where sounds begin in a recording: how much louder it gets from moment to moment in bands of its pitch (spectral flux), and where
 * within a few milliseconds a sound sets in. After D. P. W. Ellis, "Beat Tracking by Dynamic Programming", J. New Music Research
 * 36(1), 2007, section 3.1.
 */
import { Fourier } from './fourier.ts';

/** Values of `strength` a second. */
export const onsetHz = 250;
/** Values of `level` a second. */
export const levelHz = 1000;

export interface Onsets {
  /** How much louder it gets at each moment; its deviation over all is 1, and its slow swell is taken out. */
  readonly strength: Float32Array;
  /** How loud each millisecond is, deep tones left out: root mean square. */
  readonly level: Float32Array;
}

/** Sound is looked at so finely, and not more. */
const leastRateHz = 11_000;
const windowLength = 256;
/** The moment of a value is where its window is three quarters over: a sound shows as soon as it comes into it. */
const windowLead = 0.75;
const bands = 32;
/** What is so much quieter than the loudest counts as silence. */
const floorDb = 60;

/** Numbers that come one after the other. */
class Row {
  values = new Float32Array(1 << 14);
  length = 0;

  add(value: number): void {
    if (this.length === this.values.length) {
      const larger = new Float32Array(2 * this.length);
      larger.set(this.values);
      this.values = larger;
    }
    this.values[this.length++] = value;
  }
}

/** Takes sound as it comes, all channels as one, at 11 to 22 kHz. */
export class OnsetMeter {
  readonly #every: number;
  readonly #rateHz: number;
  readonly #longest: number;
  readonly #sound = new Row();
  readonly #power = new Row();
  readonly #fourier = new Fourier(windowLength);
  readonly #bandOf: Uint8Array;
  readonly #real = new Float64Array(windowLength);
  readonly #imaginary = new Float64Array(windowLength);
  #most = 1e-12;
  #frames = 0;
  #sum = 0;
  #count = 0;

  /** @param longestS what comes after so long is not looked at */
  constructor(
    sampleRateHz: number,
    private readonly channels: number,
    longestS = Infinity,
  ) {
    this.#every = Math.max(1, Math.floor(sampleRateHz / leastRateHz));
    this.#rateHz = sampleRateHz / this.#every;
    this.#longest = longestS * this.#rateHz;
    this.#bandOf = melBands(this.#rateHz);
  }

  /** @param samples channel by channel in turn */
  push(samples: Float32Array): void {
    const whole = this.#every * this.channels;
    for (const sample of samples) {
      this.#sum += sample;
      if (++this.#count < whole) continue;
      if (this.#sound.length < this.#longest) this.#sound.add(Number.isFinite(this.#sum) ? this.#sum / whole : 0);
      this.#sum = 0;
      this.#count = 0;
    }
    while (this.#startOf(this.#frames + 1) + windowLength <= this.#sound.length) this.#lookAtTwo();
  }

  read(): Onsets {
    while (this.#frames < Math.floor((this.#sound.length / this.#rateHz) * onsetHz)) this.#lookAtTwo();
    const power = this.#power.values.subarray(0, this.#power.length);
    const floors = usualOf(power).map((usual) => usual * aboveUsual + this.#most * 10 ** (-floorDb / 10));
    const sound = this.#sound.values.subarray(0, this.#sound.length);
    return { strength: withoutSwell(smoothed(flux(power, floors))), level: levelsOf(sound, this.#rateHz) };
  }

  #startOf(frame: number): number {
    return Math.round((frame * this.#rateHz) / onsetHz - windowLead * windowLength);
  }

  /** The bands of two moments, from one transform: one goes in as its real and one as its imaginary numbers. */
  #lookAtTwo(): void {
    const [real, imaginary] = [this.#real, this.#imaginary];
    this.#windowInto(real, this.#startOf(this.#frames));
    this.#windowInto(imaginary, this.#startOf(this.#frames + 1));
    this.#fourier.transform(real, imaginary);
    const sums = [new Float64Array(bands).fill(1e-12), new Float64Array(bands).fill(1e-12)] as const;
    for (let bin = 1; bin < windowLength / 2; bin++) {
      const mirrored = windowLength - bin;
      const [re, im] = [real[bin]!, imaginary[bin]!];
      const [re2, im2] = [real[mirrored]!, imaginary[mirrored]!];
      const band = this.#bandOf[bin]!;
      sums[0][band]! += ((re + re2) ** 2 + (im - im2) ** 2) / 4;
      sums[1][band]! += ((im + im2) ** 2 + (re2 - re) ** 2) / 4;
    }
    for (const sum of sums) {
      for (const power of sum) {
        this.#power.add(power);
        if (power > this.#most) this.#most = power;
      }
    }
    this.#frames += 2;
  }

  #windowInto(values: Float64Array, start: number): void {
    const { values: sound, length } = this.#sound;
    for (let at = 0; at < windowLength; at++) {
      const from = start + at;
      values[at] = from >= 0 && from < length ? sound[from]! * hann[at]! : 0;
    }
  }
}

const hann = Float64Array.from(
  { length: windowLength },
  (_, at) => 0.5 - 0.5 * Math.cos((2 * Math.PI * at) / windowLength),
);

/** The band of each bin: equal steps on the mel scale, 2595 lg(1 + f / 700) (O'Shaughnessy 1987). */
function melBands(rateHz: number): Uint8Array {
  const mel = (hz: number) => 2595 * Math.log10(1 + hz / 700);
  const top = mel(rateHz / 2);
  return Uint8Array.from({ length: windowLength / 2 }, (_, bin) =>
    Math.min(bands - 1, Math.floor((bands * mel((bin * rateHz) / windowLength)) / top)),
  );
}

/** What is so little above what a band usually has is taken for noise. */
const aboveUsual = 2;

/** The median of each band, of one moment in eight. */
function usualOf(power: Float32Array): number[] {
  return Array.from({ length: bands }, (_, band) => {
    const some = Float32Array.from(
      { length: Math.floor(power.length / (8 * bands)) },
      (_, at) => power[8 * bands * at + band]!,
    );
    return some.sort()[Math.floor(some.length / 2)] ?? 0;
  });
}

/** How much louder the bands get from one moment to the next, in decibels over their floors; what gets quieter counts as nothing. */
function flux(power: Float32Array, floors: readonly number[]): Float32Array {
  const before = new Float64Array(bands);
  return Float32Array.from({ length: power.length / bands }, (_, frame) => {
    let sum = 0;
    for (let band = 0; band < bands; band++) {
      const db = 10 * Math.log10(power[frame * bands + band]! + floors[band]!);
      if (frame > 0) sum += Math.max(0, db - before[band]!);
      before[band] = db;
    }
    return sum / bands;
  });
}

const smoothS = 0.012;

function smoothed(values: Float32Array): Float32Array {
  const reach = Math.ceil(3 * smoothS * onsetHz);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, at) =>
    Math.exp(-0.5 * ((at - reach) / (smoothS * onsetHz)) ** 2),
  );
  const whole = weights.reduce((sum, one) => sum + one, 0);
  return values.map((_, at) => {
    let sum = 0;
    for (let by = -reach; by <= reach; by++) sum += (values[at + by] ?? 0) * weights[by + reach]!;
    return sum / whole;
  });
}

const swellS = 1.2;

/** Less what it is on average around, and over its deviation. */
function withoutSwell(values: Float32Array): Float32Array {
  const reach = Math.round((swellS * onsetHz) / 2);
  const sums = new Float64Array(values.length + 1);
  values.forEach((value, at) => (sums[at + 1] = sums[at]! + value));
  const left = values.map((value, at) => {
    const [from, to] = [Math.max(0, at - reach), Math.min(values.length, at + reach + 1)];
    return value - (sums[to]! - sums[from]!) / (to - from);
  });
  const deviation = Math.sqrt(left.reduce((sum, value) => sum + value * value, 0) / Math.max(1, left.length));
  return deviation > 1e-6 ? left.map((value) => value / deviation) : left.fill(0);
}

/** Of the difference from sample to sample, which leaves deep tones out. */
function levelsOf(sound: Float32Array, rateHz: number): Float32Array {
  return Float32Array.from({ length: Math.floor((sound.length / rateHz) * levelHz) }, (_, index) => {
    const [from, to] = [Math.round((index * rateHz) / levelHz), Math.round(((index + 1) * rateHz) / levelHz)];
    let sum = 0;
    for (let at = from; at < to; at++) sum += (sound[at]! - (sound[at - 1] ?? 0)) ** 2;
    return Math.sqrt(sum / Math.max(1, to - from));
  });
}
