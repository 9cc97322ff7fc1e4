/** Beats of made-up light: sines whose frequency and size are known. */
import { describe, expect, test } from 'vitest';
import { strongestPulse } from '../../server/calc/pulse.ts';
import { Random } from '../hostile/random.ts';

const [across, down] = [16, 9];

/** Light of each part of each frame. */
function frames(count: number, light: (frame: number, column: number, row: number) => number): Float32Array[] {
  return Array.from({ length: count }, (_, frame) =>
    Float32Array.from({ length: across * down }, (_, part) => light(frame, part % across, Math.floor(part / across))),
  );
}

const scene = (column: number, row: number) => 0.1 + (0.5 * ((column * 7 + row * 5) % 13)) / 13;
const sine = (hz: number, fps: number, frame: number) => Math.sin((2 * Math.PI * hz * frame) / fps);

describe('the strongest beat', () => {
  test.each([
    [25, 100, 4, 0.06],
    [25, 75, 10.3, 0.1],
    [25, 1000, 0.61, 0.03],
    [29.97, 300, 9.94, 0.02],
    [50, 120, 24.3, 0.05],
    [25, 60, 12.5, 0.08],
  ])('at %d frames a second, of %i frames: %d Hz', (fps, count, hz, swing) => {
    const dither = hz * 2 === fps ? Math.PI / 2 : 0;
    const light = (frame: number) => 1 + (swing / 2) * Math.sin((2 * Math.PI * hz * frame) / fps + dither);
    const found = strongestPulse(
      frames(count, (frame, column, row) => scene(column, row) * light(frame)),
      across,
      fps,
    )!;
    // To a tenth of what as many frames tell apart.
    expect(Math.abs(found.hz - hz)).toBeLessThan(0.1 * (fps / Math.min(count, 256)) + 1e-9);
    expect(Math.abs(found.swing / swing - 1)).toBeLessThan(0.03);
  });

  test('bands that roll through the picture are found as one beat', () => {
    const band = (frame: number, row: number) =>
      1 + 0.05 * Math.sin(2 * Math.PI * ((4 * frame) / 25 + (1.5 * row) / down));
    const found = strongestPulse(
      frames(100, (frame, column, row) => scene(column, row) * band(frame, row)),
      across,
      25,
    )!;
    expect(found.hz).toBeCloseTo(4, 1);
    expect(found.swing).toBeCloseTo(0.1, 2);
  });

  const numbers = new Random(7);
  const random = () => numbers.below(1e6) / 1e6;
  test.each<[string, (frame: number, column: number, row: number) => number]>([
    ['light that stands', (_, column, row) => scene(column, row)],
    ['noise', (_, column, row) => scene(column, row) * (1 + 0.02 * (random() - 0.5))],
    ['a lamp that is turned up', (frame, column, row) => scene(column, row) * (1 + frame / 200)],
    ['a step, as of a camera that adapts', (frame, column, row) => scene(column, row) * (frame < 60 ? 1 : 1.1)],
    [
      'a crank that goes round in a third of the picture',
      (frame, column, row) => scene(column, row) * (column < 5 ? 1 + 0.3 * sine(1.4, 25, frame + row + column) : 1),
    ],
    [
      'a pattern that moves across all of it',
      (frame, column, row) => 0.3 + 0.2 * Math.sin(2 * Math.PI * (frame / 20 + column / 5 + row / 7)),
    ],
  ])('is none in %s', (_, light) => {
    expect(strongestPulse(frames(120, light), across, 25)).toBeUndefined();
  });
});
