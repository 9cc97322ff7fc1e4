/**
 * Loudness of sound as ITU-R BS.1770-5 and EBU Tech 3341 and 3342 measure it: K-weighted energy in blocks, gated. Sound comes
 * in pieces of any length, so that a film of an hour takes no more memory than one of a minute.
 */

interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/**
 * The two filters of K-weighting at a sampling rate: the shelf of the head and the high-pass (BS.1770-5, Annex 1, tables 1
 * and 2, given at 48 kHz). The analogue filters behind the tables, +4 dB above 1682 Hz and 38 Hz, are those of
 * Brecht De Man, "Evaluation of Implementations of the EBU R128 Loudness Measurement" (2014); at 48 kHz they give the tables.
 */
export function kWeighting(sampleRateHz: number): { readonly shelf: Biquad; readonly highPass: Biquad } {
  const shelf = (): Biquad => {
    const k = Math.tan((Math.PI * 1681.974450955533) / sampleRateHz);
    const q = 0.7071752369554196;
    const high = 10 ** (3.999843853973347 / 20);
    const band = high ** 0.4996667741545416;
    const a0 = 1 + k / q + k * k;
    return {
      b: [(high + (band * k) / q + k * k) / a0, (2 * (k * k - high)) / a0, (high - (band * k) / q + k * k) / a0],
      a: [(2 * (k * k - 1)) / a0, (1 - k / q + k * k) / a0],
    };
  };
  const highPass = (): Biquad => {
    const k = Math.tan((Math.PI * 38.13547087602444) / sampleRateHz);
    const q = 0.5003270373238773;
    const a0 = 1 + k / q + k * k;
    return { b: [1, -2, 1], a: [(2 * (k * k - 1)) / a0, (1 - k / q + k * k) / a0] };
  };
  return { shelf: shelf(), highPass: highPass() };
}

export interface Loudness {
  /** Gated loudness of all of it, in LUFS; `-Infinity` where nothing is over the gate. */
  readonly integratedLufs: number;
  /** Loudness range in LU (Tech 3342); 0 for less than 3 s. */
  readonly rangeLu: number;
  /** Greatest loudness of any 400 ms and of any 3 s, in LUFS. */
  readonly momentaryLufs: number;
  readonly shortTermLufs: number;
}

/** Blocks a second in which energy is kept: fine enough that the greatest 400 ms are found wherever they start. */
const blocksPerSecond = 100;
const momentaryBlocks = 0.4 * blocksPerSecond;
const shortTermBlocks = 3 * blocksPerSecond;
/** Gating blocks of 400 ms overlap by 75 %. */
const gateStep = 0.1 * blocksPerSecond;

/** Loudness of mean square energy: −0.691 + 10·log10 of it (BS.1770-5, Annex 1). */
function lufs(energy: number): number {
  return energy > 0 ? -0.691 + 10 * Math.log10(energy) : -Infinity;
}

/** Measures the loudness of channels whose weights are given (1, 1.41 for surrounds, 0 for the low-frequency channel). */
export class LoudnessMeter {
  readonly #weights: readonly number[];
  readonly #rate: number;
  readonly #filters: ReturnType<typeof kWeighting>;
  /** Four values of memory for each channel: two of the shelf, two of the high-pass. */
  readonly #memory: Float64Array;
  /** Mean weighted square of each finished block. */
  readonly #blocks: number[] = [];
  #sum = 0;
  #frames = 0;
  #blockStart = 0;
  #blockEnd: number;

  constructor(sampleRateHz: number, weights: readonly number[]) {
    this.#rate = sampleRateHz;
    this.#weights = weights;
    this.#filters = kWeighting(sampleRateHz);
    this.#memory = new Float64Array(weights.length * 4);
    this.#blockEnd = Math.round(sampleRateHz / blocksPerSecond);
  }

  /** Takes samples in, those of all channels at one time after another; full scale is 1. */
  push(samples: Float32Array): void {
    const channels = this.#weights.length;
    for (let at = 0; at + channels <= samples.length; at += channels) {
      for (let channel = 0; channel < channels; channel++) {
        const weight = this.#weights[channel]!;
        if (weight === 0) continue;
        const y = this.#weighted(samples[at + channel]!, channel * 4);
        this.#sum += weight * y * y;
      }
      this.#frames++;
      if (this.#frames === this.#blockEnd) this.#endBlock();
    }
  }

  /** Both filters, each in the transposed direct form II. */
  #weighted(x: number, at: number): number {
    const { shelf, highPass } = this.#filters;
    const memory = this.#memory;
    const y = shelf.b[0] * x + memory[at]!;
    memory[at] = shelf.b[1] * x - shelf.a[0] * y + memory[at + 1]!;
    memory[at + 1] = shelf.b[2] * x - shelf.a[1] * y;
    const z = highPass.b[0] * y + memory[at + 2]!;
    memory[at + 2] = highPass.b[1] * y - highPass.a[0] * z + memory[at + 3]!;
    memory[at + 3] = highPass.b[2] * y - highPass.a[1] * z;
    return z;
  }

  #endBlock(): void {
    this.#blocks.push(this.#sum / (this.#blockEnd - this.#blockStart));
    this.#sum = 0;
    this.#blockStart = this.#blockEnd;
    this.#blockEnd = Math.round(((this.#blocks.length + 1) * this.#rate) / blocksPerSecond);
  }

  /** What was measured of all that came in. */
  read(): Loudness {
    const momentary = means(this.#blocks, momentaryBlocks);
    const shortTerm = means(this.#blocks, shortTermBlocks);
    return {
      integratedLufs: integrated(momentary.filter((_, index) => index % gateStep === 0)),
      rangeLu: range(shortTerm.filter((_, index) => index % gateStep === 0).map(lufs)),
      momentaryLufs: lufs(greatest(momentary)),
      shortTermLufs: lufs(greatest(shortTerm)),
    };
  }
}

function greatest(values: readonly number[]): number {
  return values.reduce((most, one) => Math.max(most, one), 0);
}

/** Mean of every stretch of `length` blocks, by running sums. */
function means(blocks: readonly number[], length: number): number[] {
  const sums = new Float64Array(blocks.length + 1);
  blocks.forEach((one, index) => (sums[index + 1] = sums[index]! + one));
  const count = Math.max(0, blocks.length - length + 1);
  return Array.from({ length: count }, (_, from) => (sums[from + length]! - sums[from]!) / length);
}

const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

/** Mean energy of the blocks over −70 LUFS and then over 10 LU below their mean (BS.1770-5, Annex 1, equations 4 to 7). */
function integrated(energies: readonly number[]): number {
  const audible = energies.filter((one) => lufs(one) > -70);
  if (audible.length === 0) return -Infinity;
  const gate = lufs(mean(audible)) - 10;
  return lufs(mean(audible.filter((one) => lufs(one) > gate)));
}

/** Tech 3342: 10th to 95th percentile of the 3 s loudness over −70 LUFS and over 20 LU below their mean energy. */
function range(shortTerm: readonly number[]): number {
  const audible = shortTerm.filter((one) => one >= -70);
  if (audible.length === 0) return 0;
  const gate = lufs(mean(audible.map((one) => 10 ** ((one + 0.691) / 10)))) - 20;
  const kept = audible.filter((one) => one >= gate).sort((a, b) => a - b);
  const percentile = (share: number) => kept[Math.round((kept.length - 1) * share)]!;
  return percentile(0.95) - percentile(0.1);
}
