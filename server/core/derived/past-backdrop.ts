/** What lies behind and under the subject, as the rays of a picture's edge meet it: surface, backdrop, or neither. */
import type { EdgeTangents } from '../../calc/framing.ts';
import { addScaled, type CameraPose, dot, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { Backdrop, Film, Shot } from '../film.ts';
import { productMiddleMm } from '../product-place.ts';
import type { Mm } from '../units.ts';
import { isOnSurface, pastSurface, type SurfaceOutline, surfaceOutline } from './surface-outline.ts';

/** The backdrop as it hangs: a plane `behindMm` from the middle of the product, centred sideways. */
export interface Hung {
  readonly behindMm: Mm;
  readonly halfWidthMm: Mm;
  readonly bottomMm: Mm;
  readonly topMm: Mm;
}

/** Materials that light comes through. */
const lets = /diffus|frost|translucent|opal|gauze|net|glass|clear|window|tracing/i;

export function letsLightThrough(backdrop: Backdrop | undefined): boolean {
  return lets.test(backdrop?.material?.value ?? '');
}

/** Undefined without size or distance. Its middle is level with the product's unless its bottom is said. */
export function hungBackdrop(shot: Shot, film: Film): Hung | undefined {
  return hungAt(shot, productMiddleMm(film.product));
}

function hungAt({ backdrop }: Shot, middleMm: Mm): Hung | undefined {
  const size = backdrop?.size?.value;
  const behindMm = backdrop?.behind?.value;
  if (!size || !behindMm) return undefined;
  const bottomMm = backdrop.bottom?.value ?? middleMm - size.heightMm / 2;
  return { behindMm, halfWidthMm: size.widthMm / 2, bottomMm, topMm: bottomMm + size.heightMm };
}

/** Does the backdrop hang between a lamp and what it aims at? */
export function hides(hung: Hung, lamp: Vec3, target: Vec3): boolean {
  if (lamp.z <= hung.behindMm || target.z >= hung.behindMm) return false;
  const way = subtract(target, lamp);
  const part = (hung.behindMm - lamp.z) / way.z;
  const x = lamp.x + way.x * part;
  const y = lamp.y + way.y * part;
  return Math.abs(x) < hung.halfWidthMm && y > hung.bottomMm && y < hung.topMm;
}

/** Does a backdrop that lets no light through keep the light of a lamp at a place off a target: the product, or a board? */
export function isKeptBehind(at: Vec3, shot: Shot, target: Vec3 = { x: 0, y: shot.productMiddleMm, z: 0 }): boolean {
  const hung = letsLightThrough(shot.backdrop) ? undefined : hungAt(shot, shot.productMiddleMm);
  return hung !== undefined && hides(hung, at, target);
}

export type Edge = 'left' | 'right' | 'top' | 'bottom';

/** Past what a ray goes, and by how much where it would have had to be held; nothing when it is held. */
export type Past =
  | { readonly of: 'backdrop'; readonly edge: Edge; readonly byMm: Mm }
  | { readonly of: 'surface'; readonly edge: 'front' | 'near' | 'side' | 'back'; readonly byMm: Mm };

/** What a backdrop covers as one sweep has no edge of its own. */
function edgedSurface(shot: Shot): SurfaceOutline | undefined {
  return shot.backdrop?.sweeps ? undefined : surfaceOutline(shot);
}

/** The corners of a picture and the middles of its sides, as rays from the lens. */
export function edgeRays(pose: CameraPose, { left, right, bottom, top }: EdgeTangents): Vec3[] {
  const middle = (left + right) / 2;
  const level = (bottom + top) / 2;
  const ray = (x: number, y: number) => addScaled(addScaled(pose.forward, pose.right, x), pose.up, y);
  return [
    ray(left, bottom),
    ray(middle, bottom),
    ray(right, bottom),
    ray(left, level),
    ray(right, level),
    ray(left, top),
    ray(middle, top),
    ray(right, top),
  ];
}

/** Rays through a grid of places all over the picture from its foot up, each in the middle of its part. */
export function* gridRays(pose: CameraPose, edges: EdgeTangents, columns: number, rows: number): Generator<Vec3> {
  const { left, right, bottom, top } = edges;
  for (let index = 0; index < columns * rows; index++) {
    const x = left + (((index % columns) + 0.5) / columns) * (right - left);
    const y = bottom + ((Math.floor(index / columns) + 0.5) / rows) * (top - bottom);
    yield addScaled(addScaled(pose.forward, pose.right, x), pose.up, y);
  }
}

/**
 * Rays that just clear the far edge of the surface (or, without a size, its level at the backdrop), where they lie in
 * the picture: what they meet is seen between surface and backdrop.
 */
export function seamRays(pose: CameraPose, edges: EdgeTangents, shot: Shot, hung: Hung | undefined): Vec3[] {
  if (!hung || pose.at.y <= 0) return [];
  const { halfWidthMm, backMm } = edgedSurface(shot) ?? { halfWidthMm: hung.halfWidthMm, backMm: hung.behindMm };
  const rays = [-0.95, 0, 0.95].map((side) =>
    subtract({ x: side * halfWidthMm, y: 0.001, z: backMm + 0.001 }, pose.at),
  );
  return rays.filter((ray) => {
    const along = dot(ray, pose.forward);
    const x = dot(ray, pose.right) / along;
    const y = dot(ray, pose.up) / along;
    return along > 0 && x > edges.left && x < edges.right && y > edges.bottom && y < edges.top;
  });
}

/**
 * Follows a ray from the lens. Without a size the surface counts as reaching to the backdrop. Without a backdrop, a ray
 * that passes beside or behind the surface is judged only when `steep` says that the whole picture looks down on it, or where
 * it goes over the surface's horizon.
 */
export function pastEdge(
  pose: CameraPose,
  ray: Vec3,
  shot: Shot,
  hung: Hung | undefined,
  steep: boolean,
): Past | undefined {
  const down = downAt(pose, ray);
  const back = hung && ray.z > 1e-9 ? (hung.behindMm - pose.at.z) / ray.z : Infinity;
  const behind = hung && back < Infinity ? pastBackdrop(addScaled(pose.at, ray, back), hung) : undefined;
  if (down === Infinity && back === Infinity) return pastAll(ray, shot, hung);
  if (down >= back) return unlessSky(behind, shot);
  const hit = addScaled(pose.at, ray, down);
  if (hung && shot.backdrop?.sweeps) return pastSide(hit, hung);
  const past = pastBoard(pose, hit, shot);
  if (!past || past.edge === 'front') return past;
  if (back === Infinity) return (hung && !isWall(shot.backdrop)) || steep ? past : undefined;
  return behind && overSurface(past, behind, shot, { ray, heightMm: pose.at.y + ray.y * back });
}

/** A ray that meets neither: it goes past what hangs, or over the surface where nothing does. */
function pastAll(ray: Vec3, { backdrop, surface }: Shot, hung: Hung | undefined): Past | undefined {
  if (hung) return { of: 'backdrop', edge: ray.x < 0 ? 'left' : 'right', byMm: Infinity };
  return !backdrop && surface?.size ? { of: 'surface', edge: 'back', byMm: Infinity } : undefined;
}

/** Past what edge of the surface a ray meets its level. The floor has none, nor has cloth a front. */
function pastBoard(pose: CameraPose, hit: Vec3, shot: Shot): Extract<Past, { of: 'surface' }> | undefined {
  const outline = edgedSurface(shot);
  const past = outline && !isFloor(shot) ? pastEdgeOf(outline, pose, hit) : undefined;
  return past?.edge === 'front' && hangsOver(shot) ? undefined : past;
}

/**
 * Of a ray that passes a surface's side or back and then the backdrop too. What a backdrop would catch that reaches down to
 * the floor is the gap under it; below that the floor is seen, which before a wall is what one expects there.
 *
 * @param at the ray, and how high above the surface it meets the plane of the backdrop
 */
function overSurface(
  past: Extract<Past, { of: 'surface' }>,
  behind: Past,
  shot: Shot,
  { ray, heightMm }: { ray: Vec3; heightMm: Mm },
): Past | undefined {
  const tableMm = shot.surface?.aboveTableMm ?? 0;
  const isGap = behind.edge === 'bottom' ? heightMm >= (tableMm > 0 ? -tableMm : floorMm(shot)) : past.edge === 'back';
  if (isGap) return behind;
  // It meets the table that a board lies on, or the floor that a slate or a mat does.
  if (tableMm > 0 || -floorMm(shot) <= thicknessMm) return undefined;
  if (isWall(shot.backdrop)) return undefined;
  // From where the ray meets the floor to the backdrop: so much of it is seen behind the back edge.
  const floor = past.edge === 'back' ? ((floorMm(shot) - heightMm) * ray.z) / -ray.y : 0;
  return { ...past, byMm: Math.max(past.byMm, floor) };
}

/** What is no higher lies on the floor. */
const thicknessMm: Mm = 50;

/** Does a ray from the lens reach the backdrop, and neither the surface nor what is under the backdrop? */
export function reachesBackdrop(pose: CameraPose, ray: Vec3, shot: Shot): boolean {
  const behindMm = shot.backdrop?.behind?.value;
  if (behindMm === undefined || ray.z <= 1e-9) return false;
  const back = (behindMm - pose.at.z) / ray.z;
  const down = shot.surface ? downAt(pose, ray) : Infinity;
  const outline = edgedSurface(shot);
  if (down < back && (!outline || isOnSurface(outline, addScaled(pose.at, ray, down)))) return false;
  return pose.at.y + ray.y * back > (shot.backdrop?.bottom?.value ?? -Infinity);
}

/** The floor seen from the surface; a table is taken for one of the usual height where nothing is said. */
export function floorMm({ surface }: Shot): Mm {
  return -(surface?.height?.value ?? 750);
}

/** It stands where it is, goes on past what was measured of it, and meets the floor. */
export function isWall(backdrop: Backdrop | undefined): boolean {
  return isFarOff(backdrop) || walls.test(backdrop?.material?.value ?? '');
}

const walls =
  /wall|plaster|concrete|brick|tile|panel|hedge|fence|shel[fv]|bookcase|wardrobe|cupboard|cabinet|dresser|sideboard|kitchen|doors?\b|\bboards\b|planks|shingles?|cladding|siding|facade|garden|trees|woods|forest|edge of a wood|sky|landscape|meadow|horizon|mountain|\bsea\b/i;

/** What is seen over something far off is the sky. */
function unlessSky(past: Past | undefined, { backdrop }: Shot): Past | undefined {
  return past?.edge === 'top' && isFarOff(backdrop) ? undefined : past;
}

/** Nobody hangs cloth or paper so far behind a thing: it is a place, and over it is the sky. */
export function isFarOff(backdrop: Backdrop | undefined): boolean {
  return (backdrop?.behind?.value ?? 0) >= 5000;
}

/** Cloth hangs down over an edge, which then looks as one expects of a bed or a laid table; a grid has no edge that closes it. */
function hangsOver({ surface }: Shot): boolean {
  return /sheet|linen|bed|mattress|tablecloth|blanket|duvet|quilt|sofa|cushion|grid|rack|grate/i.test(
    surface?.material?.value ?? '',
  );
}

/** The floor itself goes on beside what was measured of it; a cloth or a board that lies on it ends. */
function isFloor({ surface }: Shot): boolean {
  if (surface?.height?.value !== 0) return false;
  return /floor|ground|boards|parquet|tiles|concrete|pav|lawn|grass|carpet|sand|deck|earth/i.test(
    surface.material?.value ?? '',
  );
}

/** How many times a ray must be taken to reach the surface's level; `Infinity` for one that does not go down. */
export function downAt(pose: CameraPose, ray: Vec3): number {
  return ray.y < -1e-9 && pose.at.y > 0 ? pose.at.y / -ray.y : Infinity;
}

/** Which edge of the surface a ray passes: the front when the surface lies farther along, the back when it lay before. */
function pastEdgeOf(
  outline: SurfaceOutline,
  pose: CameraPose,
  hit: Vec3,
): Extract<Past, { of: 'surface' }> | undefined {
  if (isOnSurface(outline, hit)) return undefined;
  const { asideMm, aheadMm } = pastSurface(outline, hit);
  const byMm = Math.max(asideMm, aheadMm);
  if (isOnSurface(outline, pose.at)) return { of: 'surface', edge: edgeBelow(asideMm, aheadMm, hit), byMm };
  const crossed = crossing(pose.at, hit, outline);
  const edge = crossed === undefined ? 'side' : crossed > 1 ? 'front' : 'back';
  return { of: 'surface', edge, byMm };
}

/** The edge that is passed farthest, as seen from above the surface itself. */
function edgeBelow(asideMm: Mm, aheadMm: Mm, { z }: Vec3): 'near' | 'side' | 'back' {
  if (asideMm >= aheadMm) return 'side';
  return z > 0 ? 'back' : 'near';
}

/** Where the line from above `from` through `hit` enters the surface's outline, 1 at the hit; undefined where it misses it. */
function crossing(from: Vec3, hit: Vec3, outline: SurfaceOutline): number | undefined {
  const [inX, outX] = within([from.x, hit.x], [-outline.halfWidthMm, outline.halfWidthMm]);
  const [inZ, outZ] = within([from.z, hit.z], [outline.frontMm, outline.backMm]);
  const enter = Math.max(inX, inZ);
  return enter <= Math.min(outX, outZ) ? enter : undefined;
}

type Pair = readonly [number, number];

/** Between which shares of the way from `start` to `end` it is from `least` to `most`; nowhere: from `Infinity` on. */
function within([start, end]: Pair, [least, most]: Pair): readonly [enter: number, leave: number] {
  const step = end - start;
  if (Math.abs(step) < 1e-9) return start >= least && start <= most ? [-Infinity, Infinity] : [Infinity, -Infinity];
  const a = (least - start) / step;
  const b = (most - start) / step;
  return a < b ? [a, b] : [b, a];
}

/** A sweep lies under the product as wide as it hangs behind it. */
function pastSide({ x }: Vec3, { halfWidthMm }: Hung): Past | undefined {
  const byMm = Math.abs(x) - halfWidthMm;
  return byMm > 1e-6 ? { of: 'backdrop', edge: x < 0 ? 'left' : 'right', byMm } : undefined;
}

function pastBackdrop(hit: Vec3, { halfWidthMm, bottomMm, topMm }: Hung): Past | undefined {
  const aside = Math.abs(hit.x) - halfWidthMm;
  const below = bottomMm - hit.y;
  const above = hit.y - topMm;
  const byMm = Math.max(aside, below, above);
  if (byMm <= 1e-6) return undefined;
  const edge = byMm === aside ? (hit.x < 0 ? 'left' : 'right') : byMm === below ? 'bottom' : 'top';
  return { of: 'backdrop', edge, byMm };
}
