/** The set of a shot in space, ready to be drawn from any side. Millimetres; x is camera right, y up, z away from 0°. */
import { productAs } from '../core/derived/showings.ts';
import { addScaled, type CameraPose, subtract, type Vec3 } from '../calc/geometry.ts';
import type { SharpZone } from '../calc/optics.ts';
import type { EdgeTangents } from '../calc/framing.ts';
import { downAt, type Hung, hungBackdrop } from '../core/derived/past-backdrop.ts';
import { poseInSet, type LensMoment, lensAt } from '../core/derived/optics.ts';
import { recordedEdges } from '../core/derived/sight.ts';
import { sharpInCut } from '../core/derived/sharp.ts';
import { subjectCorners } from '../core/derived/outline.ts';
import { type SurfaceOutline, isOnSurface, surfaceOutline } from '../core/derived/surface-outline.ts';
import { turnedDeg } from '../core/derived/time.ts';
import { lampStand, lampTarget } from '../core/derived/backdrop-light.ts';
import { lampFace } from '../core/derived/lamp-face.ts';
import type { Film, LampPlace, Shot } from '../core/film.ts';
import type { Degrees, Mm } from '../core/units.ts';
import { lampSize } from '../core/derived/lamp-size.ts';

export interface SceneLamp {
  readonly lamp: LampPlace;
  readonly at: Vec3;
  /** Where it is at the end of the action, when it moves. */
  readonly end?: Vec3;
  readonly path: readonly Vec3[];
  readonly target: Vec3;
  /** Corners of what shines, square to the way it looks. */
  readonly face: readonly Vec3[];
  readonly beamDeg: Degrees;
}

export interface SceneCamera {
  readonly pose: CameraPose;
  /** Where it is at the end of the action, when it moves. */
  readonly end?: CameraPose;
  readonly path: readonly Vec3[];
  /** What the recorded picture sees, as far as the backdrop and the surface; corners of that space. */
  readonly sees: readonly Vec3[];
  /** The same cut upright through the middle of the picture: an outline from the lens round. */
  readonly section: readonly Vec3[];
  /** The sharp zone within the picture; its far end counts as 50 m where it has none. */
  readonly sharp?: readonly Vec3[];
  readonly zone?: SharpZone;
  readonly lens?: LensMoment;
}

export interface Scene {
  readonly shot: Shot;
  readonly film: Film;
  readonly camera?: SceneCamera;
  readonly lamps: readonly SceneLamp[];
  readonly hung?: Hung;
  readonly surface?: SurfaceOutline;
  readonly floorMm?: Mm;
  readonly product: readonly Vec3[];
  /** As it stands at the end of the action, when it turns. */
  readonly productEnd?: readonly Vec3[];
  readonly subject: readonly Vec3[];
  readonly middle: Vec3;
}

export function sceneOf(shot: Shot, film: Film): Scene {
  const [startDeg, endDeg] = [turnedDeg(shot, shot.handlesS), turnedDeg(shot, shot.handlesS + (shot.actionS ?? 0))];
  const surface = surfaceOutline(shot);
  const whole = productAs(shot, film);
  const height = shot.surface?.height?.value;
  return {
    shot,
    film,
    camera: cameraOf(shot, film),
    lamps: shot.lit.flatMap((lamp) => lampOf(lamp, shot) ?? []),
    hung: hungBackdrop(shot, film),
    ...(surface && { surface }),
    ...(height !== undefined && { floorMm: -height }),
    product: subjectCorners(whole, film, startDeg) ?? [],
    ...(startDeg !== endDeg && { productEnd: subjectCorners(whole, film, endDeg) ?? [] }),
    subject: shot.subject.name === 'product' ? [] : (subjectCorners(shot, film, startDeg) ?? []),
    middle: { x: 0, y: shot.subject.heightMm, z: 0 },
  };
}

const steps = [0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1];

function cameraOf(shot: Shot, film: Film): SceneCamera | undefined {
  const pose = poseInSet(shot, 0);
  if (!pose) return undefined;
  const poses = steps.flatMap((moment) => poseInSet(shot, moment) ?? []);
  const end = poses.at(-1)!;
  const moves = Math.hypot(...Object.values(subtract(end.at, pose.at))) > 0.5 || poses.some((one) => far(one, pose));
  const lens = lensAt(shot, 0);
  const edges = lens && recordedEdges(lens, shot);
  const seen = (rays: readonly Vec3[]) =>
    lens ? [pose.at, ...rays.map((ray) => addScaled(pose.at, ray, reach(pose, ray, shot, film)))] : [];
  const corners = edges ? cornerRays(pose, edges) : [];
  const zone = sharpInCut(shot, film, 0)?.zone;
  return {
    pose,
    ...(moves && { end }),
    path: moves ? poses.map((one) => one.at) : [],
    sees: seen(corners),
    section: seen(edges ? middleRays(pose, edges) : []),
    ...(zone && {
      zone,
      sharp: corners.flatMap((ray) =>
        [zone.nearMm, Math.min(zone.farMm, 50_000)].map((way) => addScaled(pose.at, ray, way)),
      ),
    }),
    ...(lens && { lens }),
  };
}

function far(a: CameraPose, b: CameraPose): boolean {
  return Math.hypot(...Object.values(subtract(a.at, b.at))) > 0.5;
}

/** Length 1 along the camera's axis. */
function cornerRays(pose: CameraPose, edges: EdgeTangents): Vec3[] {
  return [edges.left, edges.right].flatMap((x) =>
    [edges.bottom, edges.top].map((y) => addScaled(addScaled(pose.forward, pose.right, x), pose.up, y)),
  );
}

/** Rays of the picture's upright middle, from its bottom to its top. */
function middleRays(pose: CameraPose, { left, right, bottom, top }: EdgeTangents): Vec3[] {
  const level = addScaled(pose.forward, pose.right, (left + right) / 2);
  return Array.from({ length: 33 }, (_, index) => addScaled(level, pose.up, bottom + ((top - bottom) * index) / 32));
}

/** How far along its axis a corner of the picture sees: to the surface, to the backdrop, or as far again as the subject. */
function reach(pose: CameraPose, ray: Vec3, shot: Shot, film: Film): number {
  const outline = surfaceOutline(shot);
  const hung = hungBackdrop(shot, film);
  const down = downAt(pose, ray);
  const hit = addScaled(pose.at, ray, down === Infinity ? 0 : down);
  const onSurface = down < Infinity && (!outline || isOnSurface(outline, hit));
  const behind = shot.backdrop?.behind?.value;
  const back = behind !== undefined && ray.z > 1e-6 ? (behind - pose.at.z) / ray.z : Infinity;
  const floor = shot.surface?.height && ray.y < -1e-9 ? (pose.at.y + shot.surface.height.value) / -ray.y : Infinity;
  const open = 2 * Math.hypot(pose.at.x, pose.at.y - shot.subject.heightMm, pose.at.z);
  const ends = [onSurface ? down : Infinity, hung || back < Infinity ? back : Infinity, floor];
  const nearest = Math.min(...ends);
  return nearest < Infinity ? nearest : open;
}

function lampOf(lamp: LampPlace, shot: Shot): SceneLamp | undefined {
  const target = lampTarget(lamp, shot);
  if (!target) return undefined;
  const place = (moment: number) => lampStand(lamp, shot, moment);
  const at = place(0);
  const end = place(1);
  if (!at || !end) return undefined;
  const moves = Math.hypot(end.x - at.x, end.y - at.y, end.z - at.z) > 0.5;
  const path = moves ? steps.flatMap((moment) => place(moment) ?? []) : [];
  return {
    lamp,
    at,
    ...(moves && { end }),
    path,
    target,
    face: lampFace(lamp, at, shot, 0),
    beamDeg: lampSize(lamp).beamDeg ?? 120,
  };
}
