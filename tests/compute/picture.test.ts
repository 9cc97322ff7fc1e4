import smpteTimecode from 'smpte-timecode';
import { describe, expect, test } from 'vitest';
import { answer, problem, result, results } from '../helpers/compute.ts';

describe('zoom', () => {
  test.each([
    ['3840x2160', '1920x1080', 2],
    ['6000x3375', '3840x2160', 1.5625],
    ['3840x2160', '2560x1440', 1.5],
    ['3840x2160', '1080x1920', 1.125],
  ])('%s to %s', (capture, deliver, most) => {
    const found = results('zoom', `capture=${capture} deliver=${deliver}`);
    expect(found['max_zoom']).toBeCloseTo(most, 9);
    expect(found['straighten_zoom']).toBeCloseTo(1, 9);
  });

  // Geometry: max(cos α + (h/w)·sin α, cos α + (w/h)·sin α).
  test.each([
    [0.5, 1.01548],
    [1, 1.03087],
    [-2, 1.06143],
    [5, 1.15114],
    [10, 1.29352],
    [45, 1.96419],
  ])('straightened by %d°', (angle, least) => {
    const found = results('zoom', `capture=3840x2160 deliver=1920x1080 rotate=${angle}°`);
    expect(found['straighten_zoom']).toBeCloseTo(least, 5);
    expect(found['crop_width']).toBeCloseTo(3840 / (found['straighten_zoom'] as number), 6);
    expect((found['crop_width'] as number) / (found['crop_height'] as number)).toBeCloseTo(16 / 9, 9);
  });

  test('says what is left', () => {
    expect(answer('zoom', 'capture=3840x2160 deliver=1920x1080 rotate=5°').notes[0]).toContain('1.7374 ×');
    expect(answer('zoom', 'capture=1920x1080 deliver=1920x1080 rotate=5°').notes[0]).toContain('enlarged, 1.15 times');
  });
});

describe('blur', () => {
  // v = 2πr·rpm ÷ 60, blur = v·t·px/mm.
  test.each([
    ['rpm=1rpm radius=50mm time=1/50s px-per-mm=10', 1.0472],
    ['rpm=2 radius=5cm time=1/50s px-per-mm=10', 2.0944],
    ['rpm=1 radius=100mm time=1/50s px-per-mm=12.8', 2.6808],
    ['rpm=0.5 radius=60mm time=1/48s px-per-mm=19.2', 1.2566],
    ['speed=20 mm/s time=1/50s px-per-mm=10', 4],
  ])('%s', (words, px) => {
    expect(Math.abs(result('blur', words, 'blur_px') - px)).toBeLessThan(0.001);
  });
});

describe('safe-area', () => {
  // SMPTE ST 2046-1:2009 §5.1 to §5.4; 2160 lines: EBU R 95 v1.1 fig. 5.
  test.each([
    ['1920x1080', [1786, 1004], [1728, 972]],
    ['1280x720', [1190, 670], [1152, 648]],
    ['720x576', [670, 536], [648, 518]],
    ['720x480', [670, 446], [648, 432]],
    ['3840x2160', [3572, 2008], [3456, 1944]],
  ])('%s', (raster, [actionWidth, actionHeight], [titleWidth, titleHeight]) => {
    const found = answer('safe-area', `raster=${raster}`);
    expect(found.results).toEqual({
      action: { width: actionWidth, height: actionHeight },
      title: { width: titleWidth, height: titleHeight },
    });
    expect(found.notes).toEqual([]);
  });

  test('tall pictures only by analogy', () => {
    expect(answer('safe-area', 'raster=1080x1920').notes).toEqual([
      'No standard covers 1080x1920: the same shares, by analogy.',
    ]);
  });
});

describe('beats', () => {
  // rate × 60 ÷ tempo.
  test.each([
    ['60bpm', '23.976', 23.976],
    ['100bpm', '24', 14.4],
    ['110bpm', '25', 13.6364],
    ['120bpm', '25', 12.5],
    ['120bpm', '29.97', 14.985],
    ['128bpm', '25', 11.71875],
    ['140bpm', '50', 21.4286],
  ])('%s at %s', (tempo, rate, frames) => {
    expect(result('beats', `tempo=${tempo} rate=${rate}`, 'frames_per_beat')).toBeCloseTo(frames, 4);
  });

  test('half a frame goes up, beat after beat', () => {
    expect(results('beats', 'tempo=120bpm rate=25 count=8')['frames']).toEqual([0, 13, 25, 38, 50, 63, 75, 88, 100]);
    expect(results('beats', 'tempo=120bpm rate=25')['frames']).toHaveLength(9);
    expect(results('beats', 'tempo=100bpm rate=25 count=2')['frames']).toEqual([0, 15, 30]);
  });
});

describe('timecode', () => {
  // SMPTE ST 12-1, by the algorithm of libavutil/timecode.c; smpte-timecode as a second opinion.
  test.each([
    ['29.97', 1799, '00:00:59;29'],
    ['29.97', 1800, '00:01:00;02'],
    ['29.97', 17981, '00:09:59;29'],
    ['29.97', 17982, '00:10:00;00'],
    ['29.97', 107892, '01:00:00;00'],
    ['29.97', 2589407, '23:59:59;29'],
    ['59.94', 3600, '00:01:00;04'],
    ['59.94', 215784, '01:00:00;00'],
  ] as const)('drop-frame at %s: %d', (rate, frame, text) => {
    expect(results('timecode', `frames=${frame} rate=${rate} drop=yes`)['timecode']).toBe(text);
    expect(smpteTimecode(frame, Number(rate) as 29.97 | 59.94, true).toString()).toBe(text);
  });

  test('not drop-frame', () => {
    expect(results('timecode', 'frames=107892 rate=29.97')['timecode']).toBe('00:59:56:12');
    expect(results('timecode', 'frames=90000 rate=25')['timecode']).toBe('01:00:00:00');
  });

  test('drop-frame exists at two rates only', () => {
    expect(problem('timecode', 'frames=1', 'rate=25', 'drop=yes')).toBe(
      'There is no drop-frame counting at 25: only at 29.97 and 59.94.',
    );
    expect(problem('timecode', 'frames=1.5', 'rate=25')).toContain('must be a whole number, 0 or more');
  });
});
