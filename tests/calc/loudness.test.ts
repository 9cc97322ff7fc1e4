/**
 * The loudness meter against the test signals that EBU publishes with their readings (Tech 3341, Tech 3342), as far as their
 * descriptions make them. Readings and tolerances as published; how each signal is put together is from memory.
 */
import { describe, expect, test } from 'vitest';
import { kWeighting, LoudnessMeter } from '../../server/calc/loudness.ts';
import { TruePeakMeter } from '../../server/calc/true-peak.ts';

const rate = 48_000;

/** A stretch of a sine of 1 kHz: its peak in dB over full scale, and seconds. */
type Stretch = readonly [dbfs: number, seconds: number];

/** The same in each channel, or a level for each. */
function tone(stretches: readonly (Stretch | readonly [readonly number[], number])[], channels = 2): Float32Array {
  const lengths = stretches.map(([, seconds]) => Math.round(seconds * rate));
  const samples = new Float32Array(lengths.reduce((sum, one) => sum + one, 0) * channels);
  let frame = 0;
  stretches.forEach(([level], index) => {
    const end = frame + lengths[index]!;
    for (; frame < end; frame++) {
      const sine = Math.sin((2 * Math.PI * 1000 * frame) / rate);
      for (let channel = 0; channel < channels; channel++) {
        const dbfs = typeof level === 'number' ? level : level[channel]!;
        samples[frame * channels + channel] = 10 ** (dbfs / 20) * sine;
      }
    }
  });
  return samples;
}

function read(samples: Float32Array, weights: readonly number[] = [1, 1]) {
  const meter = new LoudnessMeter(rate, weights);
  // In pieces that fit nothing: whatever comes through a pipe.
  const piece = 7919 * weights.length;
  for (let at = 0; at < samples.length; at += piece) meter.push(samples.subarray(at, at + piece));
  return meter.read();
}

const silence = (seconds: number): Stretch => [-Infinity, seconds];
const repeated = (count: number, ...stretches: readonly Stretch[]) =>
  Array.from({ length: count }, () => stretches).flat();

/** Within 0.1 LU, as Tech 3341 asks. */
function expectLufs(found: number, published: number): void {
  expect(Math.abs(found - published)).toBeLessThanOrEqual(0.1);
}

test('K-weighting at 48 kHz has the coefficients of BS.1770-5, Annex 1, tables 1 and 2', () => {
  const { shelf, highPass } = kWeighting(rate);
  const close = (found: readonly number[], published: readonly number[]) =>
    found.forEach((one, index) => expect(one).toBeCloseTo(published[index]!, 8));
  close(shelf.b, [1.53512485958697, -2.69169618940638, 1.19839281085285]);
  close(shelf.a, [-1.69065929318241, 0.73248077421585]);
  close(highPass.b, [1, -2, 1]);
  close(highPass.a, [-1.99004745483398, 0.99007225036621]);
});

test('a sine of 997 Hz at full scale in one channel reads −3.01 LKFS (BS.1770-5, Annex 1)', () => {
  const samples = Float32Array.from({ length: rate * 4 }, (_, at) => Math.sin((2 * Math.PI * 997 * at) / rate));
  expect(read(samples, [1]).integratedLufs).toBeCloseTo(-3.01, 2);
});

describe('EBU Tech 3341, table 1 (7 and 8 are programmes, 11 and 14 are for live meters)', () => {
  const cases: readonly (readonly [number, readonly Stretch[], number])[] = [
    [1, [[-23, 20]], -23],
    [2, [[-33, 20]], -33],
    [
      3,
      [
        [-36, 10],
        [-23, 60],
        [-36, 10],
      ],
      -23,
    ],
    [
      4,
      [
        [-72, 10],
        [-36, 10],
        [-23, 60],
        [-36, 10],
        [-72, 10],
      ],
      -23,
    ],
    [
      5,
      [
        [-26, 20],
        [-20, 20.1],
        [-26, 20],
      ],
      -23,
    ],
  ];
  test.each(cases)('%i: gated loudness', (_, stretches, published) => {
    expectLufs(read(tone(stretches)).integratedLufs, published);
  });

  test('1 and 2: momentary and short-term, too', () => {
    const found = read(tone([[-33, 20]]));
    expectLufs(found.momentaryLufs, -33);
    expectLufs(found.shortTermLufs, -33);
  });

  test('6: five channels, −28 in front, −24 in the middle, −30 behind', () => {
    const samples = tone([[[-28, -28, -24, -30, -30], 20]], 5);
    expectLufs(read(samples, [1, 1, 1, 1.41, 1.41]).integratedLufs, -23);
  });

  test('9: short-term stands still while −20 and −30 take turns', () => {
    const samples = tone(repeated(5, [-20, 1.34], [-30, 1.66]));
    expectLufs(read(samples).shortTermLufs, -23);
  });

  test.each(Array.from({ length: 20 }, (_, index) => index))('10-%i: 3 s of tone wherever they start', (number) => {
    expectLufs(read(tone([silence(number * 0.15), [-23, 3], silence(1)])).shortTermLufs, -23);
  });

  test('12: momentary stands still while −20 and −30 take turns', () => {
    expectLufs(read(tone(repeated(25, [-20, 0.18], [-30, 0.22]))).momentaryLufs, -23);
  });

  test.each(Array.from({ length: 20 }, (_, index) => index))('13-%i: 400 ms of tone wherever they start', (number) => {
    expectLufs(read(tone([silence(number * 0.02), [-23, 0.4], silence(1)])).momentaryLufs, -23);
  });
});

describe('EBU Tech 3342, table 1: loudness range within 1 LU (5 and 6 are programmes)', () => {
  test.each([
    [1, [-20, -30], 10],
    [2, [-20, -15], 5],
    [3, [-40, -20], 20],
    [4, [-50, -35, -20, -35, -50], 15],
  ] as const)('%i', (_, levels, published) => {
    const { rangeLu } = read(tone(levels.map((dbfs) => [dbfs, 20] as const)));
    expect(Math.abs(rangeLu - published)).toBeLessThanOrEqual(1);
    // Far nearer than the tolerance, as steady tones can be.
    expect(rangeLu).toBeCloseTo(published, 1);
  });
});

describe('EBU Tech 3341, table 1: true peak within +0.2 and −0.4 dB', () => {
  const peakOf = (samples: Float32Array, channels: number) => {
    const meter = new TruePeakMeter(channels);
    for (let at = 0; at < samples.length; at += 999 * channels) meter.push(samples.subarray(at, at + 999 * channels));
    return meter.readDbtp();
  };
  const within = (found: number, published: number) => {
    expect(found).toBeLessThanOrEqual(published + 0.2);
    expect(found).toBeGreaterThanOrEqual(published - 0.4);
  };
  /** A sine that starts and ends softly: what the sudden ends of one ring by is not asked for. */
  const sine = (perCycle: number, amplitude: number, phaseDeg: number, channels = 2) => {
    const frames = rate;
    const samples = new Float32Array(frames * channels);
    for (let frame = 0; frame < frames; frame++) {
      const soft = Math.min(1, frame / 480, (frames - frame) / 480);
      const value = soft * amplitude * Math.sin((2 * Math.PI * frame) / perCycle + (phaseDeg * Math.PI) / 180);
      for (let channel = 0; channel < channels; channel++) samples[frame * channels + channel] = value;
    }
    return samples;
  };

  test.each([
    [15, 4, 0.5, 0, -6],
    [16, 4, 0.5, 45, -6],
    [17, 6, 0.5, 60, -6],
    [18, 8, 0.5, 67.5, -6],
    [19, 4, 1.41, 45, 3],
  ])('%i: a sine of 1/%i of the rate, %f of full scale, at %f°', (_, perCycle, amplitude, phaseDeg, published) => {
    within(peakOf(sine(perCycle, amplitude, phaseDeg), 2), published);
  });

  // 20 to 23: one cycle at full scale within a sine of half of it, made at four times the rate and taken at four offsets.
  test.each([20, 21, 22, 23])('%i: one louder cycle between samples', (number) => {
    const offset = number - 20;
    const over = 4;
    const perCycle = 6 * over;
    const long = Float64Array.from({ length: rate * over }, (_, at) => {
      const soft = Math.min(1, at / 1920, (rate * over - at) / 1920);
      const cycle = Math.floor(at / perCycle);
      return soft * (cycle === 4000 ? 1 : 0.5) * Math.sin((2 * Math.PI * at) / perCycle);
    });
    const low = lowPassed(long, over);
    const samples = Float32Array.from({ length: rate - 1 }, (_, at) => low[at * over + offset]!);
    within(peakOf(samples, 1), 20 * Math.log10(low.reduce((most, one) => Math.max(most, Math.abs(one)), 0)));
  });
});

/** What a quarter of the band holds: a windowed sinc of 64 cycles. */
function lowPassed(samples: Float64Array, over: number): Float64Array {
  const reach = 32 * over;
  const taps = Float64Array.from({ length: 2 * reach + 1 }, (_, index) => {
    const x = (index - reach) / over;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    return (sinc * (0.5 + 0.5 * Math.cos((Math.PI * (index - reach)) / reach))) / over;
  });
  const from = 4000 * 6 * over - 8 * reach;
  const found = new Float64Array(samples.length);
  for (let at = reach; at < samples.length - reach; at++) {
    // Only near the louder cycle is it of interest.
    if (at < from || at > from + 16 * reach) {
      found[at] = samples[at]!;
      continue;
    }
    for (let tap = 0; tap < taps.length; tap++) found[at]! += taps[tap]! * samples[at + tap - reach]!;
  }
  return found;
}
