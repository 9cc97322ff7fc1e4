/** Codec levels, data rates and storage. */
import { isProfileOf, type LevelBreach, lowestLevel } from '../calc/codec.ts';
import { rawBps, streamBytes } from '../calc/data.ts';
import { rateFps } from '../calc/rate.ts';
import { bitRateText, bytesText, num } from '../core/say.ts';
import { bitrate, chroma, codec, depth, profile, raster, rate, realTime, tier } from './quantities.ts';
import { defineTopic, needed, optional } from './topic.ts';

/** What of the next lower level is not enough. */
function breachText({ kind, found, limit, unit }: LevelBreach): string {
  if (kind === 'no-tier') return 'has no High tier';
  const amounts = unit === 'bit/s' ? [found, limit].map(bitRateText) : [found, limit].map((value) => num(value, 0));
  const what = { side: 'a side of', picture: 'a picture of', rate: 'a second of', bitrate: '', 'no-level': '' }[kind];
  const named = unit === 'bit/s' ? '' : ` ${unit}`;
  return `allows ${[what, amounts[1]].filter(Boolean).join(' ')}${named}, and this has ${amounts[0]}`;
}

const levelTopic = defineTopic({
  id: 'level',
  summary: 'The lowest codec level that holds a stream',
  keys: {
    codec: needed(codec, 'h264 or h265'),
    profile: needed(profile, 'profile of the codec'),
    raster: needed(raster, 'width and height in pixels'),
    rate: needed(rate, 'frames a second'),
    bitrate: needed(bitrate, 'highest bit rate of the picture'),
    tier: optional(tier, 'main or high, h265 only; main when left out'),
  },
  results: { level: { unit: '', meaning: 'lowest level', none: 'none holds it' } },
  formula:
    'the first level whose limits hold samples in a picture, each side (√(8 × the picture’s limit)), samples a second, and ' +
    'bit rate × the factor of the profile; h264 counts macroblocks of 16 × 16, h265 luma samples of sides padded to 8',
  source:
    'Rec. ITU-T H.264 A.3, tables A-1 and A-2; Rec. ITU-T H.265 A.4, tables A.8 and A.9 (as transcribed in FFmpeg)',
  example: ['codec=h264', 'profile=high', 'raster=1920x1080', 'rate=25', 'bitrate=20Mb/s'],
  compute({ codec: name, profile: used, raster: size, rate: frames, bitrate: bitrateBps, tier: written }) {
    if (!isProfileOf(name, used)) return { problem: `\`${used}\` is no profile of ${name} that is known here.` };
    if (written && name === 'h264') return { problem: 'h264 has no tiers: leave `tier` out.' };
    const found = lowestLevel({
      codec: name,
      profile: used,
      tier: written ?? 'main',
      widthPx: size.width,
      heightPx: size.height,
      fps: rateFps(frames),
      bitrateBps,
    });
    return {
      results: { level: found?.name ?? null },
      notes: found?.below ? [`The level below ${breachText(found.below)}.`] : [],
    };
  },
});

const dataRateTopic = defineTopic({
  id: 'data-rate',
  summary: 'Data rate of an uncompressed picture',
  keys: {
    raster: needed({ ...raster, example: '3840x2160' }, 'width and height in pixels'),
    rate: needed(rate, 'frames a second'),
    depth: needed(depth, 'bits of each sample'),
    chroma: needed(chroma, '4:2:0, 4:2:2 or 4:4:4'),
  },
  results: {
    mbps: { unit: 'Mb/s', meaning: 'data rate', say: (value) => `${num(value, 3)} Mb/s (${num(value / 8, 3)} MB/s)` },
  },
  formula: 'width × height × rate × bits × samples for each pixel (4:4:4 3, 4:2:2 2, 4:2:0 1.5) ÷ 10⁶',
  source: 'definitions of 4:4:4, 4:2:2 and 4:2:0 in ITU-R BT.2100-3; arithmetic',
  example: ['raster=3840x2160', 'rate=25', 'depth=10', 'chroma=4:2:2'],
  compute({ raster: { width, height }, rate: frames, depth: bits, chroma: sampling }) {
    return { results: { mbps: rawBps(width, height, rateFps(frames), bits, sampling) / 1e6 } };
  },
});

const storageTopic = defineTopic({
  id: 'storage',
  summary: 'Room that a recording or a file takes',
  keys: {
    bitrate: needed({ ...bitrate, example: '100 Mb/s' }, 'bit rate'),
    time: needed(realTime, 'how long it runs'),
  },
  results: {
    bytes: {
      unit: 'bytes',
      meaning: 'room',
      say: (value) => `${bytesText(value)} (${num(value / 2 ** 30, 3)} GiB)`,
    },
  },
  formula: 'bit rate × time ÷ 8; 1 GB is 10⁹ bytes, 1 GiB is 2³⁰',
  source: 'arithmetic with decimal prefixes (SI)',
  example: ['bitrate=100Mb/s', 'time=10min'],
  compute({ bitrate: bitsPerSecond, time }) {
    return { results: { bytes: streamBytes(bitsPerSecond, time) } };
  },
});

export const dataTopics = [levelTopic, dataRateTopic, storageTopic];
