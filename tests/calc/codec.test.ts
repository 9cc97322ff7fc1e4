import { describe, expect, it } from 'vitest';
import {
  type CodecTier,
  isProfileOf,
  levelBitrateBps,
  levelBreach,
  levelNames,
  lowestLevel,
  profileFor,
  type Stream,
} from '../../server/calc/codec.ts';
import {
  bitrateForFileBps,
  bitsPerPixel,
  energyWh,
  evenBelow,
  oddSides,
  rawBps,
  streamBytes,
  takesBytes,
} from '../../server/calc/data.ts';

function h264(widthPx: number, heightPx: number, fps: number, bitrateBps?: number): Stream {
  return { codec: 'h264', widthPx, heightPx, fps, profile: 'high', tier: 'main', bitrateBps };
}

function hevc(widthPx: number, heightPx: number, fps: number, bitrateBps?: number, tier: CodecTier = 'main'): Stream {
  return { codec: 'h265', widthPx, heightPx, fps, profile: 'main', tier, bitrateBps };
}

describe('lowest levels by size and rate', () => {
  // Rec. ITU-T H.264 table A-1; H.265 tables A.8 and A.9 (as transcribed in an open video library).
  it.each([
    [1280, 720, 25, '3.1', '3.1'],
    [1280, 720, 30, '3.1', '3.1'],
    [1280, 720, 60, '3.2', '4'],
    [1920, 1080, 25, '4', '4'],
    [1920, 1080, 30000 / 1001, '4', '4'],
    [1920, 1080, 30, '4', '4'],
    [1920, 1080, 50, '4.2', '4.1'],
    [1920, 1080, 60, '4.2', '4.1'],
    [1080, 1080, 30, '3.2', '4'],
    [1080, 1350, 30, '4', '4'],
    [1080, 1920, 30, '4', '4'],
    [2560, 1440, 30, '5', '5'],
    [2560, 1440, 60, '5.1', '5'],
    [3840, 2160, 24, '5.1', '5'],
    [3840, 2160, 25, '5.1', '5'],
    [3840, 2160, 30, '5.1', '5'],
    [3840, 2160, 50, '5.2', '5.1'],
    [3840, 2160, 60, '5.2', '5.1'],
    [4096, 2160, 30, '5.2', '5'],
  ])('%i × %i at %d', (width, height, fps, avc, hevcLevel) => {
    expect(lowestLevel(h264(width, height, fps))?.name).toBe(avc);
    expect(lowestLevel(hevc(width, height, fps))?.name).toBe(hevcLevel);
  });

  it('says what the level below breaks', () => {
    expect(lowestLevel(h264(4096, 2160, 30))?.below).toEqual({
      kind: 'rate',
      found: 1036800,
      limit: 983040,
      unit: 'macroblocks',
    });
    expect(levelBreach(h264(1920, 1080, 25), '3.2')).toMatchObject({ kind: 'picture', found: 8160, limit: 5120 });
    expect(levelBreach(hevc(4096, 2160, 31), '5')).toMatchObject({ kind: 'rate', limit: 267386880 });
    expect(levelBreach(hevc(4096, 2160, 30), '5')).toBeUndefined();
  });

  it('limits each side to √(8 × the picture)', () => {
    // Level 4: √(8 · 8192) = 256 macroblocks.
    expect(levelBreach(h264(4096, 16, 1), '4')).toBeUndefined();
    expect(levelBreach(h264(4112, 16, 1), '4')).toMatchObject({ kind: 'side', found: 257, limit: 256 });
  });

  it('holds nothing larger than the last level', () => {
    expect(lowestLevel(h264(20000, 20000, 25))).toBeUndefined();
    expect(levelBreach(h264(1920, 1080, 25), '9')?.kind).toBe('no-level');
    expect(levelNames('h264')).toHaveLength(20);
    expect(lowestLevel(h264(16, 16, 1))).toEqual({ name: '1' });
  });
});

describe('bitrates', () => {
  // MaxBR of table A-1 with the factors of table A-2 (VCL): High 1250, High 10 3000, High 4:2:2 4000.
  it.each([
    ['4', 'high', 25e6],
    ['4.1', 'high', 62.5e6],
    ['4.1', 'high-10', 150e6],
    ['5.1', 'high-4-2-2', 960e6],
    ['4.1', 'main', 50e6],
  ] as const)('H.264 level %s %s', (level, profile, bps) => {
    expect(levelBitrateBps({ ...h264(16, 16, 1), profile }, level)).toBe(bps);
  });

  it('needs HEVC 5.2 in the Main tier for 50 Mb/s at 2160p25, and level 5 in the High tier', () => {
    expect(lowestLevel(hevc(3840, 2160, 25, 50e6))).toEqual({
      name: '5.2',
      below: { kind: 'bitrate', found: 50e6, limit: 40e6, unit: 'bit/s' },
    });
    expect(lowestLevel(hevc(3840, 2160, 25, 50e6, 'high'))?.name).toBe('5');
    expect(levelBreach(hevc(3840, 2160, 25, 40e6), '5.1')).toBeUndefined();
    expect(levelBitrateBps({ ...hevc(16, 16, 1), profile: 'main-4-2-2-10' }, '5.1')).toBe(66680000);
  });

  it('has no High tier below level 4', () => {
    expect(levelBreach(hevc(640, 360, 25, 1e6, 'high'), '3')?.kind).toBe('no-tier');
    expect(lowestLevel(hevc(640, 360, 25, 1e6, 'high'))?.name).toBe('4');
  });

  it('chooses the profile that bits and chroma need', () => {
    expect(profileFor('h264', 8, '4:2:0')).toBe('high');
    expect(profileFor('h264', 10, '4:2:0')).toBe('high-10');
    expect(profileFor('h264', 10, '4:2:2')).toBe('high-4-2-2');
    expect(profileFor('h265', 8, '4:2:0')).toBe('main');
    expect(profileFor('h265', 10, '4:2:0')).toBe('main-10');
    expect(profileFor('h265', 10, '4:2:2')).toBe('main-4-2-2-10');
    expect(profileFor('h265', 12, '4:2:0')).toBeUndefined();
    expect(profileFor('h264', 8, '4:4:4')).toBeUndefined();
    expect(isProfileOf('h265', 'high')).toBe(false);
    expect(isProfileOf('h264', 'high-10')).toBe(true);
  });
});

describe('data rates', () => {
  // Samples for each pixel by the definitions of ITU-R BT.2100-3.
  it.each([
    [25, 10, '4:2:2', 4147.2],
    [25, 8, '4:2:0', 2488.32],
    [25, 10, '4:2:0', 3110.4],
    [50, 10, '4:2:2', 8294.4],
    [24, 10, '4:2:2', 3981.312],
    [30000 / 1001, 10, '4:2:2', 4971.668],
  ] as const)('2160 lines at %d, %i bits %s', (fps, bits, chroma, megabits) => {
    expect(rawBps(3840, 2160, fps, bits, chroma) / 1e6).toBeCloseTo(megabits, 3);
  });

  it('makes 31.104 GB a minute of 2160p25 4:2:2 10, and 6 220 800 bytes of an RGB frame of 1080 lines', () => {
    expect(streamBytes(rawBps(3840, 2160, 25, 10, '4:2:2'), 60) / 1e9).toBeCloseTo(31.104, 9);
    expect(streamBytes(rawBps(1920, 1080, 1, 8, '4:4:4'), 1)).toBe(6220800);
  });

  it('counts files, cards and sound in decimal units', () => {
    expect(streamBytes(100e6, 600)).toBe(7.5e9);
    expect(streamBytes(100e6, 600) / 2 ** 30).toBeCloseTo(6.985, 3);
    expect(streamBytes(400e6, 3600)).toBe(180e9);
  });

  it('fits a bitrate into a cap', () => {
    const bps = bitrateForFileBps(250e6, 60, 320e3);
    expect(streamBytes(bps + 320e3, 60)).toBeCloseTo(250e6, 3);
    expect(bps / 1e6).toBeCloseTo(33, 0);
    expect(bitrateForFileBps(1000, 60, 320e3)).toBe(0);
  });

  it('spends 0.154 bits a pixel on 8 Mb/s and 0.058 on 3 Mb/s at 1080p25 (arithmetic)', () => {
    expect(bitsPerPixel(8e6, 1920, 1080, 25)).toBeCloseTo(0.154, 3);
    expect(bitsPerPixel(3e6, 1920, 1080, 25)).toBeCloseTo(0.058, 3);
  });

  it('fills a card with 64 takes of 20 s at 150 Mb/s to 26.9 GB', () => {
    expect(takesBytes(150e6, 20, 64) / 1e9).toBeCloseTo(26.93, 2);
    expect(takesBytes(150e6, 20, 96) / 1e9).toBeCloseTo(40.39, 2);
  });

  it('lasts by watt-hours (V·Ah; 80 % is common practice, no source)', () => {
    expect(14.4 * 6.8).toBeCloseTo(97.92, 9);
    expect(energyWh(9, 2)).toBe(18);
  });
});

describe('even sides (chroma definitions of BT.709 and BT.2020)', () => {
  it('wants both even in 4:2:0, the width in 4:2:2, none in 4:4:4', () => {
    expect(oddSides(3840, 1607, '4:2:0')).toEqual(['height']);
    expect(oddSides(1081, 1351, '4:2:0')).toEqual(['width', 'height']);
    expect(oddSides(1081, 1351, '4:2:2')).toEqual(['width']);
    expect(oddSides(1081, 1351, '4:4:4')).toEqual([]);
    expect(oddSides(1920, 1080, '4:2:0')).toEqual([]);
  });

  it('makes 1606 of 3840 ÷ 2.39', () => {
    expect(evenBelow(3840 / 2.39)).toBe(1606);
    expect(evenBelow(1607)).toBe(1606);
    expect(evenBelow(1606)).toBe(1606);
  });
});
