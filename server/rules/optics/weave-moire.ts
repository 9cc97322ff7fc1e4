import { diffractionContrast, effectiveFNumber, magnification } from '../../calc/optics.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import { fieldAt, lensAt, pictureRaster } from '../../core/derived/optics.ts';
import { showingsOf, still, tryShot } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Shot } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { listText, num, pixelsText, quoted } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';
import { subjectText } from '../framing/framing-text.ts';
import { distanceChange } from './distance-change.ts';

const messages = {
  recorded:
    '{shot}: one thread of {subject} ({weave}) covers {px} recorded pixels. From {least} to {most} a weave beats with the grid of the sensor, and false waves, often coloured, lie over the cloth. No edit takes them out: go nearer or farther, and look at a test at full size.',
  delivered:
    '{shot}: one thread of {subject} ({weave}) covers {px} pixels in {deliverables}, fewer than the 2 that show a weave: it may shimmer where it moves. Soften it before it is made smaller, or show it from nearer.',
} as const;

type Ctx = Context<typeof messages, { least: Limit; most: Limit }>;

export default defineRule({
  id: 'weave-moire',
  family: 'optics',
  summary: 'A weave is as fine as the pixels and beats with them.',
  severity: 'warning',
  sources: [
    'sampling theorem: two pixels for each period',
    'common practice, no source (2.5 pixels: each colour has fewer pixels than the sensor)',
    'transfer function of a circular opening: what diffraction leaves of the contrast',
  ],
  limits: {
    least: {
      quantity: 'number',
      default: '1',
      meaning: 'Recorded pixels for each thread under which it averages out.',
    },
    most: { quantity: 'number', default: '2.5', meaning: 'Recorded pixels for each thread from which it is a weave.' },
  },
  messages,
  shot(shot, context) {
    const { film, limits, report } = context;
    // Whoever is looked at wears other cloth, of which nothing is said.
    const weave = looksAtSomebody(shot, film) ? undefined : shot.subject.weave;
    const px = recordedPx(shot);
    if (!weave || px === undefined) return;
    if (!isBetween(px, limits)) return checkDelivered(shot, px, context);
    if (!isSeen(shot, px)) return;
    report({
      message: 'recorded',
      data: { ...named(shot, weave.text, px), least: num(limits.least, 1), most: num(limits.most, 1) },
      at: shot.camera.distance ?? shot,
      related: [{ start: weave.start, end: weave.end, message: 'the weave' }],
      cause: { ...weave, as: 'recorded' },
      explainedBy: ['soft-picture'],
      fixes: () => elsewhere(shot, limits),
    });
  },
});

function named(shot: Shot, weave: string, px: number) {
  return { shot: shot.name, subject: subjectText(shot), weave, px: num(px, 1) };
}

function isBetween(px: number, { least, most }: { least: number; most: number }): boolean {
  return px > least * (1 + 1e-6) && px < most * (1 - 1e-6);
}

/** Recorded pixels for each thread at the middle of the subject, when the action starts. */
function recordedPx(shot: Shot): number | undefined {
  const lens = lensAt(shot, 0);
  const raster = pictureRaster(shot.camera);
  const { weave } = shot.subject;
  return lens && raster && weave && (weave.value * raster.width) / fieldAt(lens, lens.distanceMm).widthMm;
}

/** Less than a tenth of a pattern's contrast is taken for none (common practice, no source). */
const leastContrast = 0.1;

/** Does the lens draw the weave at all? A small opening may blur it away. */
function isSeen(shot: Shot, px: number): boolean {
  const lens = lensAt(shot, 0)!;
  if (lens.fNumber === undefined) return true;
  const periodMm = (px * lens.sensor.widthMm) / pictureRaster(shot.camera)!.width;
  const working = effectiveFNumber(lens.fNumber, magnification(lens.focalMm, lens.focusMm));
  return diffractionContrast(periodMm, working) >= leastContrast;
}

/** A weave that was recorded well and is made smaller until its threads are finer than the pixels. */
function checkDelivered(shot: Shot, recorded: number, { film, limits, report }: Ctx): void {
  const { weave, start, end } = shot.subject;
  const fine = recorded < limits.most ? [] : fineIn(shot, film, limits.least);
  if (!weave || fine.length === 0) return;
  const px = Math.min(...fine.map((one) => one.px));
  const deliverables = listText([...new Set(fine.map((one) => quoted(one.deliverable.name)))]);
  report({
    message: 'delivered',
    severity: 'info',
    data: { ...named(shot, weave.text, px), deliverables },
    at: shot.camera.distance ?? { start, end },
    cause: { ...weave, as: 'delivered' },
    explainedBy: ['soft-picture'],
  });
}

/** The deliverables in whose tightest look at a moving picture a thread covers one to two pixels. */
function fineIn(shot: Shot, film: Film, least: number): { deliverable: Deliverable; px: number }[] {
  return showingsOf(shot, film).flatMap(({ piece, deliverables, views, turns }) => {
    const moves = views.length > 1 || turns.length > 1;
    if (!piece || !moves) return [];
    return deliverables.flatMap((deliverable) => {
      const scale = Math.max(...views.map((view) => pxPerMmAt(view, deliverable) ?? 0));
      const px = shot.subject.weave!.value * scale;
      return px > least && px < 2 * (1 - 1e-6) ? [{ deliverable, px }] : [];
    });
  });
}

/** The camera nearer, where each thread is drawn, or farther, where they average out: whichever is less of a move first. */
function elsewhere(shot: Shot, limits: { least: number; most: number }): FixIdea[] {
  const { distance } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const now = distance.value.from;
  const tries = [distanceFor(shot, (px) => px >= limits.most, -1), distanceFor(shot, (px) => px <= limits.least, 1)];
  return tries
    .flatMap((mm) => mm ?? [])
    .sort((a, b) => Math.abs(Math.log(a / now)) - Math.abs(Math.log(b / now)))
    .map((mm) => {
      const px = recordedPx(at(shot, mm))!;
      const text = `${mm / 10} cm`;
      return set(`Set distance to ${text} (${pixelsText(px)} for each thread)`, ...distanceChange(shot, mm, text));
    });
}

function at(shot: Shot, mm: Mm): Shot {
  return tryShot(shot, { camera: { distance: still(mm) } });
}

/** The first whole centimetre in that direction that does, up to half or twice as far and no nearer than the lens focuses. */
function distanceFor(shot: Shot, isRight: (px: number) => boolean, step: 1 | -1): Mm | undefined {
  const { distance, lens } = shot.camera;
  const now = distance!.value.from;
  const nearest = Math.max(50, now / 2, (lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0));
  const start = step > 0 ? Math.floor(now / 10) : Math.ceil(now / 10);
  for (let cm = start + step; cm * 10 >= nearest && cm * 10 <= Math.min(2 * now, 10_000); cm += step) {
    const px = recordedPx(at(shot, cm * 10));
    if (px !== undefined && isRight(px)) return cm * 10;
  }
  return undefined;
}
