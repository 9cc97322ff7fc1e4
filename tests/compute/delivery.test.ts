import { describe, expect, test } from 'vitest';
import { answer, problem, result, results } from '../helpers/compute.ts';

describe('level', () => {
  const level = (words: string) => results('level', words)['level'];

  // Rec. ITU-T H.264 table A-1 and H.265 tables A.8, A.9, as transcribed in FFmpeg.
  test.each([
    ['1280x720', 25, '3.1', '3.1'],
    ['1280x720', 60, '3.2', '4'],
    ['1920x1080', 25, '4', '4'],
    ['1920x1080', 60, '4.2', '4.1'],
    ['1080x1350', 30, '4', '4'],
    ['2560x1440', 30, '5', '5'],
    ['3840x2160', 25, '5.1', '5'],
    ['3840x2160', 60, '5.2', '5.1'],
    ['4096x2160', 30, '5.2', '5'],
  ])('%s at %d by size and rate', (raster, rate, h264, h265) => {
    expect(level(`codec=h264 profile=high raster=${raster} rate=${rate} bitrate=1Mb/s`)).toBe(h264);
    expect(level(`codec=h265 profile=main raster=${raster} rate=${rate} bitrate=1Mb/s`)).toBe(h265);
  });

  test.each([
    ['profile=high raster=1920x1080 rate=25 bitrate=25Mb/s', '4'],
    ['profile=high raster=1920x1080 rate=25 bitrate=26Mb/s', '4.1'],
    ['profile=high raster=1920x1080 rate=25 bitrate=62.5Mb/s', '4.1'],
    ['profile=high-10 raster=1920x1080 rate=25 bitrate=150Mb/s', '4.1'],
  ])('h264 %s', (words, expected) => {
    expect(level(`codec=h264 ${words}`)).toBe(expected);
  });

  test('2160p25 at 50 Mb/s is 5.2 in the Main tier and 5 in the High tier of HEVC', () => {
    const words = 'codec=h265 profile=main raster=3840x2160 rate=25 bitrate=50Mb/s';
    expect(answer('level', words)).toMatchObject({
      results: { level: '5.2' },
      notes: ['The level below allows 40 Mb/s, and this has 50 Mb/s.'],
    });
    expect(level(`${words} tier=high`)).toBe('5');
  });

  test('none may hold it', () => {
    expect(level('codec=h264 profile=high raster=20000x10000 rate=60 bitrate=1Mb/s')).toBeNull();
  });

  test('a profile or tier that the codec has not', () => {
    const stream = ['raster=1920x1080', 'rate=25', 'bitrate=20Mb/s'];
    expect(problem('level', 'codec=h265', 'profile=high', ...stream)).toContain('`high` is no profile of h265');
    expect(problem('level', 'codec=h264', 'profile=high', 'tier=high', ...stream)).toContain('h264 has no tiers');
  });
});

// Samples for each pixel: ITU-R BT.2100-3; the rest is arithmetic.
describe('data-rate', () => {
  test.each([
    ['raster=3840x2160 rate=25 depth=10 chroma=4:2:2', 4147.2],
    ['raster=3840x2160 rate=25 depth=8 chroma=4:2:0', 2488.32],
    ['raster=3840x2160 rate=50 depth=10 chroma=4:2:2', 8294.4],
    ['raster=3840x2160 rate=29.97 depth=10 chroma=4:2:2', 4971.668],
  ])('%s', (words, mbps) => {
    expect(result('data-rate', words, 'mbps')).toBeCloseTo(mbps, 3);
  });
});

describe('storage', () => {
  test.each([
    ['bitrate=100 Mb/s time=10 min', 7.5e9],
    ['bitrate=400Mb/s time=1h', 180e9],
    ['bitrate=2304kb/s time=1s', 288_000],
  ])('%s', (words, bytes) => {
    expect(result('storage', words, 'bytes')).toBeCloseTo(bytes, 3);
  });
});

describe('contrast', () => {
  // WCAG 2.2, contrast ratio; the values agree with colorjs.io and culori.
  test.each([
    ['#777', '#fff', 4.4781],
    ['#767676', '#ffffff', 4.5422],
    ['#949494', '#ffffff', 3.0335],
    ['#595959', '#ffffff', 7.0047],
    ['#ffffff', '#0000ff', 8.5925],
    ['#ffff00', '#ffffff', 1.0738],
    ['#000000', '#ffffff', 21],
  ])('%s on %s', (text, back, ratio) => {
    expect(Math.abs(result('contrast', `text=${text} back=${back}`, 'ratio') - ratio)).toBeLessThan(0.0001);
  });

  test('says what it is enough for', () => {
    expect(answer('contrast', 'text=#767676 back=#ffffff').notes[0]).toContain('text (1.4.3)');
    expect(answer('contrast', 'text=#777777 back=#ffffff').notes).toEqual(['Enough for large text (1.4.3).']);
    expect(answer('contrast', 'text=#959595 back=#ffffff').notes).toEqual(['Too little for any text.']);
  });
});

describe('reading', () => {
  // BBC subtitle guidelines: 160 to 180 words a minute, seven words 2.33 to 2.63 s; 42 characters at 15 a second 2.8 s and
  // 5/6 s at least: subtitling practice.
  test.each([
    ['text=It is in a box on top', 2.625],
    ['text=It is in a box on top wpm=180', 7 / 3],
    [`text=${'x'.repeat(42)}`, 2.8],
    ['text=Now', 5 / 6],
  ])('%s', (words, seconds) => {
    expect(result('reading', words, 'seconds')).toBeCloseTo(seconds, 9);
  });

  test('nothing to read', () => {
    expect(problem('reading', 'text=…')).toBe('`text=…` has no word to read.');
    expect(problem('reading', 'text=')).toBe('`text=` has no word to read.');
  });
});
