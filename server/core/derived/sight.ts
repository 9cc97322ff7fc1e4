/** From the set through the lens to the picture. */
import { type CameraPose, fromCamera, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import { imageDistanceMm } from '../../calc/optics.ts';
import type { PlanePoint } from '../../calc/plane.ts';
import type { Piece, Shot } from '../film.ts';
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

/** From tangents to the page: the picture's edges fill the frame; turned clockwise by the straightening. */
export function mapper(
  edges: EdgeTangents,
  frame: Frame,
  way: Way,
  straightenDeg: number,
): (tangent: PlanePoint) => PlanePoint {
  const { left, right, bottom, top } = edges;
  const scale = frame.width / (right - left);
  const middle = { x: (left + right) / 2, y: (bottom + top) / 2 };
  const turn = (straightenDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return (tangent) => {
    const sign = { x: way === 'as-is' ? 1 : -1, y: way === 'turned' ? -1 : 1 };
    const x = (tangent.x - middle.x) * scale * sign.x;
    const y = -(tangent.y - middle.y) * scale * sign.y;
    return { x: frame.x + frame.width / 2 + x * cos - y * sin, y: frame.y + frame.height / 2 + x * sin + y * cos };
  };
}

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
