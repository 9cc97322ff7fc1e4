/** By how much the light on what is filmed is off the settings, where that says how the picture will look. */
import { lengthOf, subtract } from '../../calc/geometry.ts';
import { facedShare } from '../../core/derived/faced-share.ts';
import {
  exposureError,
  faceLight,
  facesDisagree,
  isOwnFlame,
  type LampLight,
  lampPosition,
  luxToward,
  measuredLux,
  wantedLux,
} from '../../core/derived/light.ts';
import { productPlace, subjectPlace, tiltDeg } from '../../core/derived/optics.ts';
import { actionMoment, cameraMoves } from '../../core/derived/time.ts';
import type { Film, LampPlace, Piece, Shot, Val } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';
import type { PurposeWord } from '../../core/rule.ts';
import type { Ends, Lux, Stops } from '../../core/units.ts';

/** Who says one of these wants a shot brighter or darker than a meter does. */
export const styles: readonly PurposeWord[] = ['low-key', 'high-key', 'silhouette'];
/** From here on `exposure-off` tells of the shot itself. */
export const toldStops: Stops = 1;

/**
 * Stops by which a shot is too bright, minus too dark, through its whole take: light that changes on purpose may pass through
 * the right amount. Undefined where something is not known, and where the light on the front does not decide.
 */
export const judgedError = onceIn((shot: Shot, film: Film): Stops | undefined => {
  const start = judgedAt(shot, film, 0);
  const end = shot.lit.some((lamp) => lamp.changes) ? exposureError(shot, 1) : start;
  if (start === undefined || end === undefined || start * end < 0) return undefined;
  return Math.abs(end) < Math.abs(start) ? end : start;
});

/** A moment of the action, and by how much it is off there. */
export interface OffAt {
  readonly moment: number;
  readonly error: Stops;
}

/**
 * The start, the middle and the end of what the cut uses, in order, where a lamp or the camera goes from place to place: its
 * light falls otherwise there, and nobody meters in between. None where lamps are turned up or down, which is on purpose.
 */
export const judgedOnTheWay = onceIn((shot: Shot, film: Film): readonly OffAt[] => {
  if (!isOnTheWay(shot)) return [];
  const ends =
    shot.pieces.length > 0
      ? shot.pieces.flatMap((one) => [0, 0.5, 1].map((part) => actionMoment(one, part)))
      : [0, 0.5, 1];
  return [...new Set(ends)]
    .sort((a, b) => a - b)
    .flatMap((moment) => {
      const error = judgedAt(shot, film, moment);
      return error === undefined ? [] : [{ moment, error }];
    });
});

/** The same as `judgedError` at the start (0) or the end (1) of a piece of the cut. */
export function judgedInCut(piece: Piece, part: 0 | 1, film: Film): Stops | undefined {
  const { shot } = piece;
  if (!shot) return undefined;
  return isOnTheWay(shot) ? judgedAt(shot, film, actionMoment(piece, part)) : judgedError(shot, film);
}

/** Does a lamp or the camera go from place to place, and no lamp up or down? */
function isOnTheWay(shot: Shot): boolean {
  const changing = shot.lit.filter(({ changes }) => changes);
  const travels = changing.some(({ distance, angle, height }) => [distance, angle, height].some(differs));
  return (travels || cameraMoves(shot)) && !changing.some(({ level }) => differs(level));
}

function differs(change: Val<Ends> | undefined): boolean {
  return change !== undefined && change.value.from !== change.value.to;
}

/** Undefined where the front does not decide: lit from behind or above, under colours, or metered for its backdrop. */
function judgedAt(shot: Shot, film: Film, moment: number): Stops | undefined {
  const error = exposureError(shot, moment);
  const wanted = wantedLux(shot);
  if (error === undefined || wanted === undefined || shot.camera.meter === 'backdrop') return undefined;
  if (facesDisagree(shot, moment)) return undefined;
  if (isLitFromBehind(shot, film, moment) || isLitByItself(shot, film, moment)) return undefined;
  const isElsewhere =
    isColoured(shot, moment) || isSeenAgainstScreen(shot, film, moment) || isLitFromAbove(shot, wanted, moment);
  return error < 0 && isElsewhere ? undefined : error;
}

/** A flame within the product lights it from inside, which no meter before it tells. */
function isLitByItself(shot: Shot, film: Film, moment: number): boolean {
  const own = faceLight(shot, moment).lamps.filter(({ lamp }) => isOwnFlame(lamp, film));
  return own.reduce((sum, one) => sum + one.share, 0) >= 0.25;
}

/** Nothing lights the set, and no screen or lit backdrop stands behind it. */
export function isUnlit({ lit, room, backdrop }: Shot): boolean {
  return lit.length === 0 && room?.light?.value === 0 && !backdrop?.screenName;
}

export function isOfEdge({ role }: LampPlace): boolean {
  return role?.value === 'rim' || role?.value === 'accent' || role?.value === 'highlight';
}

/**
 * Lamps that only draw the product's edge, or shine through it: its front is dark on purpose, but for what is seen lit by
 * itself. Where the room gives more light than they do, the room is what lights it. What is transparent is seen by the
 * light behind it, whatever falls on its front.
 */
function isLitFromBehind(shot: Shot, { product }: Film, moment: number): boolean {
  const { lamps, roomLux } = faceLight(shot, moment);
  const isSeenLit = (one: LampLight) => one.lamp.role?.value === 'practical';
  const isFront = (one: LampLight) => one.offFaceDeg < 90 && !isOfEdge(one.lamp) && !isSeenLit(one) && one.lux > 0;
  const strongest = (some: readonly LampLight[]) =>
    Math.max(0, ...some.map((one) => towardLamp(one.lamp, shot) ?? Infinity));
  const front = strongest(lamps.filter(isFront));
  const behind = strongest(lamps.filter((one) => !isFront(one)));
  return behind > roomLux && (front === 0 || (product.finish === 'transparent' && behind > front));
}

/**
 * What light passes is seen by the screen behind it, and lamps from the sides draw its edges: nothing is wanted on its
 * front. A part of it, such as its label, is seen by the light that falls on it.
 */
function isSeenAgainstScreen(shot: Shot, { product }: Film, moment: number): boolean {
  const isClear = product.finish === 'transparent' || product.finish === 'translucent';
  if (!isClear || shot.subject.name !== 'product' || !shot.backdrop?.screenName) return false;
  return faceLight(shot, moment).lamps.every((one) => one.offFaceDeg >= sideDeg);
}

/** From here round a lamp draws an edge of what light passes, rather than lighting its front. */
const sideDeg = 60;

/** On a face that is turned to it. */
function towardLamp(lamp: LampPlace, shot: Shot): Lux | undefined {
  return measuredLux(lamp, shot) ?? luxToward(lamp);
}

/** Under light that is mostly of a colour a meter is no judge: its strongest channel decides, and is checked by itself. */
function isColoured(shot: Shot, moment: number): boolean {
  const coloured = faceLight(shot, moment).lamps.filter((one) => one.lamp.colour);
  return coloured.reduce((sum, one) => sum + one.share, 0) >= 0.5;
}

/** From here on a lamp lights another side than the one that is filmed, which gets less than a fifth of its light. */
export const asideDeg = 80;

/**
 * Light from high up falls on the top of what is filmed from above, or mirrors in it, and the camera sees that as well as
 * its front: where the top gets enough, too little on the front says nothing. Letters lie on one side, and so does what is said to face somewhere.
 */
function isLitFromAbove(shot: Shot, wanted: Lux, moment: number): boolean {
  // Level with a whole product one looks at its front.
  const least = shot.subject.name === 'product' ? 5 : -1;
  const { letters, faces = 'up' } = shot.subject;
  if (tiltDeg(shot, moment) < least || letters || faces !== 'up') return false;
  const subject = subjectPlace(shot);
  const { lamps, roomLux } = faceLight(shot, moment);
  if (!lamps.some((one) => one.offFaceDeg >= asideDeg - 1 && !isOfEdge(one.lamp))) return false;
  const topLux = lamps.reduce((sum, { lamp }) => {
    const at = lampPosition(lamp, productPlace(shot), moment);
    if (!at || lamp.aim === 'backdrop') return sum;
    const far = lengthOf(subtract(at, subject));
    const onTop = facedShare(lamp, { from: at, aimedAt: productPlace(shot), to: subject }, { x: 0, y: 1, z: 0 });
    // Its light is known where the tape from it ends, and a part may be nearer.
    const nearer = ((lamp.distance?.value.from ?? far) / far) ** 2;
    return sum + (towardLamp(lamp, shot) ?? 0) * onTop * nearer;
  }, roomLux);
  return topLux >= wanted / 2;
}
