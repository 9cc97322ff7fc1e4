/** True peak: the highest that sound gets between its samples, by four times as many (ITU-R BS.1770-5, Annex 2). */

/** Two of the four phases of the interpolating filter of Annex 2; the other two are these backwards. */
const nearer = [
  0.001708984375, 0.010986328125, -0.0196533203125, 0.033203125, -0.0594482421875, 0.1373291015625, 0.97216796875,
  -0.102294921875, 0.047607421875, -0.026611328125, 0.014892578125, -0.00830078125,
];
const farther = [
  -0.0291748046875, 0.029296875, -0.0517578125, 0.089111328125, -0.16650390625, 0.465087890625, 0.77978515625,
  -0.2003173828125, 0.1015625, -0.0582275390625, 0.0330810546875, -0.0189208984375,
];
const phases = [nearer, farther, [...farther].reverse(), [...nearer].reverse()].map((one) => Float64Array.from(one));
const taps = nearer.length;
/** No phase makes more of samples than this times the greatest of them: where that can't be a new peak nothing is computed. */
const mostGain = Math.max(...phases.map((phase) => phase.reduce((sum, one) => sum + Math.abs(one), 0)));

/** Finds the true peak of sound that comes in pieces, all channels together. */
export class TruePeakMeter {
  readonly #channels: number;
  /** The last samples of each channel before the next piece. */
  readonly #before: Float32Array[];
  #peak = 0;

  constructor(channels: number) {
    this.#channels = channels;
    this.#before = Array.from({ length: channels }, () => new Float32Array(taps - 1));
  }

  /** Takes samples in, those of all channels at one time after another; full scale is 1. */
  push(samples: Float32Array): void {
    const frames = Math.floor(samples.length / this.#channels);
    for (let channel = 0; channel < this.#channels; channel++) {
      const line = new Float32Array(taps - 1 + frames);
      line.set(this.#before[channel]!);
      for (let frame = 0; frame < frames; frame++) line[taps - 1 + frame] = samples[frame * this.#channels + channel]!;
      this.#before[channel] = line.slice(frames);
      this.#look(line);
    }
  }

  #look(line: Float32Array): void {
    let highest = 0;
    for (const one of line) highest = Math.max(highest, Math.abs(one));
    this.#peak = Math.max(this.#peak, highest);
    if (highest * mostGain <= this.#peak) return;
    for (let at = taps - 1; at < line.length; at++) {
      for (const phase of phases) {
        let sum = 0;
        for (let tap = 0; tap < taps; tap++) sum += phase[tap]! * line[at - tap]!;
        if (sum > this.#peak || -sum > this.#peak) this.#peak = Math.abs(sum);
      }
    }
  }

  /** In dB over full scale; `-Infinity` for silence. The last 12 samples are heard once more, followed by silence. */
  readDbtp(): number {
    this.push(new Float32Array(this.#channels * taps));
    return 20 * Math.log10(this.#peak);
  }
}
