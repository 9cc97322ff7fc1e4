/**
 * Light that pulses in a recording: the strongest beat of its brightness. Each part of the picture is looked at by itself and the
 * middle one of them speaks: light swings everywhere and at once along each row (a sensor is read row by row, so rows may follow
 * one another in bands), while what moves to and fro swings here and there, and not together.
 */

export interface PulseFound {
  readonly hz: number;
  /** Swing of the brightness, brightest less darkest over the mean, of the sine at that beat. */
  readonly swing: number;
}

/** Slower changes are an action, a cloud or an exposure that adapts. */
export const slowestHz = 0.5;
/** A beat must come round so often in what is looked at. */
const leastRounds = 3;
/** Frames that are looked at in one go. */
const windowFrames = 256;
const leastFrames = 24;
/** Linear light under which a part is too dark to tell, and over which it may have run into the top. */
const darkest = 0.004;
const brightest = 0.95;
/** So much of the picture must be light enough, and the beat stand out so far above what is usual. */
const leastParts = 0.2;
const leastLine = 5;
/** Of Hann's window a sine leaves a fifth at most two bins away. */
const mostBeside = 0.4;
const leastAmplitude = 0.0005;
/** How far parts of a row must swing together (1: all at once), and how even the swing must be over the picture. */
const leastTogether = 0.8;
const leastEven = 0.4;

/**
 * The strongest beat between 0.5 Hz and half the frame rate.
 *
 * @param frames linear light of each part of each frame, 0 to 1, row by row
 * @param across parts in a row
 */
export function strongestPulse(frames: readonly Float32Array[], across: number, fps: number): PulseFound | undefined {
  const length = Math.min(frames.length, windowFrames);
  if (length < leastFrames) return undefined;
  const starts = windowStarts(frames.length, length);
  const found = starts.flatMap((start) => pulseOf(frames.slice(start, start + length), across, fps) ?? []);
  // A light that pulses does so all the time; what is seen once is something else.
  if (found.length * 2 <= starts.length) return undefined;
  const sorted = [...found].sort((a, b) => a.swing - b.swing);
  return sorted[Math.floor(sorted.length / 2)];
}

/** At most five, from the beginning to the end. */
function windowStarts(frames: number, length: number): number[] {
  const count = Math.min(5, Math.floor(frames / length));
  if (count === 1) return [Math.floor((frames - length) / 2)];
  return Array.from({ length: count }, (_, index) => Math.floor((index * (frames - length)) / (count - 1)));
}

/** Brightness of a part over time, as a share of its mean. */
interface Part {
  readonly row: number;
  readonly series: Float64Array;
}

function pulseOf(frames: readonly Float32Array[], across: number, fps: number): PulseFound | undefined {
  const parts = litParts(frames, across);
  if (parts.length < leastParts * frames[0]!.length) return undefined;
  const { length } = frames;
  const spectra = parts.map(({ series }) => spectrumOf(series));
  const first = Math.ceil(Math.max(leastRounds, (slowestHz * length) / fps));
  const middle = Array.from({ length: Math.floor(length / 2) + 1 }, (_, bin) =>
    quantile(
      spectra.map(({ real, imaginary }) => Math.hypot(real[bin]!, imaginary[bin]!)),
      0.5,
    ),
  );
  const best = middle.reduce((most, one, bin) => (bin > first && one > middle[most]! ? bin : most), first);
  if (!isLine(middle, best, first) || !isLight(parts, spectra, best)) return undefined;
  const { shift, height } = crest(middle, best);
  // At half the rate a sine has all of its strength in one bin, elsewhere in two.
  const ways = best * 2 === length ? 1 : 2;
  return { hz: ((best + shift) * fps) / length, swing: ways * height };
}

/** Does it stand out, from all and from what is beside it? A step or a slow change is strong in many bins, the lower the stronger. */
function isLine(middle: readonly number[], best: number, first: number): boolean {
  const here = middle[best]!;
  const beside = Math.max(middle[best - 2] ?? 0, middle[best + 2] ?? 0);
  return here > leastAmplitude && beside < mostBeside * here && here > leastLine * quantile(middle.slice(first), 0.5);
}

/** Does all of the picture swing at this bin, and each row of it together? */
function isLight(parts: readonly Part[], spectra: readonly Spectrum[], bin: number): boolean {
  const sizes = spectra.map(({ real, imaginary }) => Math.hypot(real[bin]!, imaginary[bin]!));
  if (quantile(sizes, 0.25) < leastEven * quantile(sizes, 0.5)) return false;
  const rows = new Map<number, [number, number]>();
  parts.forEach(({ row }, index) => {
    const [real, imaginary] = rows.get(row) ?? [0, 0];
    rows.set(row, [real + spectra[index]!.real[bin]!, imaginary + spectra[index]!.imaginary[bin]!]);
  });
  const together = [...rows.values()].reduce((sum, [real, imaginary]) => sum + Math.hypot(real, imaginary), 0);
  return together >= leastTogether * sizes.reduce((sum, one) => sum + one, 0);
}

/** The parts that are neither dark nor full. */
function litParts(frames: readonly Float32Array[], across: number): Part[] {
  return Array.from(frames[0]!, (_, part) => Float64Array.from(frames, (one) => one[part]!)).flatMap((series, part) => {
    const mean = series.reduce((sum, one) => sum + one, 0) / series.length;
    if (mean < darkest || mean > brightest) return [];
    return [{ row: Math.floor(part / across), series: withoutTrend(series.map((one) => one / mean)) }];
  });
}

/** Less the straight line that fits it best. */
function withoutTrend(series: Float64Array): Float64Array {
  const middle = (series.length - 1) / 2;
  const mean = series.reduce((sum, one) => sum + one, 0) / series.length;
  let [product, square] = [0, 0];
  series.forEach((one, at) => {
    product += (at - middle) * (one - mean);
    square += (at - middle) ** 2;
  });
  const slope = product / square;
  return series.map((one, at) => one - mean - slope * (at - middle));
}

interface Spectrum {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

/** Amplitudes of the sines at each bin up to half the rate, under Hann's window (its sum is half of the length). */
function spectrumOf(series: Float64Array): Spectrum {
  const { length } = series;
  const windowed = series.map((one, at) => one * (0.5 - 0.5 * Math.cos((2 * Math.PI * at) / length)));
  const cosines = Float64Array.from({ length }, (_, at) => Math.cos((2 * Math.PI * at) / length));
  const sines = Float64Array.from({ length }, (_, at) => Math.sin((2 * Math.PI * at) / length));
  const bins = Math.floor(length / 2) + 1;
  const [real, imaginary] = [new Float64Array(bins), new Float64Array(bins)];
  for (let bin = 0; bin < bins; bin++) {
    for (let at = 0, turn = 0; at < length; at++, turn = (turn + bin) % length) {
      real[bin]! += windowed[at]! * cosines[turn]! * (4 / length);
      imaginary[bin]! += windowed[at]! * sines[turn]! * (4 / length);
    }
  }
  return { real, imaginary };
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) * share)] ?? 0;
}

/** Where between bins the crest lies, and its height: for Hann's window by the two highest of three (Grandke 1983). */
function crest(values: readonly number[], bin: number): { shift: number; height: number } {
  const [before, here, after] = [values[bin - 1] ?? 0, values[bin]!, values[bin + 1] ?? 0];
  const right = after >= before;
  const ratio = (right ? after : before) / here;
  const delta = Math.max(0, Math.min(0.5, (2 * ratio - 1) / (ratio + 1)));
  const lost = delta < 1e-6 ? 1 : Math.sin(Math.PI * delta) / (Math.PI * delta) / (1 - delta * delta);
  return { shift: right ? delta : -delta, height: here / lost };
}
