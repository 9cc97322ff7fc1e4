/** The subject's box as a camera sees it: its outline in the picture and how deep it lies. */
import { type CameraPose, cross, dot, fromCamera, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import type { Facing, Film, Shot, Product } from '../film.ts';
import type { Box, Mm } from '../units.ts';
import { once } from '../memo.ts';
import { faceDeg } from './face-seen.ts';
import { subjectPlace } from './optics.ts';

/** From this many equal faces on, a product counts as round. */
export const roundFrom = 8;

/** Which way the axis of a round thing goes: upright, or along its width as it lies. */
type Round = 'upright' | 'lying';

/**
 * Corners of the subject when it stands turned by `turnDeg`, clockwise from above; undefined without its size. They come in
 * pairs, from one end of its axis to the other, and go round that.
 */
export function subjectCorners(
  shot: Shot,
  film: Film,
  turnDeg: number,
  round: Round | undefined = isRound(shot, film) ? 'upright' : undefined,
): readonly Vec3[] | undefined {
  const { box } = shot.subject;
  if (!box) return undefined;
  const [halfX, halfY, halfZ] = [box.widthMm / 2, box.heightMm / 2, (box.depthMm ?? 0) / 2];
  const turn = turner(turnDeg);
  const middle = subjectPlace(shot);
  const at = (x: number, y: number, z: number): Vec3 => {
    const across = turn({ x: x * halfX, z: z * halfZ });
    return { x: middle.x + across.x, y: middle.y + y * halfY, z: middle.z + across.z };
  };
  const all: Vec3[] = [];
  for (const [a, b] of round ? circle : corners) {
    if (round === 'lying') all.push(at(1, a, b), at(-1, a, b));
    else all.push(at(a, -1, b), at(a, 1, b));
  }
  return all;
}

/** The same for what asks whether something is lost: what may be round has no corners. */
export function leastCorners(shot: Shot, film: Film, turnDeg: number): readonly Vec3[] | undefined {
  return subjectCorners(shot, film, turnDeg, roundWay(shot, film));
}

/** How it is round, or may be. */
function roundWay(shot: Shot, film: Film): Round | undefined {
  if (isRound(shot, film) || mayBeRound(shot, film, ['widthMm']) || isDial(shot)) return 'upright';
  return liesRound(shot, film) ? 'lying' : undefined;
}

/** A part that lies and is as deep as wide. */
function isDial({ subject: { name, box, faces } }: Shot): boolean {
  return name !== 'product' && faces === 'up' && box?.depthMm === box?.widthMm;
}

/** A roller, a barrel or a candle that lies: as deep as high, and longer than that. */
export function liesRound(shot: Shot, film: Film): boolean {
  const { box } = shot.subject;
  return (
    !!box && box.widthMm > box.heightMm && mayBeRound(shot, film, ['heightMm']) && !mayBeRound(shot, film, ['widthMm'])
  );
}

/** Of a round thing that lies the line along it that is nearest to the lens: what `front` means of it. */
export function nearestLine(shot: Shot, turnDeg: number, toCamera: Vec3): Vec3[] {
  const { widthMm, heightMm } = shot.subject.box!;
  const axis = turned({ x: 1, z: 0 }, turnDeg);
  const along = toCamera.x * axis.x + toCamera.z * axis.z;
  const out = { x: toCamera.x - along * axis.x, y: toCamera.y, z: toCamera.z - along * axis.z };
  const share = heightMm / 2 / (lengthOf(out) || 1);
  return [-0.5, 0.5].map((side) => {
    const across = { x: side * widthMm * axis.x + share * out.x, z: side * widthMm * axis.z + share * out.z };
    return placed(shot, across, share * out.y);
  });
}

/** A part of a round thing that is as deep as wide is round with it. */
export function isRound({ subject: { box, name } }: Shot, { product }: Film): boolean {
  const isEven = name === 'product' || box?.depthMm === box?.widthMm;
  return isEven && (product.symmetry?.value ?? 1) >= roundFrom;
}

/** A box looks alike from two or four sides; a round thing may have letters in one place, or six flowers round it. */
const boxSides = [2, 4];

/** Did somebody say that it has flat sides? A part does by saying which way it faces. */
export function isBox({ subject: { name } }: Shot, { product }: Film): boolean {
  return name === 'product'
    ? boxSides.includes(product.symmetry?.value ?? 1)
    : product.parts.get(name)?.faces !== undefined;
}

/**
 * As deep as one of these sides, and nobody said that it is a box: a bowl, a jar, a screw and the way of a drop look like one in
 * figures. What is woven or knitted has no corners, so about as deep will do.
 */
export function mayBeRound(shot: Shot, film: Film, sides: readonly ('widthMm' | 'heightMm')[]): boolean {
  if (isBox(shot, film)) return false;
  const { box } = shot.subject;
  const deep = box?.depthMm;
  const differs = film.product.weave ? 0.25 : 0.02;
  return deep !== undefined && sides.some((side) => Math.abs(deep / box![side] - 1) < differs);
}

/** The same of the product as it stands, for what is on it or goes round it. */
export function mayBeTurned({ size, symmetry }: Product): boolean {
  const { widthMm = 1, depthMm = 0 } = size?.value ?? {};
  return !boxSides.includes(symmetry?.value ?? 1) && Math.abs(depthMm / widthMm - 1) < 0.02;
}

/** Letters or a band on a bell: wider than a third of a product that is round, or may be. */
export function goesRound({ widthMm }: Box, product: Product): boolean {
  const whole = product.size?.value;
  return whole !== undefined && mayBeTurned(product) && widthMm > whole.widthMm / 3;
}

/**
 * A label on a round jar has as much depth as the jar's curve gives it: some stripe of it faces the lens however it stands. A
 * plate on a round thing is thinner, or has no depth at all.
 */
export function isCurved({ subject: { name, box } }: Shot, { product }: Film): boolean {
  const whole = product.size?.value;
  if (name === 'product' || !box || !whole?.depthMm) return false;
  if (!box.depthMm) return goesRound(box, product);
  const radiusMm = whole.widthMm / 2;
  const curveMm = radiusMm - Math.sqrt(radiusMm ** 2 - (box.widthMm / 2) ** 2);
  return mayBeTurned(product) && box.depthMm >= curveMm / 2;
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
export function turned(place: { x: number; z: number }, turnDeg: number): { x: number; z: number } {
  return turner(turnDeg)(place);
}

/** The same of many places. */
export function turner(turnDeg: number): (place: { x: number; z: number }) => { x: number; z: number } {
  const angle = (turnDeg * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return ({ x, z }) => ({ x: x * cos + z * sin, z: z * cos - x * sin });
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
  const all = leastCorners(shot, film, turnDeg);
  if (!all) return undefined;
  const middle = subjectPlace(shot);
  const clear = film.product.finish === 'transparent' || film.product.finish === 'translucent';
  if (clear) return [...all, middle];
  const first = all.filter((_, index) => index % 2 === 0);
  const last = all.filter((_, index) => index % 2 === 1);
  const axis = subtract(last[0]!, first[0]!);
  const isSeen = (at: Vec3, outward: Vec3) => dot(subtract(from, at), outward) > 0;
  const seen: Vec3[] = [middle];
  if (isSeen(last[0]!, axis)) seen.push(...last);
  if (isSeen(first[0]!, subtract(first[0]!, last[0]!))) seen.push(...first);
  for (let index = 0; index < first.length; index++) {
    const next = (index + 1) % first.length;
    const [a, b] = [first[index]!, first[next]!];
    // Outward across the side from a to b, which go round the axis.
    if (isSeen(a, cross(axis, subtract(b, a)))) seen.push(a, b, last[index]!, last[next]!);
  }
  return seen;
}

/** Where points lie in the picture, as tangents from the camera's axis; `Infinity` for one beside or behind the lens. */
export function outlineOf(pose: CameraPose, points: readonly Vec3[]): EdgeTangents {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const point of points) {
    const seen = fromCamera(pose, point);
    if (seen.along <= 0) return { left: -Infinity, right: Infinity, bottom: -Infinity, top: Infinity };
    left = Math.min(left, seen.right / seen.along);
    right = Math.max(right, seen.right / seen.along);
    bottom = Math.min(bottom, seen.up / seen.along);
    top = Math.max(top, seen.up / seen.along);
  }
  return { left, right, bottom, top };
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
