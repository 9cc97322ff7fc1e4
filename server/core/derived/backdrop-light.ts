/** The light on the backdrop, lamp by lamp: its own distance and angle to each lamp, and the edge of each beam. */
import { addScaled, angleBetweenDeg, directionOf, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { beamShare, cosineShare, distanceGain } from '../../calc/light.ts';
import type { LampPlace, Shot } from '../film.ts';
import { along } from './moments.ts';
import { onceAt } from '../memo.ts';
import type { Lux } from '../units.ts';
import { cameraPose, productPlace } from './optics.ts';
import { letsLightThrough } from './past-backdrop.ts';
import { lampSize } from './lamp-size.ts';
import { isKeptOff, lampPosition, levelAt, outputLuxAt1m } from './light.ts';

export interface BackdropLight {
  readonly lamps: readonly { readonly lamp: LampPlace; readonly lux: Lux }[];
  readonly roomLux: Lux;
  readonly totalLux: Lux;
  /** False when a lit lamp has no known output or place: the total is then too low. */
  readonly complete: boolean;
}

/** Light on the backdrop where the camera looks at it; undefined where it is not said how far behind the product it is. */
export const backdropLight = onceAt((shot: Shot, moment: number) => backdropLightAt(shot, moment));

/**
 * The same at a place.
 * @param place on it; where the camera looks at it, if nothing is said
 */
export function backdropLightAt(shot: Shot, moment: number, place?: Vec3): BackdropLight | undefined {
  const middle = wallMiddle(shot);
  if (!middle) return undefined;
  const metered = wallSeen(shot, middle, moment);
  const seen = place ?? metered;
  let complete = true;
  const lamps = shot.lit.map((lamp) => {
    const lux =
      lamp.aim === 'backdrop'
        ? aimedLux(lamp, shot, { middle, metered, seen }, moment)
        : spillOf(lamp, shot, seen, moment);
    if (lux === undefined) complete = false;
    return { lamp, lux: lux ?? 0 };
  });
  const roomLux = shot.room?.light?.value ?? 0;
  return { lamps, roomLux, totalLux: lamps.reduce((sum, one) => sum + one.lux, roomLux), complete };
}

/** Where the middle of the picture meets the backdrop, or is nearest to it; its own middle where the camera looks elsewhere. */
function wallSeen(shot: Shot, middle: Vec3, moment: number): Vec3 {
  const pose = cameraPose(shot, moment);
  const size = shot.backdrop?.size?.value;
  if (!pose || !size || pose.forward.z <= 0.1) return middle;
  const { x, y } = addScaled(pose.at, pose.forward, (middle.z - pose.at.z) / pose.forward.z);
  const within = (value: number, about: number, half: number) => Math.min(Math.max(value, about - half), about + half);
  const seenY = shot.backdrop?.bottom ? Math.max(0, within(y, middle.y, size.heightMm / 2)) : middle.y;
  return { x: within(x, middle.x, size.widthMm / 2), y: seenY, z: middle.z };
}

/** The middle of the backdrop, level with that of the product where its bottom is not said. */
export function wallMiddle({ backdrop, productMiddleMm }: Shot): Vec3 | undefined {
  const behind = backdrop?.behind?.value;
  if (!backdrop || behind === undefined) return undefined;
  const half = (backdrop.size?.value.heightMm ?? 0) / 2;
  return { x: 0, y: backdrop.bottom ? backdrop.bottom.value + half : productMiddleMm, z: behind };
}

/** What a lamp aims at and is measured to; undefined where it aims at a backdrop of which nobody said where it is. */
export function lampTarget({ aim }: LampPlace, shot: Shot): Vec3 | undefined {
  return aim === 'backdrop' ? wallMiddle(shot) : productPlace(shot);
}

/**
 * Where a lamp stands, round what it aims at. One for the backdrop stands before it, though its angle may name the far side
 * of the product; behind it only where light comes through.
 */
export function lampStand(lamp: LampPlace, shot: Shot, moment: number): Vec3 | undefined {
  const target = lampTarget(lamp, shot);
  const at = target && lampPosition(lamp, target, moment);
  if (!at || lamp.aim === 'product' || at.z <= target.z || letsLightThrough(shot.backdrop)) return at;
  return { ...at, z: 2 * target.z - at.z };
}

/**
 * `distance` is measured to what it aims at. What comes through from behind nobody knows who has not measured it, where the
 * camera looks; from place to place it falls off as on the other side, at least: what is clearer shows more of the lamp itself.
 */
function aimedLux(
  lamp: LampPlace,
  shot: Shot,
  { middle, metered, seen }: { middle: Vec3; metered: Vec3; seen: Vec3 },
  moment: number,
): Lux | undefined {
  const at = lampStand(lamp, shot, moment);
  if (lamp.measured) {
    const there = at && seen !== metered ? shareOn(lamp, at, middle, metered) : 0;
    return lamp.measured.value * (there > 0 ? shareOn(lamp, at!, middle, seen) / there : 1);
  }
  const at1m = outputLuxAt1m(lamp);
  if (!at || at.z > middle.z || at1m === undefined || levelAt(lamp, moment) === undefined) return undefined;
  return at1m * strength(lamp, moment) * shareOn(lamp, at, middle, seen);
}

/** Nothing where a flag keeps it off. */
function spillOf(lamp: LampPlace, shot: Shot, seen: Vec3, moment: number): Lux | undefined {
  return isKeptOff(lamp, 'backdrop') ? 0 : spillLux(lamp, shot, seen, moment);
}

/** What passes the product. */
function spillLux(lamp: LampPlace, shot: Shot, seen: Vec3, moment: number): Lux | undefined {
  const product = productPlace(shot);
  const at = lampPosition(lamp, product, moment);
  const distance = along(lamp.distance?.value, moment);
  if (!at || !distance || levelAt(lamp, moment) === undefined) return undefined;
  const at1m = lamp.measured
    ? measuredAt1m(lamp, at, product, distance)
    : (outputLuxAt1m(lamp) ?? NaN) * strength(lamp, moment);
  return at1m === undefined || Number.isNaN(at1m) ? undefined : at1m * shareOn(lamp, at, product, seen);
}

/** Of the light at 1 m: weaker with the way, with the slant on the backdrop, and off the axis of the beam. */
function shareOn(lamp: LampPlace, at: Vec3, aimedAt: Vec3, seen: Vec3): number {
  const size = lampSize(lamp);
  const way = subtract(seen, at);
  const offAxis = angleBetweenDeg(way, subtract(aimedAt, at));
  const gain = distanceGain(size, lengthOf(way) / 1000);
  const offDeg = offWallDeg(at, seen);
  // What is aimed at it from behind shines through it.
  const slant = cosineShare(lamp.aim === 'backdrop' ? Math.min(offDeg, 180 - offDeg) : offDeg);
  return gain * slant * beamShare(offAxis, size.beamDeg ?? 120);
}

function measuredAt1m(lamp: LampPlace, at: Vec3, product: Vec3, distanceMm: number): Lux | undefined {
  const slant = cosineShare(angleBetweenDeg(subtract(at, product), directionOf(0)));
  return slant > 0.05 ? lamp.measured!.value / slant / distanceGain(lampSize(lamp), distanceMm / 1000) : undefined;
}

function strength(lamp: LampPlace, moment: number): number {
  const lost = lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0);
  return (levelAt(lamp, moment) ?? 1) * 2 ** -lost;
}

function offWallDeg(at: Vec3, middle: Vec3): number {
  return angleBetweenDeg(subtract(at, middle), directionOf(0));
}
