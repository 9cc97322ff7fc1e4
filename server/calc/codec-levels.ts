/** The level tables of H.264 and HEVC, as numbers. */

export interface H264Level {
  readonly name: string;
  /** Macroblocks a second and in a picture. */
  readonly maxMbps: number;
  readonly maxFs: number;
  /** kbit/s before the profile's factor. */
  readonly maxBr: number;
}

function h264(name: string, maxMbps: number, maxFs: number, maxBr: number): H264Level {
  return { name, maxMbps, maxFs, maxBr };
}

/** Rec. ITU-T H.264 table A-1. */
export const h264Levels: readonly H264Level[] = [
  h264('1', 1485, 99, 64),
  h264('1b', 1485, 99, 128),
  h264('1.1', 3000, 396, 192),
  h264('1.2', 6000, 396, 384),
  h264('1.3', 11880, 396, 768),
  h264('2', 11880, 396, 2000),
  h264('2.1', 19800, 792, 4000),
  h264('2.2', 20250, 1620, 4000),
  h264('3', 40500, 1620, 10000),
  h264('3.1', 108000, 3600, 14000),
  h264('3.2', 216000, 5120, 20000),
  h264('4', 245760, 8192, 20000),
  h264('4.1', 245760, 8192, 50000),
  h264('4.2', 522240, 8704, 50000),
  h264('5', 589824, 22080, 135000),
  h264('5.1', 983040, 36864, 240000),
  h264('5.2', 2073600, 36864, 240000),
  h264('6', 4177920, 139264, 240000),
  h264('6.1', 8355840, 139264, 480000),
  h264('6.2', 16711680, 139264, 800000),
];

export interface HevcLevel {
  readonly name: string;
  /** Luma samples in a picture and a second. */
  readonly maxLumaPs: number;
  readonly maxLumaSr: number;
  /** kbit/s before the profile's factor, by tier; there is no High tier below level 4. */
  readonly maxBrMain: number;
  readonly maxBrHigh: number | undefined;
}

function hevc(name: string, ps: number, sr: number, main: number, high?: number): HevcLevel {
  return { name, maxLumaPs: ps, maxLumaSr: sr, maxBrMain: main, maxBrHigh: high };
}

/** Rec. ITU-T H.265 tables A.8 and A.9, from level 3. */
export const hevcLevels: readonly HevcLevel[] = [
  hevc('3', 552960, 16588800, 6000),
  hevc('3.1', 983040, 33177600, 10000),
  hevc('4', 2228224, 66846720, 12000, 30000),
  hevc('4.1', 2228224, 133693440, 20000, 50000),
  hevc('5', 8912896, 267386880, 25000, 100000),
  hevc('5.1', 8912896, 534773760, 40000, 160000),
  hevc('5.2', 8912896, 1069547520, 60000, 240000),
  hevc('6', 35651584, 1069547520, 60000, 240000),
  hevc('6.1', 35651584, 2139095040, 120000, 480000),
  hevc('6.2', 35651584, 4278190080, 240000, 800000),
];
