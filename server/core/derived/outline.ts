/** The subject's box as a camera sees it: its outline in the picture and how deep it lies. */
import { type CameraPose, fromCamera, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import type { Facing, Film, Shot } from '../film.ts';
import type { Mm } from '../units.ts';
import { once } from '../memo.ts';
import { faceDeg } from './face-seen.ts';
import { subjectPlace } from './optics.ts';

/** From this many equal faces on, a product counts as round. */
export const roundFrom = 8;

/** Corners of the subject when it stands turned by `turnDeg`, clockwise from above; undefined without its size. */
export function subjectCorners(shot: Shot, film: Film, turnDeg: number, asRound = false): Vec3[] | undefined {
  const { box } = shot.subject;
  if (!box) return undefined;
  const round = asRound || isRound(shot, film);
  const depthMm = box.depthMm ?? 0;
  const points: Vec3[] = [];
  for (const [x, z] of around(round)) {
    const across = turned({ x: (x * box.widthMm) / 2, z: (z * depthMm) / 2 }, turnDeg);
    points.push(placed(shot, across, -0.5 * box.heightMm), placed(shot, across, 0.5 * box.heightMm));
  }
  return points;
}

/** A part of a round thing that is as deep as wide is round with it. */
export function isRound({ subject: { box, name } }: Shot, { product }: Film): boolean {
  const isEven = name === 'product' || box?.depthMm === box?.widthMm;
  return isEven && (product.symmetry?.value ?? 1) >= roundFrom;
}

/**
 * As deep as one of these sides, and nobody said how many faces it has: a bowl, a jar, a screw and the way of a drop look like
 * a box in figures.
 */
export function mayBeRound(
  { subject: { box, name } }: Shot,
  { product }: Film,
  sides: readonly ('widthMm' | 'heightMm')[],
): boolean {
  if (name === 'product' ? product.symmetry : product.parts.get(name)?.faces) return false;
  const deep = box?.depthMm;
  return deep !== undefined && sides.some((side) => Math.abs(deep / box![side] - 1) < 0.02);
}

/** Corners of one of its faces when it stands turned by `turnDeg`: as it looks at one, first the left edge from its foot up, then the right one. */
export function faceCorners(shot: Shot, face: Facing, turnDeg: number): Vec3[] | undefined {
  const { box } = shot.subject;
  if (!box) return undefined;
  const halfDepthMm = (box.depthMm ?? 0) / 2;
  const halfHeightMm = box.heightMm / 2;
  return [-0.5, 0.5].flatMap((side) =>
    [-1, 1].map((up) => {
      if (face === 'up') {
        return placed(shot, turned({ x: side * box.widthMm, z: up * halfDepthMm }, turnDeg), halfHeightMm);
      }
      const isAside = face === 'left' || face === 'right';
      const [widthMm, outMm] = isAside ? [2 * halfDepthMm, box.widthMm / 2] : [box.widthMm, halfDepthMm];
      const across = turned({ x: side * widthMm, z: -outMm }, turnDeg + faceDeg[face]);
      return placed(shot, across, up * halfHeightMm);
    }),
  );
}

function around(round: boolean): readonly (readonly [number, number])[] {
  if (!round) return corners;
  return circle;
}

const corners = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const;
const circle = Array.from({ length: 24 }, (_, index) => {
  const angle = (index * Math.PI) / 12;
  return [Math.cos(angle), Math.sin(angle)] as const;
});

/** Turns a place clockwise as seen from above: what looked at 0° (−z) looks at 90° (−x) after a quarter turn. */
export function turned({ x, z }: { x: number; z: number }, turnDeg: number): { x: number; z: number } {
  const angle = (turnDeg * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return { x: x * cos + z * sin, z: z * cos - x * sin };
}

function placed(shot: Shot, { x, z }: { x: number; z: number }, up: Mm): Vec3 {
  const middle = subjectPlace(shot);
  return { x: middle.x + x, y: middle.y + up, z: middle.z + z };
}

/**
 * Corners of what the camera sees of the subject: of the faces that look at it, and all of a clear one. A rounded thing
 * shows itself to its middle at least, so the middle counts too.
 */
function seenCorners(shot: Shot, film: Film, turnDeg: number, from: Vec3): Vec3[] | undefined {
  const all = subjectCorners(shot, film, turnDeg, mayBeRound(shot, film, ['widthMm']));
  if (!all) return undefined;
  const middle = subjectPlace(shot);
  const clear = film.product.finish === 'transparent' || film.product.finish === 'translucent';
  if (clear) return [...all, middle];
  // Corners come in pairs, below and above, round the outline.
  const count = all.length / 2;
  const below = all.filter((_, index) => index % 2 === 0);
  const above = all.filter((_, index) => index % 2 === 1);
  const seen: Vec3[] = [middle];
  if (from.y > above[0]!.y) seen.push(...above);
  if (from.y < below[0]!.y) seen.push(...below);
  for (let index = 0; index < count; index++) {
    const next = (index + 1) % count;
    const a = below[index]!;
    const b = below[next]!;
    // Outward across the side from a to b, which run clockwise about the middle in x and z.
    const outward = { x: b.z - a.z, z: a.x - b.x };
    if ((from.x - a.x) * outward.x + (from.z - a.z) * outward.z > 0) seen.push(a, b, above[index]!, above[next]!);
  }
  return seen;
}

/** Where points lie in the picture, as tangents from the camera's axis; `Infinity` for one beside or behind the lens. */
export function outlineOf(pose: CameraPose, points: readonly Vec3[]): EdgeTangents {
  const outline = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity };
  for (const point of points) {
    const { right, up, along } = fromCamera(pose, point);
    if (along <= 0) return { left: -Infinity, right: Infinity, bottom: -Infinity, top: Infinity };
    outline.left = Math.min(outline.left, right / along);
    outline.right = Math.max(outline.right, right / along);
    outline.bottom = Math.min(outline.bottom, up / along);
    outline.top = Math.max(outline.top, up / along);
  }
  return outline;
}

/** How near and how far points lie along the camera's axis. */
export function depthOf(pose: CameraPose, points: readonly Vec3[]): { nearMm: Mm; farMm: Mm } {
  let nearMm = Infinity;
  let farMm = -Infinity;
  for (const point of points) {
    const { along } = fromCamera(pose, point);
    nearMm = Math.min(nearMm, along);
    farMm = Math.max(farMm, along);
  }
  return { nearMm, farMm };
}

const depths = once<CameraPose, Map<number, { nearMm: Mm; farMm: Mm } | undefined>>(() => new Map());

/** How near and how far what the camera sees of the subject lies, when it stands turned by `turnDeg`; undefined without its size. */
export function depthSeen(
  shot: Shot,
  film: Film,
  turnDeg: number,
  pose: CameraPose,
): { nearMm: Mm; farMm: Mm } | undefined {
  const byTurn = depths(pose);
  if (!byTurn.has(turnDeg)) {
    const points = seenCorners(shot, film, turnDeg, pose.at);
    byTurn.set(turnDeg, points && depthOf(pose, points));
  }
  return byTurn.get(turnDeg);
}

/** An upright flat face of the subject. */
export interface Face {
  readonly name: 'front' | 'back' | 'side';
  readonly middle: Vec3;
  /** Outward, length 1. */
  readonly normal: Vec3;
  /** Along its width, length 1. */
  readonly across: Vec3;
  readonly widthMm: Mm;
  readonly heightMm: Mm;
}

/**
 * The upright faces of the subject as it stands; none of a round product, or without its size. A flat part has the one that it
 * faces with, its front where nobody says.
 */
export function facesOf(shot: Shot, film: Film, turnDeg: number): Face[] {
  const { box, name } = shot.subject;
  if (!box || (name === 'product' && (film.product.symmetry?.value ?? 1) >= roundFrom)) return [];
  const depthMm = box.depthMm ?? 0;
  const sides = [
    { name: 'front', x: 0, z: -1, widthMm: box.widthMm, outMm: depthMm / 2 },
    { name: 'back', x: 0, z: 1, widthMm: box.widthMm, outMm: depthMm / 2 },
    { name: 'side', x: -1, z: 0, widthMm: depthMm, outMm: box.widthMm / 2 },
    { name: 'side', x: 1, z: 0, widthMm: depthMm, outMm: box.widthMm / 2 },
  ] as const;
  return (depthMm > 0 ? sides : flatFace(shot)).map((side) => {
    const out = turned(side, turnDeg);
    const middle = placed(shot, { x: out.x * side.outMm, z: out.z * side.outMm }, 0);
    const normal = { x: out.x, y: 0, z: out.z };
    const across = { x: -out.z, y: 0, z: out.x };
    return { name: side.name, middle, normal, across, widthMm: side.widthMm, heightMm: box.heightMm };
  });
}

/** The one face of a flat part, which is no farther out than its middle: one that looks up or aside lies with a depth. */
function flatFace({ subject: { box, faces } }: Shot) {
  return [{ name: 'front', x: 0, z: faces === 'back' ? 1 : -1, widthMm: box!.widthMm, outMm: 0 } as const];
}
