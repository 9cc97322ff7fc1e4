import { rateFps } from '../../calc/rate.ts';
import { masterRead, plannedAt } from '../../core/derived/decoded-takes.ts';
import { framesText, runsS } from '../../core/derived/edit.ts';
import { defineRule } from '../../core/rule.ts';
import { num, rasterText } from '../../core/say.ts';

export default defineRule({
  id: 'master-picture-off',
  family: 'takes',
  summary: 'An exported film has another raster, rate or length than its deliverable.',
  severity: 'error',
  sources: ['the container’s index against the plan: ISO/IEC 14496-12'],
  messages: {
    raster: '{master} is {found}, where {deliverable} is {planned}. Export it in that raster.',
    pixels:
      '{master} has pixels that are {aspect} times as wide as high: players without that mark show it squeezed. Export it with square pixels.',
    rate: '{master} has {found} frames a second, where {deliverable} has {planned}. Export it at that rate from the takes, not from another export.',
    varies:
      '{master} has frames that stand for {smallest} to {largest} ms: its rate is not constant. Export it with a constant rate.',
    length:
      '{master} has {found}, where {deliverable} runs {planned}: {off} too {way}. See where the export starts and ends.',
  },
  master(master, { film, footage, report }) {
    const found = masterRead(master, footage);
    const video = found?.facts.video;
    if (!found || !video) return;
    const { deliverable, at } = found;
    const data = { master: found.name, deliverable: deliverable.name };
    const { raster, rate } = deliverable;
    if (raster && (video.raster.width !== raster.value.width || video.raster.height !== raster.value.height)) {
      const texts = { found: rasterText(video.raster), planned: raster.text };
      report({ message: 'raster', data: { ...data, ...texts }, at, related: plannedAt(raster) });
    } else if (video.pixelAspect !== undefined && Math.abs(video.pixelAspect - 1) > 0.001) {
      report({ message: 'pixels', data: { ...data, aspect: num(video.pixelAspect, 3) }, at });
    }
    if (video.largestStepS > video.smallestStepS * 1.2 + stampS && video.frames > 2) {
      const texts = { smallest: num(video.smallestStepS * 1000, 0), largest: num(video.largestStepS * 1000, 0) };
      report({ message: 'varies', data: { ...data, ...texts }, at, related: plannedAt(rate) });
      return;
    }
    const fps = rate && rateFps(rate.value);
    if (fps !== undefined && Math.abs(video.rate / fps - 1) > rateWithin) {
      const texts = { found: num(video.rate, 3), planned: rate!.text };
      report({ message: 'rate', data: { ...data, ...texts }, at, related: plannedAt(rate) });
      return;
    }
    const lengthS = runsS(deliverable, film);
    if (fps === undefined || lengthS === undefined) return;
    const planned = Math.round(lengthS * fps);
    const off = video.frames - planned;
    if (Math.abs(off) <= framesWithin) return;
    const way = off > 0 ? 'long' : 'short';
    const texts = {
      found: framesText(video.frames),
      planned: framesText(planned),
      off: framesText(Math.abs(off)),
      way,
    };
    report({
      message: 'length',
      data: { ...data, ...texts },
      at,
      excess: Math.abs(off),
      related: plannedAt(deliverable.length),
    });
  },
});

/** Containers round times to a millisecond. */
const stampS = 0.0011;
/** 29.97 is 0.1 % from 30. */
const rateWithin = 0.0004;
/** Encoders may keep or drop one at an end. */
const framesWithin = 1;
