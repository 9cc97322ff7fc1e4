/** The light on the subject of a shot, lamp by lamp, against what the settings want. */
import { luxWanted, screenStops, stopsOver } from '../../calc/exposure.ts';
import { angleBetweenDeg, directionOf, lengthOf, placeAt, subtract, type Vec3 } from '../../calc/geometry.ts';
import {
  beamShare,
  candelaFromLumens,
  cosineShare,
  type LampSize,
  luxAt1m,
  luxAt1mOfCandela,
  luxOnFace,
} from '../../calc/light.ts';
import { magnification } from '../../calc/optics.ts';
import { rateFps } from '../../calc/rate.ts';
import type { LampPlace, Shot } from '../film.ts';
import { along } from '../resolve/shots.ts';
import type { Lux, Mm, Share, Stops } from '../units.ts';
import { once, onceAt } from './memo.ts';
import { cameraPose, hasAperture, lensAt, productPlace, subjectPlace } from './optics.ts';
import { shutterSeconds } from './time.ts';

/** What shines: the modifier's face where one is put on, else the lamp's own. */
export const lampSize = once((lamp: LampPlace): LampSize => {
  const modifier = lamp.modifiers.at(-1);
  const box = modifier?.size?.value ?? lamp.lamp?.size?.value;
  const beamDeg = modifier?.beamDeg ?? lamp.lamp?.beamDeg;
  return { widthM: (box?.widthMm ?? 0) / 1000, heightM: (box?.heightMm ?? 0) / 1000, beamDeg };
});

/** Lux at 1 m on the axis at full level without modifier, from the output as the kit states it; undefined without one. */
export const outputLuxAt1m = once(({ lamp }: LampPlace): Lux | undefined => {
  const output = lamp?.output?.value;
  if (!lamp || !output) return undefined;
  const box = lamp.size?.value;
  const bare = { widthM: (box?.widthMm ?? 0) / 1000, heightM: (box?.heightMm ?? 0) / 1000, beamDeg: lamp.beamDeg };
  switch (output.kind) {
    case 'lux':
      return luxAt1m(output.lux, output.atMm / 1000, bare);
    case 'candela':
      return luxAt1mOfCandela(output.cd, bare);
    case 'lumens':
      return luxAt1mOfCandela(candelaFromLumens(output.lm, lamp.beamDeg), bare);
  }
});

/** Where a lamp stands at a moment of the action, around what it aims at; undefined for a place that can't be. */
export function lampPosition(lamp: LampPlace, target: Vec3, moment: number): Vec3 | undefined {
  const distance = along(lamp.distance?.value, moment);
  const angle = along(lamp.angle?.value, moment);
  if (distance === undefined || angle === undefined) return undefined;
  const rise = (along(lamp.height?.value, moment) ?? target.y) - target.y;
  return Math.abs(rise) > distance * (1 + 1e-6) ? undefined : placeAt(angle, distance, rise, target);
}

/** The light of one lamp on the face of the subject that the camera sees. */
export interface LampLight {
  readonly lamp: LampPlace;
  readonly lux: Lux;
  /** Part of all the light on that face, 0 to 1. */
  readonly share: Share;
  /** Between the lamp's direction and the face toward the camera: over 90° it lights the back. */
  readonly offFaceDeg: number;
}

export interface FaceLight {
  readonly lamps: readonly LampLight[];
  readonly roomLux: Lux;
  readonly roomShare: Share;
  readonly totalLux: Lux;
  /** False when a lit lamp that reaches the face has no known output, distance or angle: the total is then too low. */
  readonly complete: boolean;
  /** The lamp that is said to be the key, else the strongest on the face. */
  readonly key?: LampLight;
}

/** Light on the face toward the camera at a moment of the action. Lamps aimed at the backdrop do not count. */
export const faceLight = onceAt((shot: Shot, moment: number): FaceLight => {
  const middle = subjectPlace(shot);
  const aimedAt = productPlace(shot);
  const pose = cameraPose(shot, moment);
  const normal = pose ? subtract(pose.at, middle) : directionOf(0);
  let complete = true;
  const lights = shot.lit
    .filter((lamp) => lamp.aim === 'product')
    .map((lamp) => {
      const at = lampPosition(lamp, aimedAt, moment);
      const offFaceDeg = at ? angleBetweenDeg(subtract(at, middle), normal) : 0;
      const lux =
        lamp.measured?.value ?? (at && luxAtPlace(lamp, { from: at, aimedAt, to: middle }, offFaceDeg, moment));
      if (lux === undefined) complete = false;
      return { lamp, lux: lux ?? 0, offFaceDeg };
    });
  const roomLux = shot.room?.light?.value ?? 0;
  const totalLux = lights.reduce((sum, one) => sum + one.lux, roomLux);
  const share = (lux: number) => (totalLux > 0 ? lux / totalLux : 0);
  const lamps = lights.map(({ lamp, lux, offFaceDeg }) => ({ lamp, lux, offFaceDeg, share: share(lux) }));
  const key = lamps.find((one) => one.lamp.role?.value === 'key') ?? strongest(lamps);
  return { lamps, roomLux, roomShare: share(roomLux), totalLux, complete, key };
});

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

/** Lux on a face at `to`, which a lamp that is aimed at the middle of the product may light from off its beam's axis. */
function luxAtPlace(
  lamp: LampPlace,
  { from, aimedAt, to }: { from: Vec3; aimedAt: Vec3; to: Vec3 },
  offFaceDeg: number,
  moment: number,
): Lux | undefined {
  const way = subtract(to, from);
  const lux = luxBefore(lamp, lengthOf(way), moment);
  const offAxisDeg = angleBetweenDeg(way, subtract(aimedAt, from));
  return lux && lux * cosineShare(offFaceDeg) * beamShare(offAxisDeg, lampSize(lamp).beamDeg ?? 120);
}

/** Lux on a face that is turned to the lamp, on its axis and at a distance; undefined where its light is not known. */
export function luxBefore(lamp: LampPlace, distanceMm: Mm, moment: number): Lux | undefined {
  const at1m = outputLuxAt1m(lamp);
  const level = levelAt(lamp, moment);
  if (at1m === undefined || !distanceMm || level === undefined) return undefined;
  return luxOnFace({
    ...lampSize(lamp),
    luxAt1m: at1m,
    level,
    distanceM: distanceMm / 1000,
    angleDeg: 0,
    lostStops: lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0),
  });
}

/** The camera's settings as an exposure; undefined where any of them is automatic, not known, or none that the camera has. */
export const exposureSettings = once((shot: Shot) => {
  const { aperture, iso, filters, rate } = shot.camera;
  const timeS = shutterSeconds(shot);
  if (timeS === undefined || typeof aperture?.value !== 'number' || typeof iso?.value !== 'number' || iso.value <= 0)
    return undefined;
  if ((rate && timeS * rateFps(rate.value) > 1 + 1e-6) || !hasAperture(shot.camera) || !hasIso(shot)) return undefined;
  const lens = lensAt(shot, 0);
  return {
    fNumber: aperture.value,
    timeS,
    iso: iso.value,
    filterStops: filters.reduce((sum, filter) => sum + filter.loses, 0),
    magnification: lens ? magnification(lens.focalMm, lens.distanceMm) : 0,
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

/** Stops by which the face is brighter than the settings and the planned offset want; undefined where anything is not known. */
export function exposureError(shot: Shot, moment: number): Stops | undefined {
  const wanted = wantedLux(shot);
  const planned = shot.camera.exposure?.value ?? 0;
  if (shot.camera.meter === 'backdrop') {
    const settings = exposureSettings(shot);
    const white = shot.backdrop?.screen?.white?.value;
    return settings && white
      ? screenStops(white, shot.backdrop?.brightness?.value ?? 1, settings) - planned
      : undefined;
  }
  const light = faceLight(shot, moment);
  if (wanted === undefined || !light.complete || light.totalLux <= 0) return undefined;
  return stopsOver(light.totalLux, wanted) - planned;
}
