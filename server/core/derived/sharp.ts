/** What of a subject must be sharp, and what its lens makes of it: shared by the rules about focus. */
import { markedFNumbers } from '../../calc/exposure.ts';
import { angleBetweenDeg, angleOfDeg, type CameraPose, directionOf, subtract } from '../../calc/geometry.ts';
import { apertureHolding, blurDiscMm, focusHoldingMm, type SharpZone } from '../../calc/optics.ts';
import { circleOfConfusionMm } from '../../calc/sensor.ts';
import { cameraPose, type LensMoment, lensAt, pictureRaster, sharpZone, subjectPlace, tiltDeg } from './optics.ts';
import { faceLookedAt } from './face-seen.ts';
import { depthOf, depthSeen, faceCorners, isRound, liesRound, mayBeRound, nearestLine } from './outline.ts';
import type { View } from './framing.ts';
import { type Showing, showingsOf } from './showings.ts';
import { cameraMoves } from './time.ts';
import type { Facing, Film, Shot } from '../film.ts';
import { onceIn } from '../memo.ts';
import { num } from '../say.ts';
import type { Degrees, Mm } from '../units.ts';

/** Distances from the lens, along its axis. */
export interface Span {
  readonly nearMm: Mm;
  readonly farMm: Mm;
}

/** What must be sharp at a moment of the action, over all ways in which the subject stands while it is shown. */
export function mustBeSharp(shot: Shot, film: Film, moment: number, sharp = shot.sharp): Span | undefined {
  const pose = cameraPose(shot, moment);
  if (!pose || sharp === 'none') return undefined;
  const known = spans(shot, film);
  const key = `${sharp} ${cameraMoves(shot) ? moment : 0}`;
  if (!known.has(key)) known.set(key, spanFrom(pose, shot, film, sharp));
  return known.get(key);
}

/** From one place it is the same at every moment. */
const spans = onceIn((_shot: Shot, _film: Film) => new Map<string, Span | undefined>());

function spanFrom(pose: CameraPose, shot: Shot, film: Film, sharp: Shot['sharp']): Span | undefined {
  const toCamera = subtract(pose.at, subjectPlace(shot));
  const round = isRound(shot, film) || mayBeRound(shot, film, ['widthMm']);
  const lies = liesRound(shot, film);
  const spanAt = (turn: number): Span | undefined => {
    // Of a round thing it is what looks at the camera; else one that is turned away is not what is looked at.
    const faces = round ? angleOfDeg(toCamera) : turn;
    const face = faceThatCounts(shot, film, turn, pose, sharp);
    if (face) return depthOf(pose, faceCorners(shot, face, faces)!);
    if (sharp === 'all') return depthSeen(shot, film, turn, pose);
    if (angleBetweenDeg({ ...toCamera, y: 0 }, directionOf(faces)) > frontToDeg) return undefined;
    const points = lies ? nearestLine(shot, turn, toCamera) : faceCorners(shot, 'front', faces);
    return points && depthOf(pose, points);
  };
  let nearMm = Infinity;
  let farMm = -Infinity;
  for (const { turns } of showingsOf(shot, film)) {
    for (const turn of turns) {
      const span = spanAt(turn);
      if (!span) continue;
      nearMm = Math.min(nearMm, span.nearMm);
      farMm = Math.max(farMm, span.farMm);
    }
  }
  return nearMm === Infinity ? undefined : { nearMm, farMm };
}

/** Turned by more, a box shows its side more than its front. */
const frontToDeg: Degrees = 45;

/** The one face of which all must be sharp; undefined where it is the whole thing, or the front that `sharp: front` means. */
export function faceThatCounts(
  shot: Shot,
  film: Film,
  turn: number,
  pose: CameraPose,
  sharp = shot.sharp,
): Facing | undefined {
  if (!shot.subject.box || mayBeRound(shot, film, ['heightMm'])) return undefined;
  const face = faceLookedAt(shot.subject, turn, subtract(pose.at, subjectPlace(shot)));
  // Who asks for the front of what lies means the edge that is near, not how far back it reaches; from straight above none is.
  return sharp === 'all' || face !== 'up' || looksStraightDown(shot) ? face : undefined;
}

/** From here on nothing of a front is seen (common practice, no source). */
const straightDownDeg: Degrees = 75;

/** Is the top of the subject what looks at the camera? */
export function looksStraightDown(shot: Shot): boolean {
  return tiltDeg(shot, 0) >= straightDownDeg;
}

/** The showing that looks closest, by its zoom or by another measure, and its zoom and spare pixels at that moment. */
export function strictest(
  shot: Shot,
  film: Film,
  measure: (view: View) => number = (view) => view.zoom,
): { showing: Showing; zoom: number; scale: number } | undefined {
  let most: { showing: Showing; view: View } | undefined;
  for (const showing of showingsOf(shot, film)) {
    for (const view of showing.views) {
      if (!most || measure(view) > measure(most.view) + 1e-9) most = { showing, view };
    }
  }
  return most && { showing: most.showing, zoom: most.view.zoom, scale: most.view.scale };
}

/** The sharp zone where the cut zooms in most, which shows the least of it, and that zoom. */
export function sharpInCut(shot: Shot, film: Film, moment: number): { zone: SharpZone; zoom: number } | undefined {
  const lens = lensAt(shot, moment);
  const zoom = strictest(shot, film)?.zoom ?? 1;
  const zone = lens && sharpZone(lens, zoom);
  return zone && { zone, zoom };
}

/** Delivered pixels for a mm on the sensor. */
export function pixelsOnSensor(shot: Shot, lens: LensMoment, scale: number): number {
  return pictureRaster(shot.camera)!.width / lens.sensor.widthMm / scale;
}

/** How a span that must be sharp fares. */
export interface Sharpness {
  readonly lens: LensMoment & { readonly fNumber: number };
  readonly wanted: Span;
  readonly circleMm: Mm;
  /** Blur at its nearest and at its farthest point, on the sensor. */
  readonly nearBlurMm: Mm;
  readonly farBlurMm: Mm;
}

/** Undefined where lens, aperture, distance or size is not known. */
export function sharpnessAt(shot: Shot, film: Film, moment: number, zoom: number): Sharpness | undefined {
  const planned = lensAt(shot, moment);
  const wanted = mustBeSharp(shot, film, moment);
  if (!planned || planned.fNumber === undefined || !wanted || wanted.nearMm <= planned.focalMm) return undefined;
  const lens = { ...planned, focusMm: focusByEyeMm(shot, film, moment) ?? planned.focusMm };
  const set = { focalMm: lens.focalMm, fNumber: planned.fNumber, distanceMm: lens.focusMm };
  return {
    lens: { ...lens, fNumber: planned.fNumber },
    wanted,
    circleMm: circleOfConfusionMm(lens.sensor, zoom),
    nearBlurMm: wanted.nearMm < lens.focusMm || wanted.farMm < lens.focusMm ? blurDiscMm(set, wanted.nearMm) : 0,
    farBlurMm: wanted.farMm > lens.focusMm || wanted.nearMm > lens.focusMm ? blurDiscMm(set, wanted.farMm) : 0,
  };
}

/** Where the front lies that a locked focus is set on by eye: a mark to lay. Undefined where focus is none of that kind. */
export function frontMarkMm(shot: Shot, film: Film): Mm | undefined {
  if (shot.sharp !== 'front' || shot.camera.focus?.value !== 'locked') return undefined;
  return focusByEyeMm(shot, film, 0);
}

/**
 * Who asks for the front only or names a face, or lets the focus follow, sets it by eye on what must be sharp, a locked one as the move
 * starts. Undefined for a focus in figures, which is where it is said, and for one on a whole thing, to whose middle the
 * tape was laid.
 */
function focusByEyeMm(shot: Shot, film: Film, moment: number): Mm | undefined {
  const focus = shot.camera.focus?.value;
  const isOfFace = shot.sharp === 'front' || shot.subject.faces !== undefined;
  if (typeof focus === 'object' || (!isOfFace && focus !== 'follow')) return undefined;
  const wanted = mustBeSharp(shot, film, focus === 'locked' ? 0 : moment);
  return wanted && focusHoldingMm(wanted.nearMm, wanted.farMm);
}

export function worstBlurMm({ nearBlurMm, farBlurMm }: Sharpness): Mm {
  return Math.max(nearBlurMm, farBlurMm);
}

export function isSharp(one: Sharpness): boolean {
  return worstBlurMm(one) <= one.circleMm * (1 + 1e-6);
}

/** The focus that shares the blur out evenly, and the f-number that then holds the span. */
export function bestFocus({ lens, wanted, circleMm }: Sharpness): { focusMm: Mm; fNumber: number } {
  return {
    focusMm: focusHoldingMm(wanted.nearMm, wanted.farMm),
    fNumber: apertureHolding(lens.focalMm, wanted.nearMm, wanted.farMm, circleMm),
  };
}

/** Would this focus and f-number hold what must be sharp? */
export function holds({ lens, wanted, circleMm }: Sharpness, focusMm: Mm, fNumber: number): boolean {
  const set = { focalMm: lens.focalMm, fNumber, distanceMm: focusMm };
  const most = Math.max(blurDiscMm(set, wanted.nearMm), blurDiscMm(set, wanted.farMm));
  return most <= circleMm * (1 + 1e-6);
}

/** A focus as it would be set: by tape to the millimetre; nearer than 30 cm to a tenth of one, as there it counts. */
export function focusStepped(mm: Mm): Mm {
  return mm < 300 ? Math.round(mm * 10) / 10 : Math.round(mm);
}

/** The same as text: `44 cm`, `44.3 cm`, `19.95 cm`. */
export function focusText(mm: Mm): string {
  const stepped = focusStepped(mm);
  return stepped < 100 ? `${num(stepped, 1)} mm` : `${num(stepped / 10, 2)} cm`;
}

/** Is it as near as far, as the tape tells? */
export function isFlat({ nearMm, farMm }: Span): boolean {
  return focusText(nearMm) === focusText(farMm);
}

/** `runs from 43 cm to 45 cm`, `lies at 42 cm`. */
export function liesText(span: Span): string {
  const near = focusText(span.nearMm);
  return isFlat(span) ? `lies at ${near}` : `runs from ${near} to ${focusText(span.farMm)}`;
}

/** The widest marked f-number of the lens that holds what must be sharp, focused as well as one can. */
export function markedAperture(shot: Shot, found: Sharpness): number | undefined {
  const range = shot.camera.lens?.aperture?.value;
  const focusMm = focusStepped(bestFocus(found).focusMm);
  const inLens = markedFNumbers.filter((n) => !range || (n >= range.from - 0.01 && n <= range.to + 0.01));
  return inLens.find((n) => holds(found, focusMm, n));
}
