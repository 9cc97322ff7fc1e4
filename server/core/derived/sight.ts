/** From the set through the lens to the picture. */
import { type CameraPose, fromCamera, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import { imageDistanceMm } from '../../calc/optics.ts';
import type { PlanePoint } from '../../calc/plane.ts';
import type { Piece, Shot } from '../film.ts';
import type { Share } from '../units.ts';
import type { LensMoment } from './optics.ts';

interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Way = 'as-is' | 'turned' | 'mirrored';

/** How the recorded picture stands in the finished one. */
export function wayOf({ camera }: Shot, piece: Piece | undefined): Way {
  if (piece?.flip?.value === 'mirror') return 'mirrored';
  return (camera.wayUp === 'upside-down') === (piece?.flip?.value === 'upright') ? 'as-is' : 'turned';
}

/** What of the recorded picture is seen, and how it stands. */
export interface Cut {
  readonly edges: EdgeTangents;
  readonly way: Way;
  readonly straightenDeg: number;
  /** How far the picture is moved to the right, as a share of its width; `edges` are moved by it already. */
  readonly shift: Share;
}

/** The recorded picture as it is. */
export function wholeCut(lens: LensMoment, shot: Shot): Cut {
  const way = shot.camera.wayUp === 'upside-down' ? 'turned' : 'as-is';
  return { edges: recordedEdges(lens, shot), way, straightenDeg: 0, shift: 0 };
}

/** From tangents to the page: mirrored or turned, straightened clockwise about the recording's middle, then moved. */
export function mapper({ edges, way, straightenDeg, shift }: Cut, frame: Frame): (tangent: PlanePoint) => PlanePoint {
  const { left, right, bottom, top } = edges;
  const scale = frame.width / (right - left);
  const sign = { x: sideways(way), y: way === 'turned' ? -1 : 1 };
  const middle = { x: (left + right) / 2 + sign.x * shift * (right - left), y: (bottom + top) / 2 };
  const [cos, sin] = [Math.cos(straightenDeg / degOfRad), Math.sin(straightenDeg / degOfRad)];
  const at = { x: frame.x + (0.5 + shift) * frame.width, y: frame.y + frame.height / 2 };
  return (tangent) => {
    const x = (tangent.x - middle.x) * scale * sign.x;
    const y = -(tangent.y - middle.y) * scale * sign.y;
    return { x: at.x + x * cos - y * sin, y: at.y + x * sin + y * cos };
  };
}

/** −1 where left and right have changed sides. */
export function sideways(way: Way): 1 | -1 {
  return way === 'as-is' ? 1 : -1;
}

const degOfRad = 180 / Math.PI;

export type Flat = (tangent: PlanePoint) => PlanePoint;

/** The recorded picture's edges as tangents from the line to the subject's middle, which may sit off centre. */
export function recordedEdges(lens: LensMoment, shot: Shot): EdgeTangents {
  const image = imageDistanceMm(lens.focalMm, lens.focusMm);
  const [width, up] = [lens.sensor.widthMm / image, lens.sensor.heightMm / image / 2];
  const middle = -(shot.camera.offCentre?.value ?? 0) * width;
  return { left: middle - width / 2, right: middle + width / 2, bottom: -up, top: up };
}

/** A point as the lens sees it: sideways, up and along its axis. */
export type SeenPoint = ReturnType<typeof fromCamera>;

/** Points of a flat outline as the lens sees them, cut off just before it. */
export function seen(pose: CameraPose, outline: readonly Vec3[], flat: Flat): PlanePoint[] {
  return beforeLens(pose, outline).map(({ right, up, along }) => flat({ x: right / along, y: up / along }));
}

/** The part of a flat outline that lies before the lens. */
export function beforeLens(pose: CameraPose, outline: readonly Vec3[]): SeenPoint[] {
  const nearest = 5;
  const points = outline.map((point) => fromCamera(pose, point));
  return points.flatMap((point, index) => {
    const before = points[(index + points.length - 1) % points.length]!;
    const cut =
      point.along > nearest === before.along > nearest
        ? []
        : [between(before, point, (nearest - before.along) / (point.along - before.along))];
    return point.along > nearest ? [...cut, point] : cut;
  });
}

function between(a: SeenPoint, b: SeenPoint, part: number): SeenPoint {
  return {
    right: a.right + (b.right - a.right) * part,
    up: a.up + (b.up - a.up) * part,
    along: a.along + (b.along - a.along) * part,
  };
}
