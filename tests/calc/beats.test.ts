import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beatFrame, framesPerBeat, nearestBeat, tempo, wholeFrameTempos } from '../../server/calc/beats.ts';
import { parseRate, rate } from '../../server/calc/rate.ts';

const perBeat = (fps: string, bpm: number) => framesPerBeat(parseRate(fps)!, tempo(bpm));

describe('frames for each beat', () => {
  // rate × 60 ÷ tempo, with the exact rates of ITU-R BT.709-6.
  it.each([
    [60, 23.976, 24, 25, 29.97, 30, 50],
    [100, 14.3856, 14.4, 15, 17.982, 18, 30],
    [110, 13.0778, 13.0909, 13.6364, 16.3473, 16.3636, 27.2727],
    [120, 11.988, 12, 12.5, 14.985, 15, 25],
    [128, 11.2388, 11.25, 11.71875, 14.0485, 14.0625, 23.4375],
    [140, 10.2754, 10.2857, 10.7143, 12.8443, 12.8571, 21.4286],
  ])('%i beats a minute', (bpm, ...frames) => {
    ['23.976', '24', '25', '29.97', '30', '50'].forEach((fps, index) => {
      const { num, den } = perBeat(fps, bpm);
      expect(num / den).toBeCloseTo(frames[index]!, 4);
    });
  });

  it('stays a fraction', () => {
    expect(perBeat('25', 120)).toEqual({ num: 25, den: 2 });
    expect(perBeat('23.976', 120)).toEqual({ num: 12000, den: 1001 });
    expect(tempo(92.5)).toEqual({ num: 185, den: 2 });
  });

  it('has whole frames at 100, 125 and 150 for 25, and 119.880 for 15 frames at 29.97', () => {
    for (const [bpm, frames] of [
      [100, 15],
      [125, 12],
      [150, 10],
    ] as const) {
      expect(perBeat('25', bpm)).toEqual({ num: frames, den: 1 });
    }
    expect(wholeFrameTempos(rate(25), 120)).toEqual([125, 1500 / 13]);
    expect(wholeFrameTempos(rate(25), 125)).toEqual([125]);
    expect(wholeFrameTempos(rate(30000, 1001), 119.9)).toContainEqual(expect.closeTo(119.88, 3));
  });
});

describe('placing beats', () => {
  it('rounds half a frame up at 120 in 25: 0 13 25 38 50 63 75 88 100', () => {
    const frames = Array.from({ length: 9 }, (_, beat) => beatFrame(beat, perBeat('25', 120)));
    expect(frames).toEqual([0, 13, 25, 38, 50, 63, 75, 88, 100]);
  });

  it('is never more than half a frame off, however far', () => {
    fc.assert(
      fc.property(
        fc.nat(5000),
        fc.constantFrom('23.976', '25', '29.97'),
        fc.integer({ min: 40, max: 220 }),
        (beat, fps, bpm) => {
          const grid = perBeat(fps, bpm);
          const exact = (beat * grid.num) / grid.den;
          expect(Math.abs(beatFrame(beat, grid) - exact)).toBeLessThanOrEqual(0.5 + 1e-6);
        },
      ),
    );
  });

  it('finds a cut at frame 100 to be 3.75 frames before the beat at 103.75', () => {
    // Beat 0 on frame 3.75, 12.5 frames a beat: beat 8 lies at 103.75.
    const found = nearestBeat(100, perBeat('25', 120), 3.75);
    expect(found).toMatchObject({ beat: 8, position: 103.75, frame: 104, late: -3.75 });
  });

  it('counts half beats and bars', () => {
    expect(nearestBeat(7, perBeat('25', 120), 0, 0.5)).toMatchObject({ beat: 0.5, position: 6.25 });
    expect(nearestBeat(60, perBeat('25', 120), 0, 4)).toMatchObject({ beat: 4, position: 50 });
  });

  it('finds every beat from its own frame', () => {
    fc.assert(
      fc.property(fc.nat(3000), fc.integer({ min: 40, max: 220 }), (beat, bpm) => {
        const grid = perBeat('29.97', bpm);
        expect(nearestBeat(beatFrame(beat, grid), grid).beat).toBe(beat);
      }),
    );
  });
});
