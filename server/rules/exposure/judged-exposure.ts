/** By how much the light on what is filmed is off the settings, where that says how the picture will look. */
import { lengthOf, subtract } from '../../calc/geometry.ts';
import {
  exposureError,
  faceLight,
  isOwnFlame,
  type LampLight,
  lampPosition,
  luxToward,
  measuredLux,
  wantedLux,
} from '../../core/derived/light.ts';
import { productPlace, subjectPlace, tiltDeg } from '../../core/derived/optics.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';
import type { PurposeWord } from '../../core/rule.ts';
import type { Lux, Stops } from '../../core/units.ts';

/** Who says one of these wants a shot brighter or darker than a meter does. */
export const styles: readonly PurposeWord[] = ['low-key', 'high-key', 'silhouette'];
/** From here on `exposure-off` tells of the shot itself. */
export const toldStops: Stops = 1;

/**
 * Stops by which a shot is too bright, minus too dark. Undefined where something is not known, and where the light on the
 * front does not decide: lit from behind or above, under colours, or metered for its backdrop.
 */
export const judgedError = onceIn((shot: Shot, film: Film): Stops | undefined => {
  const error = leastError(shot);
  const wanted = wantedLux(shot);
  if (error === undefined || wanted === undefined || shot.camera.meter === 'backdrop') return undefined;
  if (isLitFromBehind(shot, film) || isLitByItself(shot, film)) return undefined;
  const isElsewhere = isColoured(shot) || isSeenAgainstScreen(shot, film) || isLitFromAbove(shot, wanted);
  return error < 0 && isElsewhere ? undefined : error;
});

/** What is off through the whole take: light that changes on purpose may pass through the right amount. */
function leastError(shot: Shot): number | undefined {
  const start = exposureError(shot, 0);
  const end = shot.lit.some((lamp) => lamp.changes) ? exposureError(shot, 1) : start;
  if (start === undefined || end === undefined || start * end < 0) return undefined;
  return Math.abs(end) < Math.abs(start) ? end : start;
}

/** A flame within the product lights it from inside, which no meter before it tells. */
function isLitByItself(shot: Shot, film: Film): boolean {
  const own = faceLight(shot, 0).lamps.filter(({ lamp }) => isOwnFlame(lamp, film));
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
 * Lamps that only draw the product's edge, or shine through it: its front is dark on purpose. Where the room gives more
 * light than they do, the room is what lights it. What is transparent is seen by the light behind it, whatever falls on
 * its front.
 */
function isLitFromBehind(shot: Shot, { product }: Film): boolean {
  const { lamps, roomLux } = faceLight(shot, 0);
  const isFront = (one: LampLight) => one.offFaceDeg < 90 && !isOfEdge(one.lamp) && one.lux > 0;
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
function isSeenAgainstScreen(shot: Shot, { product }: Film): boolean {
  const isClear = product.finish === 'transparent' || product.finish === 'translucent';
  if (!isClear || shot.subject.name !== 'product' || !shot.backdrop?.screenName) return false;
  return faceLight(shot, 0).lamps.every((one) => one.offFaceDeg >= sideDeg);
}

/** From here round a lamp draws an edge of what light passes, rather than lighting its front. */
const sideDeg = 60;

/** On a face that is turned to it. */
function towardLamp(lamp: LampPlace, shot: Shot): Lux | undefined {
  return measuredLux(lamp, shot) ?? luxToward(lamp);
}

/** Under light that is mostly of a colour a meter is no judge: its strongest channel decides, and is checked by itself. */
function isColoured(shot: Shot): boolean {
  const coloured = faceLight(shot, 0).lamps.filter((one) => one.lamp.colour);
  return coloured.reduce((sum, one) => sum + one.share, 0) >= 0.5;
}

/** From here on a lamp lights another side than the one that is filmed, which gets less than a fifth of its light. */
export const asideDeg = 80;

/**
 * Light from high up falls on the top of what is filmed from above, or mirrors in it, and the camera sees that as well as
 * its front: where the top gets enough, too little on the front says nothing. Letters lie on one side.
 */
function isLitFromAbove(shot: Shot, wanted: Lux): boolean {
  // Level with a whole product one looks at its front.
  const least = shot.subject.name === 'product' ? 5 : -1;
  if (tiltDeg(shot, 0) < least || shot.subject.letters) return false;
  const subject = subjectPlace(shot);
  const { lamps, roomLux } = faceLight(shot, 0);
  if (!lamps.some((one) => one.offFaceDeg >= asideDeg - 1 && !isOfEdge(one.lamp))) return false;
  const onTop = lamps.reduce((sum, { lamp }) => {
    const at = lampPosition(lamp, productPlace(shot), 0);
    if (!at || lamp.aim === 'backdrop') return sum;
    const way = subtract(at, subject);
    const far = lengthOf(way);
    // Its light is known where the tape from it ends, and a part may be nearer.
    const nearer = ((lamp.distance?.value.from ?? far) / far) ** 2;
    return sum + (towardLamp(lamp, shot) ?? 0) * Math.max(0, way.y / far) * nearer;
  }, roomLux);
  return onTop >= wanted / 2;
}
