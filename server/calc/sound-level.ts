/** What is wrong with recorded sound by itself: samples that ran into the top, and how loud each half second is. */

/** As near to full scale as recorders clip: −0.09 dB. */
const fullScale = 0.99;
/** So many samples at full scale one after another are no peak any more (common practice, no source). */
const flatSamples = 3;
/** Clips nearer to one another than this are one. */
const apartS = 0.1;
const windowS = 0.5;
/** More are counted, not listed. */
const mostListed = 200;

export interface SoundLevels {
  /** Seconds at which sound clips, those within a tenth of a second together; the first 200. */
  readonly clipsAtS: readonly number[];
  readonly clips: number;
  /** Root mean square of each half second in dB over full scale, of the loudest channel; −120 for silence. */
  readonly halfSecondsDb: readonly number[];
}

/** Measures levels of sound that comes in pieces, all channels together. */
export class LevelMeter {
  readonly #channels: number;
  readonly #rate: number;
  readonly #flat: Uint16Array;
  readonly #squares: Float64Array;
  readonly #clips: number[] = [];
  readonly #levels: number[] = [];
  #count = 0;
  #lastClipS = -Infinity;
  #frame = 0;
  #windowStart = 0;

  constructor(sampleRateHz: number, channels: number) {
    this.#rate = sampleRateHz;
    this.#channels = channels;
    this.#flat = new Uint16Array(channels);
    this.#squares = new Float64Array(channels);
  }

  push(samples: Float32Array): void {
    for (let at = 0; at + this.#channels <= samples.length; at += this.#channels) {
      for (let channel = 0; channel < this.#channels; channel++) this.#take(samples[at + channel]!, channel);
      this.#frame++;
      if (this.#frame - this.#windowStart >= windowS * this.#rate) this.#endWindow();
    }
  }

  #take(sample: number, channel: number): void {
    this.#squares[channel]! += sample * sample;
    if (Math.abs(sample) < fullScale) {
      this.#flat[channel] = 0;
      return;
    }
    this.#flat[channel]!++;
    if (this.#flat[channel] === flatSamples) this.#clip();
  }

  #clip(): void {
    const atS = this.#frame / this.#rate;
    if (atS - this.#lastClipS > apartS) {
      this.#count++;
      if (this.#clips.length < mostListed) this.#clips.push(Math.round(atS * 1000) / 1000);
    }
    this.#lastClipS = atS;
  }

  #endWindow(): void {
    const square = Math.max(...this.#squares) / Math.max(1, this.#frame - this.#windowStart);
    this.#levels.push(Math.max(-120, Math.round(100 * Math.log10(square)) / 10));
    this.#squares.fill(0);
    this.#windowStart = this.#frame;
  }

  read(): SoundLevels {
    // A rest of some length counts; a shorter one may hold nothing but the ring of a decoder.
    if (this.#frame - this.#windowStart > 0.1 * this.#rate) this.#endWindow();
    return { clipsAtS: this.#clips, clips: this.#count, halfSecondsDb: this.#levels };
  }
}
