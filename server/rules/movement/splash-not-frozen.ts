import { blurPx, timeForBlurS } from '../../calc/motion.ts';
import { rateFps } from '../../calc/rate.ts';
import { markedShutters } from '../../calc/shutter.ts';
import { largest, longSide } from '../../core/derived/motion.ts';
import { isSettable, stepping } from '../../core/derived/shutters.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Deliverable, Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { num, quoted, shutterText, stopsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { shutterFix } from '../time/shutter-fix.ts';
import { speedText } from './movement-fixes.ts';

export default defineRule({
  id: 'splash-not-frozen',
  family: 'movement',
  summary: 'What moves is meant to be frozen, or to flow, and the shutter does otherwise.',
  severity: 'warning',
  sources: [
    'speed × exposure time × pixels for each mm',
    'common practice, no source (5 px of 1920 look frozen, 20 px flow)',
  ],
  limits: {
    frozen: {
      quantity: 'number',
      default: '5',
      meaning: 'Most pixels of blur of what is frozen, at a picture 1920 long.',
    },
    flowing: { quantity: 'number', default: '20', meaning: 'Fewest pixels of blur of what flows, likewise.' },
  },
  messages: {
    smears:
      '{shot}: meant to be frozen, but at {speed} and {scale} pixels for each mm in {deliverable}, {shutter} draws it out by {px} pixels; up to {limit} it looks frozen. That takes {wanted}, {stops} more light, or a flash as short.',
    stands:
      '{shot}: meant to flow, but at {speed} and {scale} pixels for each mm in {deliverable}, {shutter} draws it out by {px} pixels only; from {limit} on it flows. That takes {wanted}.',
  },
  shot(shot, { film, limits, meant, report }) {
    const speed = shot.action?.fastest;
    const { shutter } = shot.camera;
    const timeS = shutterSeconds(shot);
    const shown = shownLargest(shot, film);
    if (!speed || speed.value === 0 || !shutter || timeS === undefined || !shown) return;
    const [frozen, flows] = [meant('frozen-motion', shot), meant('flowing-motion', shot)];
    // Both at once is two words for different shots.
    if (frozen === flows) return;
    const limit = (frozen ? limits.frozen : limits.flowing) * longSide(shown.deliverable.raster!.value);
    const px = blurPx(speed.value, timeS, shown.pxPerMm);
    const wantedS = timeForBlurS(speed.value, shown.pxPerMm, limit);
    // A tenth is seen by nobody, half of what flows is soft enough, and what no frame is long enough for is not what is meant to flow.
    if (frozen ? px <= limit * 1.1 : px >= limit / 2 || isLongerThanFrame(shot, wantedS)) return;
    const markedS = marked(shot, wantedS, frozen);
    const data = {
      shot: shot.name,
      speed: speedText(speed.value),
      scale: num(shown.pxPerMm, 1),
      deliverable: quoted(shown.deliverable.name),
      shutter: shutter.text,
      px: num(px, px < 10 ? 1 : 0),
      limit: num(limit, 1),
      wanted: shutterText(markedS ?? wantedS),
      stops: stopsText(Math.log2(timeS / (markedS ?? wantedS))),
    };
    report({
      message: frozen ? 'smears' : 'stands',
      data,
      at: shutter,
      excess: frozen ? px / limit : limit / px,
      // Frozen or flowing is one wish of the film, told of the shot that is farthest from it.
      cause: { start: 0, end: 0, isWide: true, as: frozen ? 'frozen' : 'flowing' },
      // Not frozen and far from flowing: whoever wrote the speed down has seen it coming.
      ...(frozen && px <= nearlyFrozen * limit && { severity: 'sheet' as const }),
      fixes: () => fixes(shot, film, wantedS, frozen),
    });
  },
});

/** Times the limit. */
const nearlyFrozen = 2.5;

function isLongerThanFrame({ camera: { rate } }: Shot, timeS: Seconds): boolean {
  return rate !== undefined && timeS * rateFps(rate.value) > 1.05;
}

function shownLargest(shot: Shot, film: Film) {
  return showingsOf(shot, film)
    .flatMap((showing) => largest(showing) ?? [])
    .reduce<{ deliverable: Deliverable; pxPerMm: number } | undefined>((most, one) => {
      const size = (each: typeof one) => each.pxPerMm / longSide(each.deliverable.raster!.value);
      return !most || size(one) > size(most) ? one : most;
    }, undefined);
}

/** The marked shutter that does it, where the camera has it and it ends within the frame. */
function fixes(shot: Shot, film: Film, wantedS: Seconds, frozen: boolean): FixIdea[] {
  const step = stepping(shot, film);
  const timeS = marked(shot, wantedS, frozen);
  if (!step || timeS === undefined || !isSettable(shot, timeS, step.fps)) return [];
  return [shutterFix(shot, film, step, timeS)];
}

/** The marked shutter on the right side of the wanted one; a whole frame counts as marked. */
function marked({ camera: { rate } }: Shot, wantedS: Seconds, frozen: boolean): Seconds | undefined {
  const frame = rate && !frozen ? [1 / rateFps(rate.value)] : [];
  const marks = [...markedShutters.map((mark) => 1 / mark), ...frame].sort((a, b) => a - b);
  return frozen
    ? marks.filter((mark) => mark <= wantedS * (1 + 1e-9)).at(-1)
    : marks.find((mark) => mark >= wantedS * (1 - 1e-9));
}
