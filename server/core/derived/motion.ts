/** How fast the subject moves before the camera, and how far that smears it in one exposure. mm, seconds, pixels. */
import { blurPx } from '../../calc/motion.ts';
import type { Deliverable, Film, Shot } from '../film.ts';
import type { Mm, MmPerSecond, Raster } from '../units.ts';
import { pxPerMmAt } from './framing.ts';
import { once } from '../memo.ts';
import { roundFrom } from './outline.ts';
import { type Showing, showingsOf } from './showings.ts';
import { shutterSeconds, turningRpm } from './time.ts';

/** Degrees a second by which the subject turns before the camera: its own turn less the camera's way round it. */
export const turnSeenDegS = once((shot: Shot): number => {
  const { angle } = shot.camera;
  const round = angle && shot.actionS ? (angle.value.to - angle.value.from) / shot.actionS : 0;
  return 6 * turningRpm(shot) - round;
});

/** Speed at which the camera slides, right is plus; 0 when it does not. */
export const slideMmS = once((shot: Shot): MmPerSecond => {
  const { slide } = shot.camera;
  return slide && shot.actionS ? (slide.value.to - slide.value.from) / shot.actionS : 0;
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
export function smearOf(shot: Shot, film: Film, detailPx = 6, lettersPx = 1.5): Smear | undefined {
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
