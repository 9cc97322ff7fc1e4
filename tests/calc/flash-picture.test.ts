/** Flashes of pictures: each cell as the plain pictures of flash.test.ts, and how much of the picture they take. */
import { describe, expect, test } from 'vitest';
import type { Rgb } from '../../server/calc/colour.ts';
import { generalFlashes, redFlashes } from '../../server/calc/flash.ts';
import { FlashMeter } from '../../server/calc/flash-picture.ts';
import { Random } from '../hostile/random.ts';

const cells = 100;
const grey = (value: number): Rgb => ({ r: value, g: value, b: value });

/** Reads frames in which `share` of the cells show one thing and the rest another. */
function read(fps: number, frames: readonly Rgb[], share = 1, rest: Rgb = grey(0.3)) {
  const meter = new FlashMeter(cells, fps);
  for (const frame of frames) {
    const light = new Float32Array(cells * 3);
    for (let cell = 0; cell < cells; cell++) {
      const { r, g, b } = cell < share * cells ? frame : rest;
      light.set([r, g, b], cell * 3);
    }
    meter.push(light);
  }
  return meter.read();
}

const blink = (count: number, period: number, on: Rgb, off: Rgb) =>
  Array.from({ length: count }, (_, frame) => (frame % period < period / 2 ? on : off));

describe('flashes of a picture (WCAG 2.3.1; ITU-R BT.1702-3, Guideline 1)', () => {
  // As flash.test.ts: leading edges 9 frames apart at 25, 10 at 30, are three a second.
  test.each([
    [25, 9, 3],
    [25, 8, 4],
    [30, 10, 3],
    [30, 9, 4],
    [50, 17, 3],
    [50, 16, 4],
  ])('at %i, edges %i frames apart are %i in a second', (fps, period, most) => {
    const { general } = read(fps, blink(3 * fps, period, grey(1), grey(0)));
    expect(general.inOneSecond).toBe(most);
    expect(general.areaShare).toBe(1);
  });

  test('a quarter of the picture does not count, a little more does', () => {
    const flashes = blink(75, 5, grey(1), grey(0));
    expect(read(25, flashes, 0.25).general.inOneSecond).toBe(0);
    expect(read(25, flashes, 0.26).general).toMatchObject({ inOneSecond: 5, areaShare: expect.closeTo(0.26, 6) });
  });

  test('what changes by less than a tenth, or between bright pictures, does not count', () => {
    expect(read(25, blink(75, 5, grey(0.49), grey(0.4))).general.inOneSecond).toBe(0);
    expect(read(25, blink(75, 5, grey(0.51), grey(0.4))).general.inOneSecond).toBe(5);
    expect(read(25, blink(75, 5, grey(1), grey(0.81))).general.inOneSecond).toBe(0);
  });

  test('a light that takes two frames to come over the picture is one flash', () => {
    const meter = new FlashMeter(cells, 25);
    for (let frame = 0; frame < 75; frame++) {
      const light = new Float32Array(cells * 3);
      for (let cell = 0; cell < cells; cell++)
        light.fill((frame + (cell % 2)) % 10 < 5 ? 1 : 0, cell * 3, cell * 3 + 3);
      meter.push(light);
    }
    expect(meter.read().general).toMatchObject({ inOneSecond: 3, areaShare: 1 });
  });

  test('halves that flash by turns make twice as many', () => {
    const meter = new FlashMeter(cells, 25);
    for (let frame = 0; frame < 75; frame++) {
      const light = new Float32Array(cells * 3);
      const on = frame % 10 < 5;
      for (let cell = 0; cell < cells; cell++) light.fill(cell < cells / 2 === on ? 1 : 0, cell * 3, cell * 3 + 3);
      meter.push(light);
    }
    expect(meter.read().general.inOneSecond).toBeGreaterThan(3);
  });

  test('red counts from and to a saturated red, and not in nearly black noise', () => {
    const red = { r: 0.5, g: 0, b: 0 };
    const blue = { r: 0, g: 0, b: 0.5 };
    expect(read(25, blink(75, 5, red, blue)).red.inOneSecond).toBe(5);
    expect(read(25, blink(75, 5, { r: 0.004, g: 0, b: 0 }, { r: 0, g: 0.004, b: 0 })).red.inOneSecond).toBe(0);
  });

  test('counts what the plan counts, of any sequence', () => {
    const numbers = new Random(20_261_129);
    const random = () => numbers.below(1e6) / 1e6;
    for (let run = 0; run < 200; run++) {
      const levels = Array.from({ length: 4 }, () => ({ r: random(), g: random() * 0.3, b: random() * 0.3 }));
      const frames: Rgb[] = [];
      while (frames.length < 60) {
        const level = levels[Math.floor(random() * levels.length)]!;
        // Longer than one edge takes, so that none are put together.
        for (let count = 2 + Math.floor(random() * 8); count > 0; count--) frames.push(level);
      }
      const found = read(25, frames);
      const planned = frames.map((linear) => ({ linear }));
      expect(found.general.inOneSecond).toBe(generalFlashes(planned, 25).inOneSecond);
      expect(found.red.inOneSecond).toBe(redFlashes(planned, 25).inOneSecond);
    }
  });
});
