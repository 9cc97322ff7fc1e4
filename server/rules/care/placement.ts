/** Where lamps stand and point, and what hangs from what: small questions that several care rules ask. */
import { angleBetweenDeg, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { roundFrom, turned } from '../../core/derived/outline.ts';
import { turnedDeg, turningRpm } from '../../core/derived/time.ts';
import { lampStand } from '../../core/derived/backdrop-light.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Grams, Mm } from '../../core/units.ts';

/** Does the lamp shine past the product into the camera, within 20° of the line through the lens? */
export function facesLens(shot: Shot, place: LampPlace): boolean {
  const middle = subjectPlace(shot);
  const pose = cameraPose(shot, 0);
  const at = lampStand(place, shot, 0);
  if (!pose || !at) return false;
  return angleBetweenDeg(subtract(at, middle), subtract(pose.at, middle)) > 160;
}

/**
 * How near a lamp comes to the middle of the product: the tape's length, or the way from where it stands before the
 * backdrop. Undefined where that is not known.
 */
export function leastFromProductMm(shot: Shot, place: LampPlace): Mm | undefined {
  const { aim, distance } = place;
  if (aim === 'product') return distance && Math.min(distance.value.from, distance.value.to);
  const stands = [0, 0.25, 0.5, 0.75, 1].flatMap((moment) => lampStand(place, shot, moment) ?? []);
  if (stands.length === 0) return undefined;
  return Math.min(...stands.map((at) => lengthOf(subtract(at, productPlace(shot)))));
}

/**
 * How far a place is from the product's nearest side. What turns counts as round, no wider than its narrow side; without its
 * size from its middle.
 */
export function fromProductMm(at: Vec3, shot: Shot, film: Film): Mm {
  const { widthMm = 0, heightMm = 0, depthMm = 0 } = film.product.size?.value ?? {};
  const { x, y, z } = subtract(at, productPlace(shot));
  const above = Math.max(0, Math.abs(y) - heightMm / 2);
  const isRound = (film.product.symmetry?.value ?? 1) >= roundFrom;
  if (isRound || turningRpm(shot) !== 0) {
    return Math.hypot(Math.max(0, Math.hypot(x, z) - Math.min(widthMm, depthMm) / 2), above);
  }
  const seen = turned({ x, z }, -turnedDeg(shot, 0));
  return Math.hypot(Math.max(0, Math.abs(seen.x) - widthMm / 2), Math.max(0, Math.abs(seen.z) - depthMm / 2), above);
}

/** One with a battery of its own has a cable where the spec says so. */
export function hasCable({ runsOn, runsOnAt, lamp }: LampPlace): boolean {
  return runsOn === 'mains' && (runsOnAt !== undefined || !lamp?.battery);
}

/** Camera and lens together; undefined where the camera's weight is not known. */
export function cameraWeightG({ camera }: Shot): Grams | undefined {
  const body = camera.body?.weight?.value;
  return body === undefined ? undefined : body + (camera.lens?.weight?.value ?? 0);
}
