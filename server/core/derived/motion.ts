/** How fast the subject moves before the camera, and how far that smears it in one exposure. mm, seconds, pixels. */
import { blurPx } from '../../calc/motion.ts';
import type { Deliverable, Film, Shot } from '../film.ts';
import type { Mm, MmPerSecond, Raster, Seconds } from '../units.ts';
import { pxPerMmAt } from './framing.ts';
import { goesAlong } from './optics.ts';
import { once } from '../memo.ts';
import { roundFrom } from './outline.ts';
import { type Showing, showingsOf } from './showings.ts';
import { showsMovingScreen, shutterSeconds, turningRpm } from './time.ts';

/** Degrees a second by which the subject turns before the camera: its own turn less the camera's way round it. */
export const turnSeenDegS = once((shot: Shot): number => {
  const { angle } = shot.camera;
  const round = angle && shot.actionS ? (angle.value.to - angle.value.from) / shot.actionS : 0;
  return 6 * turningRpm(shot) - round;
});

/** Speed at which the camera slides past the subject, right is plus; 0 when it does not. */
export const slideMmS = once((shot: Shot): MmPerSecond => {
  const { slide } = shot.camera;
  return slide && !goesAlong(shot) && shot.actionS ? (slide.value.to - slide.value.from) / shot.actionS : 0;
});

/** From the axis of the turn to the face that the camera sees, the farthest of those that come round. */
export function faceRadiusMm(film: Film, { turns, shot }: Showing): Mm {
  const box = film.product.size?.value;
  if (!box) return 0;
  const side = box.widthMm / 2;
  const front = (box.depthMm ?? 0) / 2;
  if ((film.product.symmetry?.value ?? 1) >= roundFrom) return Math.max(side, front);
  const facing = shot.camera.angle?.value.from ?? 0;
  const ends = shot.camera.angle ? [shot.camera.angle.value.from, shot.camera.angle.value.to] : [facing];
  let seesSide = false;
  let seesFront = false;
  for (const turn of turns) {
    for (const end of ends) {
      const seen = ((turn - end) * Math.PI) / 180;
      seesSide ||= Math.abs(Math.sin(seen)) > Math.SQRT1_2;
      seesFront ||= Math.abs(Math.cos(seen)) >= Math.SQRT1_2 - 1e-9;
    }
  }
  // A thing without depth shows nothing to read from its side.
  return Math.max(seesFront ? front : 0, seesSide && front > 0 ? side : 0);
}

/** What smears in a shot, in the deliverable that shows it largest. */
export interface Smear {
  readonly px: number;
  /** Pixels from which detail goes soft. */
  readonly limitPx: number;
  readonly radiusMm: Mm;
  /** Speeds across the picture at the subject. */
  readonly turnMmS: MmPerSecond;
  readonly slideMmS: MmPerSecond;
  readonly pxPerMm: number;
  readonly deliverable: Deliverable;
}

/**
 * The worst blur of the subject's face against what it bears, `detailPx` and for letters `lettersPx` at a picture of
 * 1920 pixels; undefined where nothing moves or the lens, the shutter or a raster is not known.
 */
export function smearOf(shot: Shot, film: Film, detailPx = 12, lettersPx = 1.5): Smear | undefined {
  const timeS = shutterSeconds(shot);
  const turn = Math.abs(turnSeenDegS(shot));
  const slide = Math.abs(slideMmS(shot));
  if (timeS === undefined || (turn === 0 && slide === 0)) return undefined;
  const all = showingsOf(shot, film).flatMap((showing) => {
    const found = largest(showing);
    if (!found) return [];
    const { deliverable, pxPerMm } = found;
    const radiusMm = turn === 0 ? 0 : faceRadiusMm(film, showing);
    const turnMmS = ((turn * Math.PI) / 180) * radiusMm;
    const limitPx = (shot.subject.letters ? lettersPx : detailPx) * longSide(deliverable.raster!.value);
    const px = blurPx(turnMmS + slide, timeS, pxPerMm);
    return [{ px, limitPx, radiusMm, turnMmS, slideMmS: slide, pxPerMm, deliverable }];
  });
  return all.reduce<Smear | undefined>(
    (worst, one) => (!worst || one.px / one.limitPx > (worst.px / worst.limitPx) * (1 + 1e-9) ? one : worst),
    undefined,
  );
}

/** How far things move from one frame of the film to the next, in pixels of a picture 1920 long, where it shows them largest. */
export interface FrameStep {
  readonly px: number;
  readonly deliverable: Deliverable;
}

/** Undefined where something moves of which nobody says how fast, or it is not known how large it is shown. */
export function frameStep(shot: Shot, film: Film, realS: Seconds): FrameStep | undefined {
  if (!isSpeedKnown(shot)) return undefined;
  const found = showingsOf(shot, film).map((showing) => stepIn(shot, film, { showing, realS }));
  if (found.some((one) => !one)) return undefined;
  return found.reduce((most, one) => (!most || one!.px > most.px ? one : most), undefined);
}

function isSpeedKnown(shot: Shot): boolean {
  const { action, people, backdrop } = shot;
  if (showsMovingScreen(shot) || backdrop?.flashes) return false;
  return action?.fastest !== undefined || (!action?.what && people.length === 0);
}

function stepIn(
  shot: Shot,
  film: Film,
  { showing, realS }: { readonly showing: Showing; readonly realS: Seconds },
): FrameStep | undefined {
  const found = largest(showing);
  if (!found) return undefined;
  const { camera, action, actionS = Infinity } = shot;
  const turn = turnSeenDegS(shot);
  const turnMmS = turn === 0 ? 0 : ((Math.abs(turn) * Math.PI) / 180) * faceRadiusMm(film, showing);
  const rise = camera.height?.value;
  const riseMmS = rise ? Math.abs(rise.to - rise.from) / actionS : 0;
  const mmS = turnMmS + Math.abs(slideMmS(shot)) + riseMmS + (action?.fastest?.value ?? 0);
  // What grows moves most at the ends of the picture, half of its length from the middle.
  const growth = [camera.distance, camera.focal].map((one) =>
    one ? Math.abs(Math.log(one.value.to / one.value.from)) : 0,
  );
  const growing = (1920 / 2) * (Math.max(...growth) / actionS);
  const scale = found.pxPerMm / longSide(found.deliverable.raster!.value);
  return { px: (mmS * scale + growing) * realS, deliverable: found.deliverable };
}

/** Long side of a picture in parts of 1920: limits in pixels are for a picture of that size. */
export function longSide({ width, height }: Raster): number {
  return Math.max(width, height) / 1920;
}

/** The deliverable and the most pixels for each mm at the subject. */
export function largest({ views, deliverables: [deliverable] }: Showing) {
  let pxPerMm: number | undefined;
  for (const view of views) {
    const here = pxPerMmAt(view, deliverable);
    if (here !== undefined) pxPerMm = Math.max(here, pxPerMm ?? here);
  }
  return pxPerMm === undefined ? undefined : { deliverable, pxPerMm };
}
