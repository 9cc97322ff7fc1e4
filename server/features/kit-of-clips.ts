/**
 * Drafts the text of a kit's camera from what its clips say: each way of recording as a mode. What no clip tells (the size
 * of the sensor, ISO, log) stands as a comment, for the person.
 */
import { rateName } from '../core/derived/recorded-clips.ts';
import type { VideoFacts } from '../core/footage.ts';
import { bitRateText, listFirst, quoted, rasterText } from '../core/say.ts';
import type { Raster } from '../core/units.ts';
import { oneLine } from '../formats/escape.ts';

/** What a camera recorded. */
export interface KnownClip {
  readonly name: string;
  readonly video: VideoFacts;
}

export interface KitDraft {
  /** Undefined where no clip says a mode. */
  readonly text?: string;
  /** What was left out, and why, in words. */
  readonly notes: readonly string[];
}

interface Mode {
  readonly raster: Raster;
  readonly codec: string;
  readonly bits: number | undefined;
  readonly chroma: string | undefined;
  readonly colourSpace: string;
  readonly rates: readonly number[];
  readonly bitrateBps: number;
  readonly clips: readonly string[];
}

export function kitOfClips(clips: readonly KnownClip[], camera: string): KitDraft {
  const notes: string[] = [];
  const single = clips.flatMap((clip) => {
    const mode = modeOf(clip);
    if (typeof mode !== 'string') return [mode];
    notes.push(mode);
    return [];
  });
  if (single.length === 0) return { notes };
  return { text: textOf(merged(single), camera), notes };
}

/** Packed in each frame alone; the format has one word for them all. */
const intra: ReadonlySet<string> = new Set(['prores', 'mjpeg', 'dnxhd', 'dnxhr']);

/** What one clip says of its mode, or why it says none. */
function modeOf({ name, video }: KnownClip): Mode | string {
  const { codec, bitrate, bits, chroma, rate, rotationDeg, raster, colour, unevenFrames } = video;
  const clip = quoted(name);
  const written = intra.has(codec) ? 'intra' : codec;
  if (!['h264', 'h265', 'intra'].includes(written)) return `${clip} is ${codec}, which is no codec of a kit: left out.`;
  if (unevenFrames > 0) return `${clip} has no constant rate, so it tells none of a mode: left out.`;
  if (!bitrate) return `${clip} tells no bitrate: left out.`;
  const isTurned = rotationDeg % 180 !== 0;
  return {
    raster: isTurned ? { width: raster.height, height: raster.width } : raster,
    codec: written,
    bits,
    chroma: chroma === '4:0:0' ? undefined : chroma,
    colourSpace: { 'arib-std-b67': 'hlg', hlg: 'hlg', smpte2084: 'pq', pq: 'pq' }[colour.transfer ?? ''] ?? 'bt709',
    rates: [Number(rateName(rate))],
    bitrateBps: bitrate,
    clips: [name],
  };
}

/** Rates whose clips are about as large share a mode: the measured mean depends on what was filmed. */
const alikeBitrates = 1.25;

/** The finest first. */
function merged(modes: readonly Mode[]): Mode[] {
  // The same rate twice is one mode, however much was in the picture.
  const byRate = gathered(modes, (a, b) => a.rates[0] === b.rates[0]).sort((a, b) => a.rates[0]! - b.rates[0]!);
  const all = gathered(byRate, ({ bitrateBps: a }, { bitrateBps: b }) => Math.max(a / b, b / a) <= alikeBitrates);
  const size = ({ raster }: Mode) => raster.width * raster.height;
  return all.sort((a, b) => size(b) - size(a) || (b.bits ?? 8) - (a.bits ?? 8) || a.rates[0]! - b.rates[0]!);
}

/** Each is put to the first before it that differs in rate and bitrate at most and fits. */
function gathered(modes: readonly Mode[], fit: (a: Mode, b: Mode) => boolean): Mode[] {
  const all: Mode[] = [];
  for (const mode of modes) {
    const at = all.findIndex((one) => sortOf(one) === sortOf(mode) && fit(one, mode));
    if (at < 0) all.push(mode);
    else all[at] = both(all[at]!, mode);
  }
  return all;
}

function sortOf({ raster, codec, bits, chroma, colourSpace }: Mode): string {
  return [rasterText(raster), codec, bits, chroma, colourSpace].join();
}

function both(a: Mode, b: Mode): Mode {
  return {
    ...a,
    rates: [...new Set([...a.rates, ...b.rates])],
    bitrateBps: Math.max(a.bitrateBps, b.bitrateBps),
    clips: [...a.clips, ...b.clips],
  };
}

function textOf(modes: readonly Mode[], camera: string): string {
  return `${[
    'title: A camera, by clips that it recorded',
    'format: 1',
    '',
    'cameras:',
    `  ${camera}:`,
    '    # No clip tells these; the data sheet does. The sensor is needed.',
    '    # sensor: 23.5 x 15.6 mm',
    '    # base-iso: 100',
    '    # iso: 100 to 12800',
    '    # shutter: 1/8000 s to 1/24 s',
    '    modes: # as measured: bitrates are the largest mean of a clip, and a log recording is not marked as one',
    ...modes.map((mode) => `      - ${modeText(mode)} # ${oneLine(listFirst(mode.clips, 3))}`),
    '',
    '# Lenses, as their makers state them:',
    '# lenses:',
    '#   main: { focal: 35 mm, aperture: f/2 to f/16, nearest-focus: 35 cm }',
  ].join('\n')}\n`;
}

function modeText({ raster, rates, codec, bits, chroma, colourSpace, bitrateBps }: Mode): string {
  const said = [
    `raster: ${rasterText(raster)}`,
    `rate: ${rates.length > 1 ? `[${rates.join(', ')}]` : rates.join()}`,
    `codec: ${codec}`,
    ...(bits === undefined ? [] : [`bits: ${bits}`]),
    ...(chroma === undefined ? [] : [`chroma: ${chroma}`]),
    ...(colourSpace === 'bt709' ? [] : [`colour-space: ${colourSpace}`]),
    `bitrate: ${bitRateText(bitrateBps)}`,
  ];
  return `{ ${said.join(', ')} }`;
}
