/** Beats of music that is made here, so that its tempo and its first beat are known exactly. */
import { describe, expect, it, test } from 'vitest';
import { asCounted, type Beats, beatsInSteps } from '../../server/calc/beat-track.ts';
import { Fourier } from '../../server/calc/fourier.ts';
import { OnsetMeter } from '../../server/calc/onsets.ts';
import { beatTimes, click, type Note, played, randomOf, waltz } from '../helpers/music.ts';

const rateHz = 12_000;

function heard(sound: Float32Array, sampleRateHz = rateHz, channels = 1): Beats[] {
  const meter = new OnsetMeter(sampleRateHz, channels);
  for (let at = 0; at < sound.length; at += 5000) meter.push(sound.subarray(at, at + 5000));
  const steps = beatsInSteps(meter.read());
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

const mixed = (sound: Float32Array, more: (s: number) => number) => sound.map((one, at) => one + more(at / rateHz));

/** Sixteen clicks, every fourth row in noise of −20 dB, every fourth with a lighter click on the third of a triplet. */
function clickTrack(seed: number) {
  const random = randomOf(seed);
  const bpm = 60 + 140 * random();
  const firstS = random();
  const seconds = firstS + (16 * 60) / bpm;
  const times = beatTimes({ bpm, firstS, seconds });
  const swung = seed % 4 === 2 ? times.map((at) => click(at + (2 / 3) * (60 / bpm), 0.25)) : [];
  const clean = played(seconds, rateHz, [...times.map((at) => click(at)), ...swung]);
  return { bpm, firstS, sound: seed % 4 === 1 ? mixed(clean, () => 0.1 * (random() - 0.5)) : clean };
}

test('of forty rows of clicks at 60 to 200 a minute, tempo and beat are found to 0.1 bpm and 10 ms', () => {
  const wrong: string[] = [];
  for (let seed = 1; seed <= 40; seed++) {
    const { bpm, firstS, sound } = clickTrack(seed);
    // Whoever says the tempo counts so: 3 % off, as somebody taps it.
    const found = asCounted(heard(sound), { bpm: bpm * (seed % 2 ? 1.03 : 0.97), beatS: firstS });
    const stepS = 60 / bpm;
    const offS = found ? Math.abs(((found.firstS - firstS + stepS * 1.5) % stepS) - stepS / 2) : Infinity;
    if (!found || Math.abs(found.bpm - bpm) > 0.1 || offS > 0.01) wrong.push(`${seed}: ${bpm} from ${firstS}`);
  }
  expect(wrong.length, wrong.join('\n')).toBeLessThanOrEqual(2);
});

describe('music', () => {
  it.each([
    ['even', { bpm: 100 }],
    ['played loosely', { bpm: 132, loose: 0.015 }],
    ['with rests', { bpm: 100, rests: 0.3 }],
    ['slow', { bpm: 72 }],
  ] as const)('%s', (_, row) => {
    const whole = { seconds: 24, firstS: 0.4, seed: 3, ...row };
    const found = asCounted(heard(played(24, rateHz, waltz(whole))), { bpm: row.bpm, beatS: 0.4 })!;
    expect(Math.abs(found.bpm - row.bpm)).toBeLessThan(0.1);
    expect(Math.abs(found.firstS - 0.4)).toBeLessThan(0.01);
    expect(found.unevenS).toBeLessThan(0.02);
  });

  it('that slows down has its beats where they are played', () => {
    const row = { bpm: 92, firstS: 0.4, seconds: 30, slows: 0.06, seed: 5 };
    const found = asCounted(heard(played(30, rateHz, waltz(row))), { bpm: 92, beatS: 0.4 })!;
    const times = beatTimes(row).slice(0, found.beatsS.length);
    for (const [index, atS] of times.entries()) expect(Math.abs(found.beatsS[index]! - atS)).toBeLessThan(0.015);
    expect(found.unevenS).toBeGreaterThan(0.08);
  });

  it('in two channels of 48 kHz is the same', () => {
    const notes = beatTimes({ bpm: 90, firstS: 0.25, seconds: 9 }).map((at) => click(at));
    const one = played(9, 48_000, notes);
    const two = Float32Array.from({ length: 2 * one.length }, (_, at) => one[Math.floor(at / 2)]!);
    const found = asCounted(heard(two, 48_000, 2), { bpm: 90, beatS: 0.25 })!;
    expect(found.bpm).toBeCloseTo(90, 1);
    expect(Math.abs(found.firstS - 0.25)).toBeLessThan(0.01);
  });
});

describe('counted twice as fast or half as fast', () => {
  const rows = heard(
    played(
      12,
      rateHz,
      beatTimes({ bpm: 120, firstS: 0.3, seconds: 12 }).map((at) => click(at)),
    ),
  );

  it.each([
    [120, 0.3, 120, 0.3],
    [240, 0.3, 240, 0.3],
    [60, 0.3, 60, 0.3],
    [60, 0.8, 60, 0.8],
    [121, 5.3, 120, 0.3],
  ])('who says %d from %d s is told %d from %d s', (bpm, beatS, toldBpm, toldS) => {
    const found = asCounted(rows, { bpm, beatS })!;
    expect(found.bpm).toBeCloseTo(toldBpm, 1);
    expect(Math.abs(found.firstS - toldS)).toBeLessThan(0.01);
  });

  it('who says what cannot be counted so is told the likeliest', () => {
    expect(asCounted(rows, { bpm: 95, beatS: 0 })!.bpm).toBeCloseTo(120, 1);
  });
});

describe('no beat', () => {
  const random = randomOf(7);
  /** Of 120 to 320 ms with pauses, as of somebody who speaks. */
  const syllables = (): Note[] => {
    const notes: Note[] = [];
    for (let atS = 0.2; atS < 19; atS += 0.12 + 0.2 * random() + (random() < 0.15 ? 0.4 : 0))
      notes.push({ atS, hz: 150 + 100 * random(), gain: 0.2, decayS: 0.08, attackS: 0.02 });
    return notes;
  };
  const atRandom = () => Array.from({ length: 60 }, () => ({ atS: 19 * random(), hz: 784, gain: 0.2, decayS: 0.3 }));
  const silence = () => new Float32Array(20 * rateHz);
  const swell = (s: number) => 1 + 0.3 * Math.sin(2 * Math.PI * 0.13 * s);

  it.each<[string, () => Float32Array]>([
    ['silence', silence],
    ['nothing', () => new Float32Array(0)],
    ['noise', () => mixed(silence(), () => random() - 0.5)],
    ['a held chord', () => mixed(silence(), (s) => 0.2 * swell(s) * (Math.sin(1382 * s) + Math.sin(2080 * s)))],
    ['syllables', () => played(20, rateHz, syllables())],
    ['notes at random', () => played(20, rateHz, atRandom())],
    [
      'four clicks',
      () =>
        played(
          20,
          rateHz,
          [1, 2, 3, 4].map((at) => click(at)),
        ),
    ],
    ['what is no number', () => silence().fill(NaN)],
  ])('in %s', (_, sound) => {
    expect(heard(sound())).toEqual([]);
  });
});

test('the transform is that of the definition', () => {
  const random = randomOf(2);
  const [real, imaginary] = [0, 0].map(() => Float64Array.from({ length: 64 }, random)) as [Float64Array, Float64Array];
  const [re, im] = [real.slice(), imaginary.slice()];
  new Fourier(64).transform(re, im);
  for (let bin = 0; bin < 64; bin++) {
    let [sumRe, sumIm] = [0, 0];
    for (let at = 0; at < 64; at++) {
      const turn = (-2 * Math.PI * bin * at) / 64;
      sumRe += real[at]! * Math.cos(turn) - imaginary[at]! * Math.sin(turn);
      sumIm += real[at]! * Math.sin(turn) + imaginary[at]! * Math.cos(turn);
    }
    expect(re[bin]).toBeCloseTo(sumRe, 9);
    expect(im[bin]).toBeCloseTo(sumIm, 9);
  }
});
