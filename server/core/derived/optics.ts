/** What the lens does in a shot: sensor part, field, sharp zone, tilt. Lengths in mm, angles in degrees. */
import { deepestSeenMm, outlineHeightMm, widestOutlineMm } from '../../calc/box.ts';
import {
  type CameraPose,
  fromCamera,
  lookAt,
  lookDownDeg,
  placeAt,
  straightUpTo,
  type Vec3,
} from '../../calc/geometry.ts';
import {
  blurInPlaneMm,
  closeUpFocalMm,
  depthOfField,
  type Focus,
  type FocusRange,
  focusRange,
  fieldMm,
  fromFrontMm,
  imageDistanceMm,
  magnification,
  planeDepthMm,
  tubeFocusRange,
  type SharpZone,
} from '../../calc/optics.ts';
import { circleOfConfusionMm, type PictureSize, usedSensor } from '../../calc/sensor.ts';
import type { Camera, Filter, Shot } from '../film.ts';
import { along, lensHeightMm } from './moments.ts';
import type { Degrees, Mm, Raster } from '../units.ts';
import { once, onceAt } from '../memo.ts';
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
  /** As it acts from the front: with the close-up lenses on it, and so near that it counts, by where its plane lies. */
  readonly focalMm: Mm;
  /** Its focal length as one speaks of it, with the close-up lenses on it. */
  readonly namedMm: Mm;
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
  const ownMm = along(camera.focal?.value, moment);
  // The f-number stays that of the lens: three dioptres on 50 mm make the opening a third of a stop larger.
  const plainMm = ownMm && closeUpFocalMm(ownMm, dioptres(camera));
  const distanceMm = along(camera.distance?.value, moment);
  if (!sensor || !plainMm || !distanceMm) return undefined;
  const focus = camera.focus?.value;
  const start = camera.distance!.value.from;
  const focusMm = typeof focus === 'object' ? along(focus, moment)! : focus === 'locked' ? start : distanceMm;
  const fNumber = typeof camera.aperture?.value === 'number' && hasAperture(camera) ? camera.aperture.value : undefined;
  const focalMm = fromFrontMm(plainMm, focusMm, planeOf(camera, plainMm, focusMm));
  return Math.min(distanceMm, focusMm) > focalMm && isThin(camera, plainMm, distanceMm)
    ? { focalMm, namedMm: plainMm, distanceMm, focusMm, fNumber, sensor }
    : undefined;
});

/**
 * From this magnification on where a lens's plane lies begins to count, and from the second on it counts in full: farther
 * away the plain formula is what people reckon with, and between them sizes that are compared must not leap.
 */
const planeCounts = { from: 0.3, full: 0.5 };

/**
 * How far behind the front the lens's plane lies, as far as that counts: in the front half of the lens, where the entrance
 * pupils of real ones lie (common practice, no source). 0 where the kit does not say where the sensor is, and with a
 * close-up lens, which sits at the front and brings the subject near without the lens's doing.
 */
function planeOf(camera: Camera, focalMm: Mm, focusMm: Mm): Mm {
  const lengthMm = camera.lens?.frontToSensorMm;
  if (!lengthMm || dioptres(camera) > 0) return 0;
  const { from, full } = planeCounts;
  const counts = Math.min(1, Math.max(0, (magnification(focalMm, focusMm) - from) / (full - from)));
  return counts * planeDepthMm(focalMm, focusMm, lengthMm + tubesMm(camera), lengthMm / 2);
}

/**
 * Can it be reckoned as a thin lens? A macro lens gets shorter as it focuses nearer, and shows more than a thin one of its
 * length: where that would stand a tenth farther from the subject than this one does, it is not known what it shows.
 */
function isThin(camera: Camera, focalMm: Mm, distanceMm: Mm): boolean {
  const { lens } = camera;
  if (!lens?.frontToSensorMm) return true;
  const objectMm = distanceMm + planeOf(camera, focalMm, distanceMm);
  const toSensor = objectMm + imageDistanceMm(focalMm, objectMm);
  return toSensor <= 1.1 * (distanceMm + lens.frontToSensorMm + tubesMm(camera));
}

/**
 * How large the picture on the sensor is against the subject: of a thin lens of the focal length whose plane lies where sizes
 * are reckoned from; 0 where it is not known. What such a lens loses of the light near by is the best guess for one that is none, too.
 */
export function magnificationOf({ camera }: Shot): number {
  const focalMm = camera.focal?.value.from;
  const distanceMm = camera.distance?.value.from;
  if (!focalMm || !distanceMm || distanceMm <= focalMm) return 0;
  const objectMm = distanceMm + planeOf(camera, focalMm, distanceMm);
  // A close-up lens brings the subject near without moving the lens away from the sensor, so that no light is lost.
  return imageDistanceMm(closeUpFocalMm(focalMm, dioptres(camera)), objectMm) / focalMm - 1;
}

/** Power of the close-up lenses on the lens together. */
function dioptres({ filters }: Camera): number {
  return filters.reduce((sum, { kind, power }) => (kind === 'close-up' ? sum + (power?.value ?? 0) : sum), 0);
}

function tubesMm({ filters }: Camera): Mm {
  return filters.reduce((sum, { kind, length }) => (kind === 'tube' ? sum + (length?.value ?? 0) : sum), 0);
}

/** What changes where the lens focuses, and does not say by how much. */
export function unknownCloseUps({ filters }: Camera): Filter[] {
  return filters.filter(({ kind, power, length }) => (kind === 'close-up' && !power) || (kind === 'tube' && !length));
}

/** Where the lens focuses with all that is on it, from its front; undefined where the kit does not tell. */
export function focusRangeOf(camera: Camera): FocusRange | undefined {
  const { lens, focal } = camera;
  if (!lens?.nearestFocus || unknownCloseUps(camera).length > 0) return undefined;
  const nearest = lens.nearestFocus.value - lens.frontToSensorMm;
  const [power, tube] = [dioptres(camera), tubesMm(camera)];
  if (power === 0 && tube === 0) return { nearestMm: nearest, farthestMm: Infinity };
  if (!focal) return undefined;
  const atFront = focusRange(focal.value.from, nearest, power, tube);
  if (power > 0 || lens.frontToSensorMm === 0) return atFront;
  // Where in the lens its plane lies nobody knows: what one of the two allows is possible.
  const inLens = tubeFocusRange(focal.value.from, nearest, lens.frontToSensorMm, tube);
  return {
    nearestMm: Math.min(atFront.nearestMm, inLens.nearestMm),
    farthestMm: Math.max(atFront.farthestMm, inLens.farthestMm),
  };
}

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

/** The middle of the backdrop as the lens draws it: how far off, how blurred, and how wide the picture is there. */
export interface BackdropSeen {
  readonly pose: CameraPose;
  readonly opening: Focus;
  readonly atMm: Mm;
  /** In its own plane. */
  readonly blurMm: Mm;
  readonly widthMm: Mm;
}

/** Undefined where it is not said where it hangs, the lens is not known, or the camera does not look its way. */
export function backdropSeen(shot: Shot): BackdropSeen | undefined {
  const behindMm = shot.backdrop?.behind?.value;
  const lens = lensAt(shot, 0);
  const pose = cameraPose(shot, 0);
  if (behindMm === undefined || !pose || lens?.fNumber === undefined || pose.forward.z <= 0.1) return undefined;
  const atMm = fromCamera(pose, { x: 0, y: subjectPlace(shot).y, z: behindMm }).along;
  if (atMm <= 0) return undefined;
  const opening = { focalMm: lens.focalMm, fNumber: lens.fNumber, distanceMm: lens.focusMm };
  return { pose, opening, atMm, blurMm: blurInPlaneMm(opening, atMm), widthMm: fieldAt(lens, atMm).widthMm };
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
  return (goesAlong(shot) ? facedOnce : poseOnce)(shot, cameraMoves(shot) ? moment : 0);
}

/** The same in the set, among lamps and edges: before a subject that goes (`moves: subject`) the camera stays where it began. */
export function poseInSet(shot: Shot, moment: number): CameraPose | undefined {
  return poseOnce(shot, shot.action?.moves !== 'subject' && cameraMoves(shot) ? moment : 0);
}

/** Does the subject slide as the camera does (`moves: both`)? Then the slide takes it nowhere in the picture. */
export function goesAlong({ action }: Shot): boolean {
  return action?.moves === 'both';
}

const poseOnce = onceAt((shot: Shot, moment: number): CameraPose | undefined => {
  const pose = facedOnce(shot, moment);
  const slide = along(shot.camera.slide?.value, moment) ?? 0;
  return pose && slide
    ? { ...pose, at: { x: pose.at.x + pose.right.x * slide, y: pose.at.y, z: pose.at.z + pose.right.z * slide } }
    : pose;
});

/** Aimed at the subject, before it slides. */
const facedOnce = onceAt((shot: Shot, moment: number): CameraPose | undefined => {
  const { camera } = shot;
  const distance = along(camera.distance?.value, moment);
  if (!distance) return undefined;
  const target = subjectPlace(shot);
  const rise = lensHeightMm(shot, moment) - target.y;
  if (Math.abs(rise) > distance * straightUpTo) return undefined;
  return lookAt(placeAt(along(camera.angle?.value, moment) ?? 0, distance, rise, target), target);
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
