/** What the lens does in a shot: sensor part, field, sharp zone, tilt. Lengths in mm, angles in degrees. */
import { deepestSeenMm, outlineHeightMm, widestOutlineMm } from '../../calc/box.ts';
import { type CameraPose, lookAt, lookDownDeg, placeAt, type Vec3 } from '../../calc/geometry.ts';
import { depthOfField, fieldMm, type SharpZone } from '../../calc/optics.ts';
import { circleOfConfusionMm, type PictureSize, usedSensor } from '../../calc/sensor.ts';
import type { Camera, Shot } from '../film.ts';
import { along, lensHeightMm } from '../resolve/shots.ts';
import type { Degrees, Mm, Raster } from '../units.ts';
import { once, onceAt } from './memo.ts';
import { cameraMoves, turnedDeg } from './time.ts';

/** The recorded raster as it lies in the picture: turned when the camera is on its side. */
export function pictureRaster({ raster, wayUp }: Camera): Raster | undefined {
  if (!raster || wayUp !== 'on-its-side') return raster?.value;
  return { width: raster.value.height, height: raster.value.width };
}

/** The part of the sensor that makes the picture; undefined without sensor or raster. */
export const sensorUsed = once((shot: Shot): PictureSize | undefined => {
  const { body, lens, raster, mode, stabiliser, wayUp } = shot.camera;
  const sensor = (lens?.sensor ?? body?.sensor)?.value;
  if (!sensor || !raster) return undefined;
  return usedSensor({
    widthMm: sensor.widthMm,
    heightMm: sensor.heightMm,
    aspect: raster.value.width / raster.value.height,
    modeCrop: mode?.crop ?? 1,
    stabiliserCrop: stabiliser?.value === 'active' ? (body?.stabiliserCrop ?? 1) : 1,
    onItsSide: wayUp === 'on-its-side',
  });
});

/** The lens at one moment of the action, 0 its start and 1 its end. */
export interface LensMoment {
  readonly focalMm: Mm;
  /** Front of the lens to the middle of the subject, as the tape goes. */
  readonly distanceMm: Mm;
  /** Where it is focused. */
  readonly focusMm: Mm;
  readonly fNumber?: number;
  readonly sensor: PictureSize;
}

/** Undefined where sensor, focal length or distance is not known. Focus left to the camera counts as on the subject. */
export function lensAt(shot: Shot, moment: number): LensMoment | undefined {
  const focus = shot.camera.focus?.value;
  const pulled = typeof focus === 'object' && focus.from !== focus.to;
  return lensOnce(shot, pulled || cameraMoves(shot) ? moment : 0);
}

const lensOnce = onceAt((shot: Shot, moment: number): LensMoment | undefined => {
  const { camera } = shot;
  const sensor = sensorUsed(shot);
  const focalMm = along(camera.focal?.value, moment);
  const distanceMm = along(camera.distance?.value, moment);
  if (!sensor || !focalMm || !distanceMm || distanceMm <= focalMm) return undefined;
  const focus = camera.focus?.value;
  const start = camera.distance!.value.from;
  const focusMm = typeof focus === 'object' ? along(focus, moment)! : focus === 'locked' ? start : distanceMm;
  const fNumber = typeof camera.aperture?.value === 'number' && hasAperture(camera) ? camera.aperture.value : undefined;
  return focusMm > focalMm ? { focalMm, distanceMm, focusMm, fNumber, sensor } : undefined;
});

/** Has the lens the aperture that is said? A tenth of a stop is forgiven; true where the kit does not tell. */
export function hasAperture({ aperture, lens }: Camera): boolean {
  const range = lens?.aperture?.value;
  if (!range || typeof aperture?.value !== 'number') return true;
  const least = Math.min(range.from, range.to);
  const most = Math.max(range.from, range.to);
  return aperture.value >= least * 0.965 && aperture.value <= most * 1.035;
}

/** Width and height of the whole recorded picture at a distance from the lens. */
export function fieldAt(lens: LensMoment, atMm: Mm): { widthMm: Mm; heightMm: Mm } {
  const { sensor, focalMm, focusMm } = lens;
  return {
    widthMm: fieldMm(sensor.widthMm, focalMm, focusMm, atMm),
    heightMm: fieldMm(sensor.heightMm, focalMm, focusMm, atMm),
  };
}

/** The sharp zone with the circle of confusion of the used sensor, divided by the zoom of the edit. */
export function sharpZone(lens: LensMoment, zoom = 1): SharpZone | undefined {
  const { focalMm, focusMm: distanceMm, fNumber, sensor } = lens;
  return fNumber === undefined
    ? undefined
    : depthOfField({ focalMm, fNumber, distanceMm }, circleOfConfusionMm(sensor, zoom));
}

/** How far the camera looks down at the subject; minus is up. */
export function tiltDeg(shot: Shot, moment: number): Degrees {
  const distance = along(shot.camera.distance?.value, moment) ?? 0;
  return lookDownDeg(distance, lensHeightMm(shot, moment) - shot.subject.heightMm);
}

/** The middle of the subject: the middle of the product seen from above, at the subject's height over the surface. */
export function subjectPlace(shot: Shot): Vec3 {
  return { x: 0, y: shot.subject.heightMm, z: 0 };
}

/** The middle of the product, which lamps aim at and are measured to. */
export function productPlace({ productMiddleMm }: Shot): Vec3 {
  return { x: 0, y: productMiddleMm, z: 0 };
}

/** Where the camera stands and looks at a moment; undefined without a distance, or for a place that can't be. */
export function cameraPose(shot: Shot, moment: number): CameraPose | undefined {
  return poseOnce(shot, cameraMoves(shot) ? moment : 0);
}

const poseOnce = onceAt((shot: Shot, moment: number): CameraPose | undefined => {
  const { camera } = shot;
  const distance = along(camera.distance?.value, moment);
  if (!distance) return undefined;
  const target = subjectPlace(shot);
  const rise = lensHeightMm(shot, moment) - target.y;
  if (Math.abs(rise) > distance * (1 + 1e-6)) return undefined;
  const pose = lookAt(placeAt(along(camera.angle?.value, moment) ?? 0, distance, rise, target), target);
  const slide = along(camera.slide?.value, moment) ?? 0;
  return slide
    ? { ...pose, at: { x: pose.at.x + pose.right.x * slide, y: pose.at.y, z: pose.at.z + pose.right.z * slide } }
    : pose;
});

/** How the subject lies before the camera in a stretch of the take: what its turn sweeps. */
export interface SubjectSeen {
  readonly widthMm: Mm;
  readonly heightMm: Mm;
  /** From its nearest to its farthest point along the camera's line. */
  readonly depthMm: Mm;
}

/** Undefined without the subject's size. Two numbers make a flat thing without depth. */
export function subjectSeen(shot: Shot, fromS: number, toS: number): SubjectSeen | undefined {
  const { box } = shot.subject;
  if (!box) return undefined;
  const mm = { widthMm: box.widthMm, depthMm: box.depthMm ?? 0, heightMm: box.heightMm };
  const facing = along(shot.camera.angle?.value, 0) ?? 0;
  const a = turnedDeg(shot, fromS) - facing;
  const b = turnedDeg(shot, toS) - facing;
  const tilt = tiltDeg(shot, 0);
  return {
    widthMm: widestOutlineMm(mm, a, b),
    heightMm: Math.max(outlineHeightMm(mm, tilt, a), outlineHeightMm(mm, tilt, b)),
    depthMm: deepestSeenMm(mm, Math.abs(tilt), a, b),
  };
}

/** The stretch of the take that the action fills, in seconds of the take. */
export function actionSpan(shot: Shot): { fromS: number; toS: number } {
  return { fromS: shot.handlesS, toS: shot.handlesS + (shot.actionS ?? 0) };
}
