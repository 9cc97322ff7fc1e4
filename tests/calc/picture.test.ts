/** Repeated frames, cuts, codes and bars, in numbers that say what they are. */
import { describe, expect, test } from 'vitest';
import { BarMeter, endCodes, type LumaFrame } from '../../server/calc/code-values.ts';
import { findJumps } from '../../server/calc/picture-cuts.ts';
import { findRepeats } from '../../server/calc/repeats.ts';

const changes = (...values: readonly number[]) => Float32Array.from([Infinity, ...values]);
const moving = (count: number) => Array.from({ length: count }, () => 0.01);
const same = (count: number) => Array.from({ length: count }, () => 0);

describe('frames that repeat', () => {
  test('one among frames that move', () => {
    expect(findRepeats(changes(...moving(5), 0, ...moving(5)), 25)).toEqual({ single: [6], still: [] });
  });
  test('half a second and more is a picture that stands still', () => {
    const found = findRepeats(changes(...moving(20), ...same(14), ...moving(20)), 25);
    expect(found).toEqual({ single: [], still: [{ fromFrame: 21, toFrame: 34 }] });
  });
  test('a thing on a table, of which nothing moves, repeats nothing', () => {
    expect(findRepeats(changes(...same(100)), 25)).toEqual({ single: [], still: [] });
    expect(findRepeats(changes(...Array.from({ length: 100 }, (_, at) => (at % 3) * 0.00015)), 25).single).toEqual([]);
  });
});

describe('cuts', () => {
  const no = Float32Array.from({ length: 40 }, () => Infinity);
  test('a jump between frames that follow on', () => {
    expect(findJumps(changes(...moving(10), 0.2, ...moving(10)), no)).toEqual([11]);
  });
  test('a dissolve is none', () => {
    expect(findJumps(changes(...moving(10), 0.06, 0.06, 0.06, 0.06, 0.06, 0.06, ...moving(10)), no)).toEqual([]);
  });
  test('a flash that goes back is none', () => {
    const skips = Float32Array.from({ length: 40 }, (_, at) => (at === 12 ? 0.01 : 0.2));
    expect(findJumps(changes(...moving(10), 0.2, 0.2, ...moving(10)), skips)).toEqual([]);
  });
});

/** A frame of lines of equal codes, or of code by place. */
function frame(width: number, height: number, code: (x: number, y: number) => number, more: Partial<LumaFrame> = {}) {
  const codes = Uint16Array.from({ length: width * height }, (_, at) => code(at % width, Math.floor(at / width)));
  return { width, height, codes, bits: 8, range: 'limited', ...more } as LumaFrame;
}

describe('codes at the ends', () => {
  test('nominal white and black where nothing lies beyond (BT.709: 235 and 16)', () => {
    const found = endCodes(frame(100, 100, (_, y) => (y < 5 ? 235 : y < 8 ? 16 : 100)));
    expect(found).toEqual({ top: 0.05, bottom: 0.03 });
  });
  test('the end of the codes where a camera uses what lies over white', () => {
    const found = endCodes(frame(100, 100, (_, y) => (y < 5 ? 235 : y < 6 ? 245 : y < 8 ? 254 : 100)));
    expect(found.top).toBeCloseTo(0.02);
  });
  test('of 10 bits and of full range', () => {
    expect(endCodes(frame(100, 100, (_, y) => (y < 5 ? 940 : 500), { bits: 10 })).top).toBeCloseTo(0.05);
    expect(endCodes(frame(100, 100, (_, y) => (y < 5 ? 255 : y < 9 ? 235 : 90), { range: 'full' })).top).toBeCloseTo(
      0.05,
    );
  });
});

describe('bars', () => {
  const barsOf = (...frames: readonly LumaFrame[]) => {
    const meter = new BarMeter();
    for (const one of frames) meter.push(one);
    return meter.read();
  };
  test('above and below', () => {
    const found = barsOf(frame(160, 90, (x, y) => (y < 11 || y >= 79 ? 16 : 60 + (x % 50))));
    expect(found).toEqual({ at: 'above and below', first: 11, second: 11 });
  });
  test('at the sides', () => {
    expect(barsOf(frame(160, 90, (x) => (x < 20 || x >= 140 ? 17 : 90)))).toEqual({
      at: 'at the sides',
      first: 20,
      second: 20,
    });
  });
  test('a thing before black has none', () => {
    const lit = frame(160, 90, (x, y) => (Math.hypot(x - 80, y - 45) < 30 ? 150 : 16));
    expect(barsOf(lit)).toBeUndefined();
  });
  test('nor has a box that stands free', () => {
    expect(barsOf(frame(160, 90, (x, y) => (x > 40 && x < 120 && y > 20 && y < 70 ? 150 : 16)))).toBeUndefined();
  });
  test('what one frame does not have is none', () => {
    const bar = frame(160, 90, (_, y) => (y < 11 || y > 78 ? 16 : 90));
    expect(
      barsOf(
        bar,
        frame(160, 90, () => 90),
      ),
    ).toBeUndefined();
  });
});
