import { describe, expect, it } from 'vitest';
import { semitones } from '../../server/calc/sound.ts';
import { bt709CodesInStop, bt709Signal, codeRange, logCodesInStop } from '../../server/calc/tone.ts';

describe('tones', () => {
  // ITU-R BT.709-6: V = 1.099·L^0.45 − 0.099, 4.5·L below 0.018; narrow range 16 to 235 and 64 to 940.
  it('follows the BT.709 curve', () => {
    expect(bt709Signal(1)).toBeCloseTo(1, 9);
    expect(bt709Signal(0)).toBe(0);
    expect(bt709Signal(0.018)).toBeCloseTo(4.5 * 0.018, 3);
    expect(codeRange(8)).toBe(235 - 16);
    expect(codeRange(10)).toBe(940 - 64);
  });

  it('has 41 codes from mid-grey up, 22 two stops down, and 16 or 63 in a stop of 14-stop log', () => {
    expect(bt709CodesInStop(0, 8)).toBeCloseTo(41, 0);
    expect(bt709CodesInStop(-2, 8)).toBeCloseTo(22, 0);
    expect(logCodesInStop(8)).toBeCloseTo(16, 0);
    expect(logCodesInStop(10)).toBeCloseTo(63, 0);
  });
});

describe('sound', () => {
  // Equal temperament: an octave is 12 semitones, a fifth of 3 : 2 is 7.02.
  it.each([
    [0.5, -12],
    [1.5, 7.02],
    [25 / 24, 0.71],
    [1000 / 1001, -0.017],
    [5 / 6, -3.16],
    [-1, 0],
  ])('speed %d shifts %d semitones', (speed, shift) => {
    expect(semitones(speed)).toBeCloseTo(shift, 2);
  });
});
