import Oracle from 'smpte-timecode';
import { describe, expect, it } from 'vitest';
import { framesToS, rate } from '../../server/calc/rate.ts';
import {
  frameToTimecode,
  hasDropFrame,
  nextLegalTimecode,
  nonDropLagSPerHour,
  timecodeFault,
  timecodeText,
  type Timecode,
} from '../../server/calc/timecode.ts';

const ntsc = rate(30000, 1001);
const fast = rate(60000, 1001);

function code(text: string): Timecode {
  const [hours = 0, minutes = 0, seconds = 0, frames = 0] = text.split(/[:;]/).map(Number);
  return { hours, minutes, seconds, frames, drop: text.includes(';') };
}

describe('drop-frame timecode (SMPTE ST 12-1; algorithm as in libavutil/timecode.c)', () => {
  it.each([
    [0, '00:00:00;00'],
    [1799, '00:00:59;29'],
    [1800, '00:01:00;02'],
    [17981, '00:09:59;29'],
    [17982, '00:10:00;00'],
    [107891, '00:59:59;29'],
    [107892, '01:00:00;00'],
    [2589407, '23:59:59;29'],
  ])('frame %i at 29.97 is %s', (frame, text) => {
    expect(timecodeText(frameToTimecode(frame, ntsc, true))).toBe(text);
  });

  it.each([
    [3599, '00:00:59;59'],
    [3600, '00:01:00;04'],
    [35964, '00:10:00;00'],
    [215784, '01:00:00;00'],
  ])('frame %i at 59.94 is %s', (frame, text) => {
    expect(timecodeText(frameToTimecode(frame, fast, true))).toBe(text);
  });

  it('agrees with a timecode library both ways over a day', () => {
    const oracle = (frame: number, num: number, drop: boolean) => Oracle(frame, [num, 1001], drop);
    for (let frame = 0; frame < 2589408; frame += 617) {
      const found = frameToTimecode(frame, ntsc, true);
      const text = timecodeText(found);
      expect(text).toBe(oracle(frame, 30000, true).toString());
    }
    for (let frame = 0; frame < 200_000; frame += 37) {
      expect(timecodeText(frameToTimecode(frame, fast, true))).toBe(oracle(frame, 60000, true).toString());
      expect(timecodeText(frameToTimecode(frame, ntsc, false))).toBe(oracle(frame, 30000, false).toString());
    }
  });

  it('counts every frame once, around each minute', () => {
    let last = '';
    for (let frame = 0; frame < 40_000; frame++) {
      const text = timecodeText(frameToTimecode(frame, ntsc, true));
      expect(text > last).toBe(true);
      expect(timecodeFault(code(text), ntsc)).toBeUndefined();
      last = text;
    }
  });

  it('runs 86.4 ms a day ahead of the clock', () => {
    expect(framesToS(2589408, ntsc)).toBeCloseTo(86399.9136, 4);
  });
});

describe('what cannot be', () => {
  it.each(['00:01:00;00', '00:01:00;01', '00:59:00;01', '10:11:00;00'])('%s does not exist at 29.97', (text) => {
    expect(timecodeFault(code(text), ntsc)).toBe('dropped-number');
    expect(timecodeText(nextLegalTimecode(code(text), ntsc))).toBe(`${text.slice(0, 8)};02`);
  });
  it.each(['00:10:00;00', '00:01:00;02', '00:00:00;00', '00:01:01;00', '00:01:00:00'])('%s does', (text) => {
    expect(timecodeFault(code(text), ntsc)).toBeUndefined();
    expect(nextLegalTimecode(code(text), ntsc)).toEqual(code(text));
  });
  it('drops four numbers at 59.94', () => {
    expect(timecodeFault(code('00:01:00;03'), fast)).toBe('dropped-number');
    expect(timecodeFault(code('00:01:00;04'), fast)).toBeUndefined();
  });
  it('has drop-frame at 30000/1001 and 60000/1001 only', () => {
    expect([rate(25), rate(30), rate(24000, 1001), rate(120000, 1001)].some(hasDropFrame)).toBe(false);
    expect(timecodeFault(code('00:00:10;00'), rate(25))).toBe('no-drop-frame-at-this-rate');
    expect(frameToTimecode(1800, rate(30), true)).toEqual(code('00:01:00:00'));
  });
  it.each(['24:00:00:00', '00:60:00:00', '00:00:60:00', '00:00:00:25'])('%s is out of range at 25', (text) => {
    expect(timecodeFault(code(text), rate(25))).toBe('out-of-range');
  });
});

describe('non-drop timecode', () => {
  it('has 90 000 frames an hour at 25 and 108 000 at 29.97, which last 3603.6 s', () => {
    expect(nonDropLagSPerHour(ntsc)).toBeCloseTo(3.6, 9);
    expect(nonDropLagSPerHour(rate(25))).toBe(0);
  });
});
