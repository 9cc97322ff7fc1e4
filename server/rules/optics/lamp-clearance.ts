/** How near lamps come to pictures, and whether there is room for one where a fix would put it. */
import {
  addScaled,
  type CameraPose,
  deg,
  dot,
  fromCamera,
  lengthOf,
  subtract,
  type Vec3,
} from '../../calc/geometry.ts';
import { apartDeg } from '../../calc/sphere.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import { lampStand } from '../../core/derived/backdrop-light.ts';
import { hungBackdrop, hides } from '../../core/derived/past-backdrop.ts';
import type { View } from '../../core/derived/framing.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { lampPosition } from '../../core/derived/light.ts';
import { cameraPose, productPlace, subjectPlace, poseInSet } from '../../core/derived/optics.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { type Showing, showingsOf, still } from '../../core/derived/showings.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Degrees, Mm, Share } from '../../core/units.ts';
import { lampSides } from '../../core/derived/lamp-size.ts';

/** How near a lamp comes to one picture. */
export interface Gap {
  readonly showing: Showing;
  /** From edge to edge; minus is how far it would have to go to be out of it. */
  readonly clearDeg: Degrees;
  /** How wide the picture is. */
  readonly fieldDeg: Degrees;
}

export interface Near extends Gap {
  /** Of each picture, this one among them. */
  readonly gaps: readonly Gap[];
  readonly place: Vec3;
  readonly pose: CameraPose;
  readonly target: Vec3;
}

interface Asked {
  /** Does one count that the subject hides? */
  readonly all?: boolean;
  /** Pictures are left out that the lamp is farther from than that. */
  readonly withinDeg?: Degrees;
}

/** How near a lamp comes to the picture, over all that is shown of the shot. */
export function nearest(
  shot: Shot,
  film: Film,
  lamp: LampPlace,
  { all = false, withinDeg = Infinity }: Asked = {},
): Near | undefined {
  const target = subjectPlace(shot);
  const hung = hungBackdrop(shot, film);
  const gaps: (Gap & { readonly place: Vec3; readonly pose: CameraPose })[] = [];
  for (const showing of showingsOf(shot, film)) {
    for (const view of lamp.changes ? moving(showing) : showing.views) {
      const pose = poseInSet(shot, view.actionMoment);
      const place = lampStand(lamp, shot, view.actionMoment);
      if (!pose || !place || !view.edges || place.y < 0 || isBuiltIn(lamp, place, film, shot)) continue;
      if (fromCamera(pose, place).along <= 0 || (hung && hides(hung, place, pose.at))) continue;
      const face = aboveSurface(lamp, place, shot, view.actionMoment);
      const clearDeg = clearOf(pose, face, view.edges, withinDeg);
      if (clearDeg === undefined) continue;
      if (!all && clearDeg < 0 && behindSubject(showing, film, pose, face)) continue;
      const fieldDeg = (Math.atan(view.edges.right) - Math.atan(view.edges.left)) * deg;
      gaps.push({ showing, clearDeg, fieldDeg, place, pose });
    }
  }
  const [first, ...others] = gaps;
  return first && { ...others.reduce((most, one) => (one.clearDeg < most.clearDeg ? one : most), first), target, gaps };
}

/** Less of the picture than this, and of a wide one less than a degree, is nudged out of it on the set (common practice, no source). */
const leastSeen: Share = 0.02;

export function isSeen({ clearDeg, fieldDeg }: Gap, { bounces }: LampPlace): boolean {
  return -clearDeg > (bounces ? leastOfBoard * fieldDeg : Math.min(1, leastSeen * fieldDeg));
}

/** A card is pushed aside before anybody sees less of it (common practice, no source). */
const leastOfBoard: Share = 0.03;

/** What of its face is above the surface that it stands over; all of it where nobody has said how high it is. */
function aboveSurface(lamp: LampPlace, at: Vec3, shot: Shot, moment: number): readonly Vec3[] {
  const face = lampFace(lamp, at, shot, moment);
  const outline = surfaceOutline(shot);
  const [a, b, c, d] = face as [Vec3, Vec3, Vec3, Vec3];
  if (!outline || !lamp.height || a.y >= 0 || d.y <= 0 || !isOnSurface(outline, at)) return face;
  // Its lower side is level.
  const cut = a.y / (a.y - d.y);
  return [addScaled(a, subtract(d, a), cut), addScaled(b, subtract(c, b), cut), c, d];
}

/** Against the product: a bulb that stands out of its shade, a strip on its back. At least so far from its box, and so much of a tall one. */
const against = { mm: 20, share: 0.1 };

/** Called as a part of the product; or in its box, or against it and no larger: its maker put it where it is. */
export function isBuiltIn(lamp: LampPlace, at: Vec3, { product }: Film, shot: Shot): boolean {
  const box = product.size?.value;
  if (product.parts.has(lamp.name)) return true;
  if (!box) return false;
  const { x, y, z } = subtract(at, productPlace(shot));
  const sides = [box.widthMm, box.heightMm, box.depthMm ?? 0] as const;
  const longestMm = Math.max(...sides);
  const { levelMm, uprightMm } = lampSides(lamp);
  const isOwn = !lamp.bounces && Math.max(levelMm, uprightMm) <= longestMm;
  const nearMm = isOwn ? Math.max(against.mm, against.share * longestMm) : 0;
  return [x, y, z].every((off, index) => Math.abs(off) < sides[index]! / 2 + nearMm);
}

/** A lamp that moves before a camera that stands: three looks. */
function moving({ views }: Showing): readonly View[] {
  return views.length > 1 ? views : [0, 0.5, 1].map((actionMoment) => ({ ...views[0], actionMoment }));
}

/**
 * Degrees from the lamp to the picture, from the nearest point of one to the nearest of the other. Minus where it is in shot: then by
 * the edge over which it is soonest out of it, each edge a plane through the lens. Undefined where all of it is farther past an edge.
 */
function clearOf(
  pose: CameraPose,
  face: readonly Vec3[],
  edges: EdgeTangents,
  withinDeg: Degrees,
): Degrees | undefined {
  const corners = face.map((corner) => fromCamera(pose, corner));
  const planes = planesOf(edges);
  if (planes.some((past) => corners.every((one) => pastDeg(one, past) > withinDeg))) return undefined;
  const inside = planes.reduce<readonly Seen[]>(cutOff, corners);
  if (inside.length === 0) return apartDeg(corners.map(wayTo), frameWays(edges));
  const [right, left, over, under] = planes;
  const deepDeg = (past: Past, ...sides: readonly [Past, Past]) => {
    return Math.min(...sides.reduce<readonly Seen[]>(cutOff, corners).map((one) => pastDeg(one, past)));
  };
  return Math.max(
    deepDeg(right, over, under),
    deepDeg(left, over, under),
    deepDeg(over, left, right),
    deepDeg(under, left, right),
  );
}

function pastDeg(one: Seen, past: Past): Degrees {
  return Math.asin(past(one) / Math.hypot(one.right, one.up, one.along)) * deg;
}

function wayTo({ right, up, along }: Seen): Vec3 {
  return { x: right, y: up, z: along };
}

/** The ways from the lens to the corners of the picture, round it. */
function frameWays({ left, right, bottom, top }: EdgeTangents): Vec3[] {
  return [
    { x: left, y: bottom, z: 1 },
    { x: right, y: bottom, z: 1 },
    { x: right, y: top, z: 1 },
    { x: left, y: top, z: 1 },
  ];
}

type Seen = ReturnType<typeof fromCamera>;
/** How far a point lies past an edge of the picture, square to the plane through it and the lens. */
type Past = (point: Seen) => Mm;

function planesOf({ left, right, bottom, top }: EdgeTangents): readonly [Past, Past, Past, Past] {
  const [toRight, toLeft, toTop, toBottom] = [right, left, top, bottom].map((edge) => Math.hypot(1, edge)) as Four;
  return [
    (one) => (one.right - right * one.along) / toRight,
    (one) => (left * one.along - one.right) / toLeft,
    (one) => (one.up - top * one.along) / toTop,
    (one) => (bottom * one.along - one.up) / toBottom,
  ];
}

type Four = [number, number, number, number];

/** What of an outline is not past a plane (Sutherland and Hodgman 1974). */
function cutOff(outline: readonly Seen[], past: Past): Seen[] {
  return outline.flatMap((point, index) => {
    const next = outline[(index + 1) % outline.length]!;
    const [here, there] = [past(point), past(next)];
    const kept = here <= 0 ? [point] : [];
    if (here <= 0 === there <= 0) return kept;
    const mix = (key: keyof Seen) => point[key] + (next[key] - point[key]) * (here / (here - there));
    return [...kept, { right: mix('right'), up: mix('up'), along: mix('along') }];
  });
}

/** Is all of the lamp covered by the subject? */
function behindSubject({ shot, turns }: Showing, film: Film, pose: CameraPose, lamp: readonly Vec3[]): boolean {
  const points = subjectCorners(shot, film, turns[0]!);
  if (!points) return false;
  const hidden = outlineOf(pose, lamp);
  const cover = outlineOf(pose, points);
  const within = hidden.left > cover.left && hidden.right < cover.right && hidden.bottom > cover.bottom;
  return within && hidden.top < cover.top;
}

/** What stays free between lamp and product, and between lamp and camera: common practice, no source. */
const freeMm: Mm = 100;

/**
 * Could the lamp stand at this distance, in every shot that it lights: clear of the product, no nearer than half its longest
 * side, not where the camera stands, and in no picture in which it is not already?
 */
export function hasRoomAt(film: Film, lamp: LampPlace, distanceMm: Mm): boolean {
  const moved = { ...lamp, distance: still(distanceMm) };
  const { levelMm, uprightMm } = lampSides(lamp);
  const half = Math.max(levelMm, uprightMm) / 2;
  if (distanceMm < half) return false;
  return [...film.shots.values()]
    .filter(({ lit }) => lit.includes(lamp))
    .every((shot) => {
      const at = lampPosition(moved, productPlace(shot), 0);
      if (!at || fromProductMm(at, film, shot) < freeMm) return false;
      const pose = cameraPose(shot, 0);
      if (pose && fromFaceMm(pose.at, lampFace(moved, at, shot, 0)) < freeMm) return false;
      return isClear(shot, film, moved) || !isClear(shot, film, lamp);
    });
}

function isClear(shot: Shot, film: Film, lamp: LampPlace): boolean {
  return (nearest(shot, film, lamp, { withinDeg: 0 })?.clearDeg ?? 0) >= -1e-6;
}

/** From what shines, given by its corners, round it. */
function fromFaceMm(point: Vec3, [low, across, , high]: readonly Vec3[]): Mm {
  const way = subtract(point, low!);
  const past = [across!, high!].reduce((rest, corner) => {
    const side = subtract(corner, low!);
    const share = dot(side, side) > 0 ? Math.min(1, Math.max(0, dot(way, side) / dot(side, side))) : 0;
    return addScaled(rest, side, -share);
  }, way);
  return lengthOf(past);
}

/** From the product's box, however it is turned; without its size from its middle. */
function fromProductMm(at: Vec3, { product }: Film, shot: Shot): Mm {
  const box = product.size?.value;
  const { x, y, z } = subtract(at, productPlace(shot));
  const aside = Math.max(0, Math.hypot(x, z) - Math.hypot(box?.widthMm ?? 0, box?.depthMm ?? 0) / 2);
  return Math.hypot(aside, Math.max(0, Math.abs(y) - (box?.heightMm ?? 0) / 2));
}
