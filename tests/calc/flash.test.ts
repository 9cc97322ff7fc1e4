import { describe, expect, it } from 'vitest';
import { linearFromSrgb, parseHex, type Rgb } from '../../server/calc/colour.ts';
import { effectFrames } from '../../server/calc/flash-effect.ts';
import {
  type FlashFrame,
  flashVerdict,
  generalFlashes,
  leastArea,
  leastFlashFrames,
  redFlashes,
} from '../../server/calc/flash.ts';

const grey = (value: number): Rgb => ({ r: value, g: value, b: value });
const colour = (text: string) => linearFromSrgb(parseHex(text)!);

/** On for half of every `period` frames, for `count` frames. */
function blink(count: number, period: number, on: Rgb, off: Rgb): FlashFrame[] {
  return Array.from({ length: count }, (_, frame) => ({ linear: frame % period < period / 2 ? on : off }));
}

describe('general flashes (WCAG 2.3.1; ITU-R BT.1702-3)', () => {
  // BT.1702-3: leading edges 360 ms apart at 50 Hz and 334 ms at 60 Hz are always acceptable: 9 frames at 25, 10 at 30.
  it.each([
    [25, 9, 3, false],
    [25, 8, 4, true],
    [30, 10, 3, false],
    [30, 9, 4, true],
    [50, 17, 3, false],
    [50, 16, 4, true],
  ])('at %i, edges %i frames apart are %i flashes', (fps, period, most, over) => {
    const count = generalFlashes(blink(fps * 4, period, grey(1), grey(0)), fps);
    expect(count.inOneSecond).toBe(most);
    expect(flashVerdict(count, 1, fps).overLimit).toBe(over);
    expect(leastFlashFrames(fps) <= period).toBe(!over);
  });

  it('keeps 10 frames apart at 29.97', () => {
    expect(leastFlashFrames(30000 / 1001)).toBe(10);
  });

  it('allows single, double and triple flashes', () => {
    for (const flashes of [1, 2, 3]) {
      const frames = blink(100, 4, grey(1), grey(0)).map((frame, index) =>
        index < flashes * 4 ? frame : { linear: grey(0) },
      );
      const count = generalFlashes([{ linear: grey(0) }, ...frames], 25);
      expect(count.inOneSecond).toBe(flashes);
      expect(flashVerdict(count, 1, 25).overLimit).toBe(false);
    }
  });

  it('does not count a change that never comes back, nor a slow swell', () => {
    const step = Array.from({ length: 50 }, (_, frame) => ({ linear: grey(frame < 25 ? 0 : 1) }));
    expect(generalFlashes(step, 25).inOneSecond).toBe(0);
    expect(generalFlashes([], 25).inOneSecond).toBe(0);
  });

  it('counts changes that take several frames', () => {
    const swell = Array.from({ length: 100 }, (_, frame) => ({
      linear: grey(0.5 + 0.3 * Math.sin((2 * Math.PI * frame) / 5)),
    }));
    expect(generalFlashes(swell, 25).inOneSecond).toBeGreaterThan(3);
    const drift = [0.5, 0.45, 0.42, 0.53, 0.42, 0.53, 0.42, 0.53, 0.42, 0.53, 0.42].map((value) => ({
      linear: grey(value),
    }));
    expect(generalFlashes(drift, 25).inOneSecond).toBe(4);
  });

  // A pair counts from 10 % of the greatest relative luminance with the darker below 0.80 (WCAG definition).
  it.each([
    [0.5, 0.41, 0],
    [0.5, 0.4, 5],
    [1, 0.81, 0],
    [1, 0.79, 5],
  ])('%d to %d five times', (on, off, most) => {
    expect(generalFlashes(blink(21, 4, grey(on), grey(off)), 25).inOneSecond).toBe(most);
  });

  // BT.1702-3 joins its conditions by "and": area over 25 % and more than three flashes.
  it('needs more than a quarter of the picture', () => {
    const count = generalFlashes(blink(100, 5, grey(1), grey(0)), 25);
    expect(flashVerdict(count, leastArea, 25).overLimit).toBe(false);
    expect(flashVerdict(count, 0.26, 25).overLimit).toBe(true);
  });

  it('cautions of a sequence over 5 s within the limit', () => {
    const at = (seconds: number) => flashVerdict(generalFlashes(blink(25 * seconds, 9, grey(1), grey(0)), 25), 1, 25);
    expect(at(4)).toMatchObject({ overLimit: false, longSequence: false });
    expect(at(8)).toMatchObject({ overLimit: false, longSequence: true });
  });

  // WCAG: 0.006 steradian is a quarter of a 10° field, 0.25·2π(1 − cos 5°).
  it('takes a quarter of a 10° field as 0.006 sr', () => {
    expect(leastArea * 2 * Math.PI * (1 - Math.cos((5 * Math.PI) / 180))).toBeCloseTo(0.006, 4);
  });
});

describe('red flashes (WCAG 2.3.1)', () => {
  it('counts saturated red at any brightness', () => {
    const dim = blink(100, 6, { r: 0.08, g: 0, b: 0 }, grey(0));
    expect(generalFlashes(dim, 25).inOneSecond).toBe(0);
    expect(redFlashes(dim, 25).inOneSecond).toBeGreaterThan(3);
  });

  it('counts red against another colour by u′v′ (> 0.2)', () => {
    const frames = blink(100, 6, { r: 0.05, g: 0, b: 0 }, { r: 0, g: 0.015, b: 0 });
    expect(redFlashes(frames, 25).inOneSecond).toBeGreaterThan(3);
  });

  it('does not count two reds that are alike in colour and light', () => {
    // u′v′ of #ff0000 is .4507 .5229; a little blue moves it by less than 0.2, and the light changes by under 20 of 320.
    const frames = blink(100, 6, { r: 0.4, g: 0, b: 0 }, { r: 0.4, g: 0, b: 0.04 });
    expect(redFlashes(frames, 25).inOneSecond).toBe(0);
  });

  it('leaves amber and white to the general rule', () => {
    for (const text of ['#ffbf00', '#ffffff', '#ff8080']) {
      expect(redFlashes(blink(100, 6, colour(text), grey(0)), 25).inOneSecond).toBe(0);
    }
  });

  it('passes three a second', () => {
    const count = redFlashes(blink(100, 9, colour('#ff0000'), grey(0)), 25);
    expect(count.inOneSecond).toBe(3);
    expect(flashVerdict(count, 1, 25).overLimit).toBe(false);
  });
});

describe('an effect as the camera records it', () => {
  const effect = { duty: 0.5, on: grey(1), off: grey(0) };

  it('flashes as often as it is set to, below half the frame rate', () => {
    const frames = effectFrames({ ...effect, frequencyHz: 4, exposureS: 0.02 }, 75, 25);
    expect(generalFlashes(frames, 25).inOneSecond).toBe(4);
    const slow = effectFrames({ ...effect, frequencyHz: 2, exposureS: 0.02 }, 75, 25);
    expect(generalFlashes(slow, 25).inOneSecond).toBe(2);
  });

  it('folds at the frame rate: 23 Hz at 25 flashes twice a second, 25 Hz not at all (aliasing)', () => {
    const folded = effectFrames({ ...effect, frequencyHz: 23, exposureS: 0.001 }, 100, 25);
    expect(generalFlashes(folded, 25).inOneSecond).toBe(2);
    const still = effectFrames({ ...effect, frequencyHz: 25, exposureS: 0.001 }, 100, 25);
    expect(generalFlashes(still, 25).inOneSecond).toBe(0);
  });

  it('averages in the shutter: whole cycles leave nothing', () => {
    const frames = effectFrames({ ...effect, frequencyHz: 50, exposureS: 0.02 }, 50, 25);
    for (const { linear } of frames) expect(linear.r).toBeCloseTo(0.5, 6);
    const instant = effectFrames({ ...effect, frequencyHz: 3, exposureS: 0 }, 25, 25);
    expect(instant.every(({ linear }) => linear.r < 1e-6 || linear.r > 1 - 1e-6)).toBe(true);
  });
});
