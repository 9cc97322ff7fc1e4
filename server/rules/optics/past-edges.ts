/** How far the picture reaches past the edges of the backdrop and of the surface. */
import { addScaled, type CameraPose, meetsBox, subtract, type Vec3 } from '../../calc/geometry.ts';
import {
  downAt,
  edgeRays,
  type Hung,
  hungBackdrop,
  type Past,
  pastEdge,
  reachesBackdrop,
  seamRays,
} from '../../core/derived/past-backdrop.ts';
import type { View } from '../../core/derived/framing.ts';
import { turner } from '../../core/derived/outline.ts';
import { productPlace, poseInSet } from '../../core/derived/optics.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';

export type Kind = 'backdrop' | 'front' | 'surface';

/** What of a showing goes past, over all its moments, and what its picture takes on the backdrop. */
export interface Passes {
  readonly showing: Showing;
  readonly past: readonly Past[];
  readonly width: number;
  readonly height: number;
}

export function pastOf({ past }: Passes, kind: Kind): Past[] {
  return past.filter((one) => isOfKind(one, kind));
}

export function by(one: Passes | undefined, kind: Kind): number {
  let most = 0;
  for (const past of one?.past ?? []) if (past.byMm > most && isOfKind(past, kind)) most = past.byMm;
  return most;
}

function isOfKind(past: Past, kind: Kind): boolean {
  if (past.of === 'backdrop') return kind === 'backdrop';
  return kind !== 'backdrop' && (past.edge === 'front') === (kind === 'front');
}

/** Undefined where there is nothing to go past. */
export const passes = onceIn((showing: Showing, film: Film): Passes | undefined => {
  const { shot } = showing;
  const hung = hungBackdrop(shot, film);
  if (!hung && !shot.surface?.size) return undefined;
  const past: Past[] = [];
  let width = 0;
  let height = 0;
  for (const view of showing.views) {
    const outline = outlineOf(shot, view, hung);
    if (!outline || isFilled(outline, showing, film)) continue;
    for (const ray of outline.rays) {
      const one = pastEdge(outline.pose, ray, shot, hung, outline.steep);
      if (one) past.push(one);
    }
    const taken = hung && onBackdrop(outline, hung);
    width = Math.max(width, taken?.width ?? 0);
    height = Math.max(height, taken?.height ?? 0);
  }
  return { showing, past, width, height };
});

/** Does any picture of the shot reach the backdrop? One that looks down may show nothing but the surface. */
export function showsBackdrop(shot: Shot, film: Film): boolean {
  const hung = hungBackdrop(shot, film);
  const outlines = showingsOf(shot, film).flatMap(({ views }) => views.map((view) => outlineOf(shot, view, hung)));
  return outlines.some((one) => !one || one.border.some((ray) => reachesBackdrop(one.pose, ray, shot)));
}

/** By how far the picture reaches past the backdrop at most; 0 where it does not. For rules that would move it. */
export function pastBackdropMm(shot: Shot, film: Film): number {
  return Math.max(0, ...showingsOf(shot, film).map((showing) => by(passes(showing, film), 'backdrop')));
}

/** Does nothing go past in any showing? Asked of hundreds of variants, most of which the first few rays rule out. */
export function clear(shot: Shot, film: Film, larger: number): boolean {
  return showingsOf(shot, film).every((showing) => isClear(showing, film, larger));
}

/** The same of one showing. */
export function isClear({ shot, views }: Showing, film: Film, larger: number): boolean {
  const hung = hungBackdrop(shot, film);
  if (!hung && !shot.surface?.size) return true;
  return views.every((view) => {
    const outline = outlineOf(shot, view, hung, larger);
    return outline?.rays.every((ray) => !pastEdge(outline.pose, ray, shot, hung, outline.steep)) ?? true;
  });
}

/** The picture's outline, as rays from the lens. */
interface Outline {
  readonly pose: CameraPose;
  /** Its corners and the middles of its sides. */
  readonly border: readonly Vec3[];
  /** Those, and the ones that pass between surface and backdrop. */
  readonly rays: readonly Vec3[];
  /** Does all of the picture look down on the surface? */
  readonly steep: boolean;
}

/** @param larger how many times larger the picture is taken than it is, to leave something spare */
export function outlineOf(shot: Shot, view: View, hung: Hung | undefined, larger = 1): Outline | undefined {
  const pose = poseInSet(shot, view.actionMoment);
  if (!pose || !view.edges) return undefined;
  const { left, right, bottom, top } = view.edges;
  const edges = { left: left * larger, right: right * larger, bottom: bottom * larger, top: top * larger };
  const border = edgeRays(pose, edges);
  const steep = border.every((ray) => downAt(pose, ray) < Infinity);
  return { pose, border, rays: [...border, ...seamRays(pose, edges, shot, hung)], steep };
}

/** So near that the product is all round the picture's edge: what lies behind it is not seen. */
function isFilled({ pose, border }: Outline, { shot, turns }: Showing, { product }: Film): boolean {
  const box = product.size?.value;
  if (!box) return false;
  const half = { x: box.widthMm / 2, y: box.heightMm / 2, z: (box.depthMm ?? 0) / 2 };
  const from = subtract(pose.at, productPlace(shot));
  return turns.every((turn) => {
    const back = turner(-turn);
    const unturned = (one: Vec3): Vec3 => ({ ...back(one), y: one.y });
    const start = unturned(from);
    return border.every((ray) => meetsBox(start, unturned(ray), half));
  });
}

/** The picture on the plane of the backdrop. */
function onBackdrop({ pose, border }: Outline, hung: Hung): { width: number; height: number } | undefined {
  if (border.some((ray) => ray.z <= 1e-9)) return undefined;
  const hits = border.map((ray) => addScaled(pose.at, ray, (hung.behindMm - pose.at.z) / ray.z));
  const extent = (values: number[]) => Math.max(...values) - Math.min(...values);
  return { width: extent(hits.map((hit) => hit.x)), height: extent(hits.map((hit) => hit.y)) };
}
