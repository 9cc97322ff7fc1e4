/** The front edge of the surface: where it is seen, and what takes it out of the picture. */
import { gridRays, hungBackdrop, type Past, pastEdge } from '../../core/derived/past-backdrop.ts';
import { isOutdoors } from '../../core/derived/daylight.ts';
import { deg, fromCamera } from '../../calc/geometry.ts';
import { picturesOf, type Showing, showingsOf, still, tryShot } from '../../core/derived/showings.ts';
import { surfaceCorners, surfaceOutline } from '../../core/derived/surface-outline.ts';
import { once } from '../../core/memo.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import type { Degrees, Mm, Share } from '../../core/units.ts';
import { listText } from '../../core/say.ts';
import { farthestMm, zoomIn } from './backdrop-fixes.ts';
import { by, clear, outlineOf, passes } from './past-edges.ts';

/** Farther back than this it is no place for a product: hands, lamps and what hangs behind it want the rest (common practice, no source). */
const farthestBack: Share = 0.75;

/** The cures that there are, as words and as fixes; what is seen there can be covered anyhow. */
export function frontWay(shot: Shot, film: Film): { way: string; fixes: FixIdea[] } {
  const [moved, up, zoomed] = [movedBack(shot, film), higher(shot, film), zoomIn(shot, film)];
  const fixes = [...moved.fixes, ...up, ...zoomed];
  if (moved.way) return { way: moved.way, fixes };
  const ways = [...(up.length > 0 ? ['look down from higher up'] : []), ...(zoomed.length > 0 ? ['zoom in'] : [])];
  const way = listText([...(isLoose(shot) ? ['use a deeper one'] : []), ...ways, 'cover what is seen there'], 'or');
  return { way: way[0]!.toUpperCase() + way.slice(1), fixes };
}

/** Back goes what has so much of the surface behind it, before the backdrop: as far as all shots on it ask, as it stands in one place. */
function movedBack(shot: Shot, film: Film): { way?: string; fixes: FixIdea[] } {
  const outline = surfaceOutline(shot);
  if (!outline) return { fixes: [] };
  const { byMm } = surfacesOf(film).get(shot.surface!.size!.start)!;
  const cm = Math.ceil((byMm - outline.frontMm) / 10 - 1e-6);
  const deepMm = Math.min(outline.backMm, shot.backdrop?.behind?.value ?? Infinity) - outline.frontMm;
  const leastMm = (film.product.size?.value.depthMm ?? 0) / 2;
  if (cm * 10 > farthestBack * deepMm || deepMm - cm * 10 < leastMm) return { fixes: [] };
  const title = `Stand the product ${cm} cm behind the front edge (it is out of the picture)`;
  return {
    way: `Stand the product with its middle ${cm} cm behind that edge`,
    fixes: [set(title, [shot.surface!, 'front', `${cm} cm`])],
  };
}

/** A board that lies on a table can be another one; a bench, a table or a stone can't. */
function isLoose({ surface }: Shot): boolean {
  return surface!.aboveTableMm > 0 || surface!.thickness !== undefined;
}

/** Looking down by so much more, it is much the same view (common practice, no source). */
const steeperDeg: Degrees = 10;

/** The least height from which the picture ends on the surface. */
function higher(shot: Shot, film: Film): FixIdea[] {
  const { height, distance } = shot.camera;
  if (!height || !distance || height.value.from !== height.value.to) return [];
  const mostMm = height.value.from + Math.min(distance.value.from, farthestMm) * Math.sin(steeperDeg / deg);
  for (let cm = Math.ceil(height.value.from / 10) + 1; cm * 10 <= mostMm; cm++) {
    if (!clear(tryShot(shot, { camera: { height: still(cm * 10) } }), film, 1.02)) continue;
    return [set(`Set height to ${cm} cm (it looks down on the surface)`, [shot.camera, 'height', `${cm} cm`])];
  }
  return [];
}

/** Is more of it seen than a strip, and the table not shown as a table, here or in another shot? */
export function isFrontFault(
  shot: Shot,
  film: Film,
  { strip, 'on-show': onShow }: Record<'strip' | 'on-show', Share>,
): boolean {
  // Under the sky what the product stands on is part of the place, edge and all.
  if (isOutdoors(shot, film)) return false;
  const isFarSeen = isFrontSeen(shot, film, 1 - 2 * strip) && showsBeforeFront(shot, film, strip / 2);
  return isFarSeen && surfacesOf(film).get(shot.surface!.size!.start)!.shownShare > onShow;
}

/** A surface by where its size is written, over all shots on it. */
interface OnSurface {
  /** By how far its front edge is too near; 0 where that is not seen. */
  readonly byMm: Mm;
  /** The least of the width of a picture that it takes with both its ends in it; `Infinity` where there is none. */
  readonly shownShare: Share;
}

const surfacesOf = once((film: Film): ReadonlyMap<number, OnSurface> => {
  const all = new Map<number, OnSurface>();
  for (const shot of film.shots.values()) {
    const at = shot.surface?.size?.start;
    if (at === undefined) continue;
    const { byMm, shownShare } = all.get(at) ?? { byMm: 0, shownShare: Infinity };
    const showings = showingsOf(shot, film);
    const reaches = showings.map((one) => by(passes(one, film), 'front'));
    all.set(at, {
      byMm: Math.max(byMm, ...reaches),
      shownShare: Math.min(shownShare, ...showings.map(shareShown)),
    });
  }
  return all;
});

/** So many places are looked at across the picture and in its height. */
const [columns, rows] = [8, 25];

/** Does any picture show more than a share of what lies before the front edge? Of one that runs aslant it is a corner. */
export function showsBeforeFront(shot: Shot, film: Film, share: Share): boolean {
  const hung = hungBackdrop(shot, film);
  return picturesOf(showingsOf(shot, film)).some(({ pose, view: { edges } }) => {
    let before = 0;
    for (const ray of edges ? gridRays(pose, edges, columns, rows) : []) {
      if (isPastFront(pastEdge(pose, ray, shot, hung, false))) before++;
      if (before / (columns * rows) > share) return true;
    }
    return false;
  });
}

function isPastFront(past: Past | undefined): boolean {
  return past?.of === 'surface' && past.edge === 'front';
}

/** Would the front edge be seen in the inner part of the picture too? */
function isFrontSeen(shot: Shot, film: Film, part: number): boolean {
  const hung = hungBackdrop(shot, film);
  return showingsOf(shot, film).some(({ views }) =>
    views.some((view) => {
      const outline = outlineOf(shot, view, hung, part);
      return outline?.rays.some((ray) => isPastFront(pastEdge(outline.pose, ray, shot, hung, outline.steep)));
    }),
  );
}

/**
 * How much of the picture's width a table or a stool takes of which both ends are well inside: it is shown as what it is, front edge
 * and all. `Infinity` where it is not.
 */
function shareShown(showing: Showing): Share {
  const outline = surfaceOutline(showing.shot);
  const corners = outline ? surfaceCorners(outline) : [];
  const shares = picturesOf([showing]).map(({ view: { edges }, pose }) => {
    const [left, right] = corners.slice(0, 2).map((corner) => fromCamera(pose, corner));
    if (!edges || !left || !right || Math.min(left.along, right.along) <= 0) return Infinity;
    const ends = [left, right].map((one) => one.right / one.along).sort((a, b) => a - b) as [number, number];
    const isInside = ends[0] > edges.left && ends[1] < edges.right;
    return isInside ? (ends[1] - ends[0]) / (edges.right - edges.left) : Infinity;
  });
  return Math.max(0, ...shares);
}
