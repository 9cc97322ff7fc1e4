/** The discrete Fourier transform of a power of two of values, in place: radix 2, decimation in time (Cooley and Tukey 1965). */
export class Fourier {
  readonly #cosines: Float64Array;
  readonly #sines: Float64Array;
  /** Where each value goes before the first step: its place with the bits in reverse. */
  readonly #reversed: Uint32Array;

  /** @param length a power of two */
  constructor(readonly length: number) {
    const half = length / 2;
    this.#cosines = Float64Array.from({ length: half }, (_, at) => Math.cos((2 * Math.PI * at) / length));
    this.#sines = Float64Array.from({ length: half }, (_, at) => -Math.sin((2 * Math.PI * at) / length));
    const bits = Math.round(Math.log2(length));
    this.#reversed = Uint32Array.from({ length }, (_, at) => {
      let turned = 0;
      for (let bit = 0; bit < bits; bit++) turned |= ((at >> bit) & 1) << (bits - 1 - bit);
      return turned;
    });
  }

  transform(real: Float64Array, imaginary: Float64Array): void {
    this.#reverse(real);
    this.#reverse(imaginary);
    for (let half = 1; half < this.length; half *= 2) this.#step(real, imaginary, half);
  }

  #reverse(values: Float64Array): void {
    const reversed = this.#reversed;
    for (let from = 0; from < reversed.length; from++) {
      const to = reversed[from]!;
      if (to <= from) continue;
      const held = values[to]!;
      values[to] = values[from]!;
      values[from] = held;
    }
  }

  /** Joins transforms of `half` values, two by two. */
  #step(real: Float64Array, imaginary: Float64Array, half: number): void {
    const turn = this.length / (2 * half);
    const [cosines, sines] = [this.#cosines, this.#sines];
    for (let start = 0; start < this.length; start += 2 * half) {
      for (let at = 0; at < half; at++) {
        const low = start + at;
        const high = low + half;
        const cosine = cosines[at * turn]!;
        const sine = sines[at * turn]!;
        const re = real[high]! * cosine - imaginary[high]! * sine;
        const im = real[high]! * sine + imaginary[high]! * cosine;
        real[high] = real[low]! - re;
        imaginary[high] = imaginary[low]! - im;
        real[low]! += re;
        imaginary[low]! += im;
      }
    }
  }
}
