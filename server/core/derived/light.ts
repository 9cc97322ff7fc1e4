/** The light on the subject of a shot, lamp by lamp, against what the settings want. */
import { luxWanted, screenStops, stopsOver } from '../../calc/exposure.ts';
import { angleBetweenDeg, lengthOf, placeAt, subtract, type Vec3, straightUpTo } from '../../calc/geometry.ts';
import {
  beamShare,
  bouncedCandela,
  candelaFromLumens,
  type LampSize,
  luxAt1m,
  luxAt1mOfCandela,
  luxOnFace,
} from '../../calc/light.ts';
import type { Film, KitLamp, LampPlace, Shot, Val } from '../film.ts';
import { along } from './moments.ts';
import type { Lux, Mm, Share, Stops } from '../units.ts';
import { once, onceAt } from '../memo.ts';
import { facedShare } from './faced-share.ts';
import { faceSeen, facesSeen } from './face-seen.ts';
import { hasAperture, magnificationOf, productPlace, subjectPlace } from './optics.ts';
import { recordedFps, shutterSeconds } from './time.ts';
import { boardSize, lampSize } from './lamp-size.ts';
import { isKeptBehind } from './past-backdrop.ts';

/**
 * Can it be turned down? A filament lamp needs a dimmer, which its kit or its level in the plan tells of; a flame burns, and
 * a window gives what it gives.
 */
export function dims({ lamp, level }: LampPlace): boolean {
  const kind = lamp?.kind?.value;
  if (level !== undefined || lamp?.level !== undefined) return true;
  return kind !== 'filament' && kind !== 'flame' && kind !== 'window';
}

/**
 * Lux at 1 m on the axis at full level, before what modifiers lose, from the output as the kit states it, or of a board from
 * the lamp that it bounces; undefined where that is not known. A kit states the bare lamp: what a modifier spreads over its
 * own size is as strong far away, and less near by.
 */
export const outputLuxAt1m = once((place: LampPlace): Lux | undefined => {
  if (place.bounces) return bouncedLuxAt1m(place, place.bounces);
  const bare = place.lamp && bareLuxAt1m(place.lamp);
  if (!place.lamp || bare === undefined) return undefined;
  return (bare * luxAt1mOfCandela(1, lampSize(place))) / luxAt1mOfCandela(1, bareSize(place.lamp));
});

function bareSize({ size, beamDeg }: KitLamp): LampSize {
  return { widthM: (size?.value.widthMm ?? 0) / 1000, heightM: (size?.value.heightMm ?? 0) / 1000, beamDeg };
}

function bareLuxAt1m(lamp: KitLamp): Lux | undefined {
  const output = lamp.output?.value;
  const bare = bareSize(lamp);
  switch (output?.kind) {
    case 'lux':
      return luxAt1m(output.lux, output.atMm / 1000, bare);
    case 'candela':
      return luxAt1mOfCandela(output.cd, bare);
    case 'lumens':
      return luxAt1mOfCandela(candelaFromLumens(output.lm, lamp.beamDeg), bare);
    default:
      return undefined;
  }
}

/** Does a flag keep its light from it? */
export function isKeptOff({ keptOff }: LampPlace, from: 'backdrop' | 'lens'): boolean {
  return keptOff.some(({ value }) => value === from);
}

/** Light of a lamp that a board turns towards the product, the board standing half way between the two ways. */
function bouncedLuxAt1m(board: LampPlace, source: LampPlace): Lux | undefined {
  const size = boardSize(board);
  const product = { x: 0, y: 0, z: 0 };
  const [at, from] = [lampPosition(board, product, 0), lampPosition(source, product, 0)];
  if (!at || !from || size.widthM === 0) return undefined;
  const way = subtract(at, from);
  const lux = luxBefore(source, lengthOf(way), 0);
  if (lux === undefined) return undefined;
  const spill = beamShare(angleBetweenDeg(way, subtract(product, from)), lampSize(source).beamDeg ?? 120);
  const turnDeg = angleBetweenDeg(subtract(from, at), subtract(product, at));
  const areaM2 = size.widthM * size.heightM;
  return luxAt1mOfCandela(bouncedCandela({ lux: lux * spill, reflects: board.reflects, areaM2, turnDeg }), size);
}

/** Where a lamp stands at a moment of the action, around what it aims at; undefined for a place that can't be. */
export function lampPosition(lamp: LampPlace, target: Vec3, moment: number): Vec3 | undefined {
  const distance = along(lamp.distance?.value, moment);
  const angle = along(lamp.angle?.value, moment);
  if (distance === undefined || angle === undefined) return undefined;
  const rise = (along(lamp.height?.value, moment) ?? target.y) - target.y;
  return Math.abs(rise) > distance * straightUpTo ? undefined : placeAt(angle, distance, rise, target);
}

/** The light of one lamp on the face of the subject that the camera sees. */
export interface LampLight {
  readonly lamp: LampPlace;
  readonly lux: Lux;
  /** Part of all the light on that face, 0 to 1. */
  readonly share: Share;
  /** Between the lamp's direction and the face toward the camera: over 90° it lights the back. */
  readonly offFaceDeg: number;
  /** Of its light on a face that is turned to it, the part that falls on this one. */
  readonly faced: Share;
}

export interface FaceLight {
  readonly lamps: readonly LampLight[];
  readonly roomLux: Lux;
  readonly roomShare: Share;
  readonly totalLux: Lux;
  /** Set where a meter said how much it is: the lamps have their shares of that. */
  readonly measured?: Val<Lux>;
  /** False when a lit lamp that reaches the face has no known output, distance or angle: the total is then too low. */
  readonly complete: boolean;
  /** The lamp that is said to be the key, else the strongest on the face. */
  readonly key?: LampLight;
}

/**
 * Light at a moment of the action on the face that the camera sees: of several of which it sees as much, on that which is
 * nearest to right, since no more is known to be wrong. Lamps aimed at the backdrop do not count, and what stands behind it
 * lights nothing.
 */
export const faceLight = onceAt((shot: Shot, moment: number): FaceLight => {
  const [first, ...others] = facesLight(shot, moment);
  const wanted = wantedLux(shot);
  if (wanted === undefined || others.length === 0) return first;
  const off = ({ totalLux }: FaceLight) => Math.abs(overWanted(shot, totalLux, wanted));
  return others.reduce((least, one) => (off(one) < off(least) - 1e-9 ? one : least), first);
});

/** The same on each face that one may be looking at; on one where a meter said how much it is. */
const facesLight = onceAt((shot: Shot, moment: number): readonly [FaceLight, ...FaceLight[]] => {
  const [first, ...others] = facesSeen(shot, moment);
  const rest = shot.measured?.light ? [] : others.map((way) => lightOn(shot, moment, way));
  return [lightOn(shot, moment, first), ...rest];
});

/** Of the faces that one may be looking at, is one too bright and another too dark? */
export function facesDisagree(shot: Shot, moment: number): boolean {
  const wanted = wantedLux(shot);
  if (wanted === undefined) return false;
  const off = facesLight(shot, moment).map(({ totalLux }) => overWanted(shot, totalLux, wanted));
  return Math.min(...off) < 0 && Math.max(...off) > 0;
}

function overWanted({ camera }: Shot, lux: Lux, wanted: Lux): Stops {
  return lux > 0 ? stopsOver(lux, wanted) - (camera.exposure?.value ?? 0) : -Infinity;
}

function lightOn(shot: Shot, moment: number, normal: Vec3): FaceLight {
  const middle = subjectPlace(shot);
  const aimedAt = productPlace(shot);
  let complete = true;
  const lights = shot.lit
    .filter((lamp) => lamp.aim === 'product')
    .map((lamp) => {
      const at = lampPosition(lamp, aimedAt, moment);
      const ends = at && { from: at, aimedAt, to: middle };
      const offFaceDeg = at ? angleBetweenDeg(subtract(at, middle), normal) : 0;
      const faced = ends ? facedShare(lamp, ends, normal) : 1;
      const toward = ends && luxToPlace(lamp, ends, moment);
      const isKept = at !== undefined && isHidden(lamp, at, shot, moment);
      const reckoned = isKept ? 0 : toward && toward * faced;
      const lux = measuredLux(lamp, shot) ?? reckoned;
      if (lux === undefined) complete = false;
      return { lamp, lux: lux ?? 0, offFaceDeg, faced };
    });
  const roomLux = shot.room?.light?.value ?? 0;
  const reckoned = lights.reduce((sum, one) => sum + one.lux, roomLux);
  const share = (lux: number) => (reckoned > 0 ? lux / reckoned : 0);
  const measured = shot.measured?.light;
  const by = measured && reckoned > 0 ? measured.value / (moment === 0 ? reckoned : reckonedAtStart(shot)) : 1;
  const lamps = lights.map((one) => ({ ...one, lux: one.lux * by, share: share(one.lux) }));
  return {
    lamps,
    roomLux: roomLux * by,
    roomShare: share(roomLux),
    totalLux: reckoned > 0 ? reckoned * by : (measured?.value ?? 0),
    measured,
    complete: complete || (measured !== undefined && !shot.lit.some((lamp) => lamp.changes)),
    key: lamps.find((one) => one.lamp.role?.value === 'key') ?? strongest(lamps),
  };
}

/** Stands it behind the backdrop, or a board where its lamp's light does not come past that? */
export function isHidden({ bounces }: LampPlace, at: Vec3, shot: Shot, moment: number): boolean {
  if (isKeptBehind(at, shot)) return true;
  const source = bounces && lampPosition(bounces, productPlace(shot), moment);
  return source !== undefined && isKeptBehind(source, shot, at);
}

/** A meter is held there before the action starts; what changes then changes by as much as reckoned. */
function reckonedAtStart(shot: Shot): Lux {
  const { measured, ...planned } = shot;
  const unread = { ...planned, measured: measured && { ...measured, light: undefined } };
  return lightOn(unread, 0, faceSeen(unread, 0)).totalLux;
}

/** What a meter said of a lamp alone: on a take sheet, of this shot; else in the plan. */
export function measuredLux({ name, measured }: LampPlace, shot: Shot): Lux | undefined {
  return shot.measured?.lamps.get(name)?.light?.value ?? measured?.value;
}

function strongest(lamps: readonly LampLight[]): LampLight | undefined {
  return lamps.reduce<LampLight | undefined>((best, one) => (one.lux > (best?.lux ?? 0) ? one : best), undefined);
}

/** Part of its full light; undefined for what its kit can't be set to. */
export function levelAt({ level, lamp, fields }: LampPlace, moment: number): Share | undefined {
  if (!level && fields.said('level')) return undefined;
  const share = along(level?.value, moment) ?? 1;
  const range = lamp?.level?.value;
  if (share > 1 + 1e-6) return undefined;
  // A lamp at 0 % is put out, which needs no dimmer.
  const outside = range && level && share > 0 && (share < range.from - 1e-6 || share > range.to + 1e-6);
  return outside ? undefined : share;
}

/** Lux at `to` toward a lamp that is aimed at the middle of the product and may light it from off its beam's axis. */
function luxToPlace(
  lamp: LampPlace,
  { from, aimedAt, to }: { from: Vec3; aimedAt: Vec3; to: Vec3 },
  moment: number,
): Lux | undefined {
  const way = subtract(to, from);
  const lux = luxBefore(lamp, lengthOf(way), moment);
  const offAxisDeg = angleBetweenDeg(way, subtract(aimedAt, from));
  return lux && lux * beamShare(offAxisDeg, lampSize(lamp).beamDeg ?? 120);
}

/** Lux on a face that is turned to the lamp, on its axis and at a distance; undefined where its light is not known. */
export function luxBefore(lamp: LampPlace, distanceMm: Mm, moment: number): Lux | undefined {
  const at1m = outputLuxAt1m(lamp);
  const level = levelAt(lamp, moment);
  if (at1m === undefined || !distanceMm || level === undefined) return undefined;
  const { widthM, heightM, beamDeg } = lampSize(lamp);
  return luxOnFace({
    widthM,
    heightM,
    beamDeg,
    luxAt1m: at1m,
    level,
    distanceM: distanceMm / 1000,
    angleDeg: 0,
    lostStops: lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0),
  });
}

/** Lux at the product of a lamp alone with the meter pointed at it, at the start; the same for every shot that lights the lamp. */
export const luxToward = once((lamp: LampPlace): Lux | undefined =>
  luxBefore(lamp, along(lamp.distance?.value, 0) ?? 0, 0),
);

/** The camera's settings as an exposure; undefined where any of them is automatic, not known, or none that the camera has. */
export const exposureSettings = once((shot: Shot) => {
  const { aperture, iso, filters } = shot.camera;
  const [timeS, fps] = [shutterSeconds(shot), recordedFps(shot)];
  if (timeS === undefined || typeof aperture?.value !== 'number' || typeof iso?.value !== 'number' || iso.value <= 0)
    return undefined;
  if ((fps && timeS * fps > 1 + 1e-6) || !hasAperture(shot.camera) || !hasIso(shot)) return undefined;
  return {
    fNumber: aperture.value,
    timeS,
    iso: iso.value,
    filterStops: filters.reduce((sum, filter) => sum + filter.loses, 0),
    magnification: magnificationOf(shot),
  };
});

/** Has the camera the ISO that is said? A tenth of a stop is forgiven; true where the kit does not tell. */
export function hasIso({ camera: { iso, body } }: Shot): boolean {
  const range = body?.iso?.value;
  if (!range || typeof iso?.value !== 'number') return true;
  return iso.value >= range.from * 0.93 && iso.value <= range.to * 1.07;
}

/** Lux that the settings want on the face, the planned offset (`exposure`) not counted. */
export const wantedLux = once((shot: Shot): Lux | undefined => {
  const settings = exposureSettings(shot);
  return settings && luxWanted(settings);
});

/** The flame of the product itself: a candle in its lamp, which lights what is round it and nothing of what is before it. */
export function isOwnFlame({ lamp, role, distance }: LampPlace, { product }: Film): boolean {
  const box = product.size?.value;
  if (lamp?.kind?.value !== 'flame' || role?.value !== 'practical' || !distance || !box) return false;
  const largest = Math.max(box.widthMm, box.heightMm, box.depthMm ?? 0);
  return Math.min(distance.value.from, distance.value.to) <= largest;
}

/** Stops by which the face is brighter than the settings and the planned offset want; undefined where anything is not known. */
export function exposureError(shot: Shot, moment: number): Stops | undefined {
  const wanted = wantedLux(shot);
  if (shot.camera.meter === 'backdrop') {
    const settings = exposureSettings(shot);
    const planned = shot.camera.exposure?.value ?? 0;
    const white = shot.backdrop?.screen?.white?.value;
    return settings && white
      ? screenStops(white, shot.backdrop?.brightness?.value ?? 1, settings) - planned
      : undefined;
  }
  const light = faceLight(shot, moment);
  if (wanted === undefined || !light.complete || light.totalLux <= 0) return undefined;
  return overWanted(shot, light.totalLux, wanted);
}
