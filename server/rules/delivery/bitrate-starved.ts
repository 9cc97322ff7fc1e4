import { levelBitrateBps } from '../../calc/codec.ts';
import { bitsPerPixel, streamBytes } from '../../calc/data.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Deliverable, Film, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { bitRateText, bytesText, num, secondsText } from '../../core/say.ts';
import { bitrateUnderCapBps, fileBytes, fileS } from '../../core/derived/file.ts';
import { bitRateAbove, levelled, levelName, streamOf } from '../../core/derived/stream.ts';

export default defineRule({
  id: 'bitrate-starved',
  family: 'delivery',
  summary: 'The bitrate is too low for the picture, so soft gradients break into blocks.',
  severity: 'warning',
  sources: ['common practice, no source (bits for each pixel; encoders differ by a factor of two)'],
  limits: {
    'h264-least': { quantity: 'number', default: '0.07', meaning: 'Least bits for each pixel with H.264.' },
    'h264-clean': { quantity: 'number', default: '0.1', meaning: 'Bits for each pixel that look clean with H.264.' },
    'h265-least': { quantity: 'number', default: '0.045', meaning: 'Least bits for each pixel with HEVC.' },
    'h265-clean': { quantity: 'number', default: '0.06', meaning: 'Bits for each pixel that look clean with HEVC.' },
  },
  messages: {
    blocks:
      '{deliverable}: {bitrate} for {raster} at {rate} is {found} bits a pixel{grain}: soft gradients {may} show blocks. {clean} is clean enough.{cap}',
  },
  deliverable(deliverable, { film, limits, report }) {
    const { codec, bitrate, raster, rate, name } = deliverable;
    if (!levelled(codec) || !bitrate || !raster || !rate || isTooBig(deliverable, film)) return;
    const { width, height } = raster.value;
    const found = bitsPerPixel(bitrate.value, width, height, rateFps(rate.value));
    const isGrainy = hasGrain(deliverable);
    const more = (isGrainy ? grainFactor : 1) * shareOfFast(rateFps(rate.value));
    const clean = limits[`${codec}-clean`] * more;
    if (found >= limits[`${codec}-least`] * more - 1e-9) return;
    const cleanBps = clean * width * height * rateFps(rate.value);
    const under = bitrateUnderCapBps(deliverable, film);
    const capped = under !== undefined && under < cleanBps;
    report({
      message: 'blocks',
      // Encoders differ by a factor of two.
      severity: found < clean / 2 ? undefined : 'info',
      data: {
        deliverable: name,
        bitrate: bitrate.text,
        raster: raster.text,
        rate: rate.text,
        found: num(found, 3),
        may: found < clean / 2 ? 'will' : 'may',
        grain: isGrainy ? ', and grain takes half as much again' : '',
        clean: bitRateAbove(cleanBps),
        cap: capped
          ? ` The largest file allows ${bitRateText(under)}: a smaller picture, HEVC or fewer seconds help.`
          : '',
      },
      at: bitrate,
      fixes: () => (capped ? [] : raise(deliverable, film, cleanBps)),
    });
  },
});

/** A file over its cap has a finding of its own, and must get smaller first. */
function isTooBig(deliverable: Deliverable, film: Film): boolean {
  return (fileBytes(deliverable, film) ?? 0) > (deliverable.largestFile?.value ?? Infinity);
}

/** Grain and noise can't be foretold from frame to frame; half as much again, common practice, no source. */
const grainFactor = 1.5;

/** Pictures that follow each other faster differ less: those over 30 a second take half (common practice, no source). */
function shareOfFast(fps: number): number {
  return fps <= 30 ? 1 : (30 + (fps - 30) / 2) / fps;
}

function hasGrain({ pieces }: Deliverable): boolean {
  return pieces.some((piece) => piece.shot?.onPurpose.some(isGrain));
}

function isGrain({ value }: Val<string>): boolean {
  return value === 'grain';
}

/** The clean bitrate, where the stated level has room for it. */
function raise(deliverable: Deliverable, film: Film, cleanBps: number): FixIdea[] {
  const stream = streamOf(deliverable);
  const { codecLevel } = deliverable;
  const limit = stream && codecLevel && levelBitrateBps(stream, levelName(codecLevel.value));
  if (limit !== undefined && limit < cleanBps) return [];
  const text = bitRateAbove(cleanBps);
  const seconds = fileS(deliverable, film);
  const price = seconds ? ` (${bytesText(streamBytes(cleanBps, seconds))} for ${secondsText(seconds)})` : '';
  return [set(`Set bitrate to ${text}${price}`, [deliverable, 'bitrate', text])];
}
