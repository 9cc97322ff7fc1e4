import { bitsPerPixel } from '../../calc/data.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Deliverable } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { bitRateText, bytesText, num, secondsText } from '../../core/say.ts';
import { bitrateUnderCapBps, fileBytes, fileS, soundBitrateBps, usableShare } from '../../core/derived/file.ts';
import { bitRateBelow } from '../../core/derived/stream.ts';

export default defineRule({
  id: 'file-too-big',
  family: 'delivery',
  summary: 'The finished file is larger than it may be.',
  severity: 'error',
  sources: ['arithmetic; MB is 1000² bytes and MiB 1024² bytes'],
  messages: {
    over: '{deliverable}: {bitrate}{sound} for {seconds} makes {found}, and {cap} is the most. {fits}',
    close:
      '{deliverable}: {bitrate}{sound} for {seconds} makes {found} of {cap}, and the container still comes on top. {fits}',
  },
  deliverable(deliverable, { film, report }) {
    const { bitrate, largestFile, name } = deliverable;
    const seconds = fileS(deliverable, film);
    if (!bitrate || !largestFile || !seconds) return;
    const soundBps = soundBitrateBps(deliverable);
    const bytes = fileBytes(deliverable, film)!;
    if (bytes <= largestFile.value * usableShare * (1 + 1e-9)) return;
    const fitBps = bitrateUnderCapBps(deliverable, film)!;
    const over = bytes > largestFile.value;
    report({
      message: over ? 'over' : 'close',
      data: {
        deliverable: name,
        bitrate: bitrate.text,
        sound: soundBps > 0 ? ` and sound (taken as ${bitRateText(soundBps)})` : '',
        seconds: secondsText(seconds),
        found: bytesText(bytes),
        cap: largestFile.text,
        fits: fitText(deliverable, fitBps),
      },
      at: bitrate,
      excess: bytes / largestFile.value,
      // Those that take both over are mended with it.
      cause: bitrate,
      severity: over ? 'error' : 'info',
      fixes: () => fixes(deliverable, fitBps),
    });
  },
});

function fitText(deliverable: Deliverable, fitBps: number): string {
  const { raster, rate } = deliverable;
  if (fitBps < 1000) return 'Not even the sound fits: shorter, or a larger cap.';
  const pixels = raster && rate && bitsPerPixel(fitBps, raster.value.width, raster.value.height, rateFps(rate.value));
  return `${bitRateBelow(fitBps)} fits${pixels ? ` (${num(pixels, 2)} bits a pixel)` : ''}.`;
}

function fixes(deliverable: Deliverable, fitBps: number): FixIdea[] {
  if (fitBps < 1000) return [];
  const text = bitRateBelow(fitBps);
  return [set(`Set bitrate to ${text}`, [deliverable, 'bitrate', text])];
}
