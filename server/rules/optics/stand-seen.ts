/** How much of the stand of a lamp is seen: an upright line from the floor to the lamp, where nothing hides it. */
import { type EdgeTangents } from '../../calc/framing.ts';
import { addScaled, type CameraPose, fromCamera, subtract, type Vec3 } from '../../calc/geometry.ts';
import { floorMm, type Hung, hungBackdrop, hides } from '../../core/derived/past-backdrop.ts';
import { lampStand } from '../../core/derived/backdrop-light.ts';
import { productPlace, poseInSet } from '../../core/derived/optics.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { isMoreThanProduct, looksAtSomebody } from '../../core/derived/people.ts';
import { productAs, showingsOf } from '../../core/derived/showings.ts';
import { sideways, wayOf } from '../../core/derived/sight.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Deliverable, Film, LampPlace, Shot } from '../../core/film.ts';
import type { Ends, Mm, Share } from '../../core/units.ts';

export interface StandSeen {
  /** In which it stands as far inside as counts. */
  readonly deliverables: readonly Deliverable[];
  /** From the nearer side of the picture, as a share of its width. */
  readonly inside: Share;
  readonly side: 'left' | 'right';
  /** The lowest and the highest point that is seen, above the surface. */
  readonly seen: Ends<Mm>;
}

/** Nearer to a side of the picture it is out of it once it is set up by hand, and lower than this nobody sees it. */
const least = { inside: 0.02, high: 0.1 };

/**
 * Where it stands farthest inside; undefined where it has none on the floor, or it is not known what hides it.
 * @param leastInside less than this share of the picture's width does not count
 */
export function standSeen(shot: Shot, film: Film, lamp: LampPlace, leastInside = least.inside): StandSeen | undefined {
  if (!hasStand(shot, lamp)) return undefined;
  let most: Omit<StandSeen, 'deliverables'> | undefined;
  const deliverables: Deliverable[] = [];
  for (const showing of showingsOf(shot, film)) {
    const { turns } = showing;
    for (const { actionMoment, edges } of showing.views) {
      const pose = poseInSet(shot, actionMoment);
      const place = lampStand(lamp, shot, actionMoment);
      if (!pose || !place || !edges || isOverSurface(shot, place)) continue;
      const found = pointsSeen({ pose, edges, turns, shot, film }, place);
      if (!found || found.inside < leastInside || found.high < least.high) continue;
      const isTurned = sideways(wayOf(shot, showing.piece)) < 0;
      const side = found.isRight === isTurned ? 'left' : 'right';
      deliverables.push(...showing.deliverables);
      if (!most || found.inside > most.inside) most = { inside: found.inside, side, seen: found.seen };
    }
  }
  return most && { ...most, deliverables };
}

/** A board leans on what is there, and a window needs none. */
function hasStand({ surface, backdrop }: Shot, { held, bounces, fields }: LampPlace): boolean {
  if (held !== 'stand' && held !== 'rolling-stand') return false;
  if (bounces && !fields.said('held')) return false;
  return surface?.size !== undefined || surface?.height?.value === 0 || backdrop?.sweeps === true;
}

/** What is over the surface is not held by a stand on the floor, whatever is said. */
function isOverSurface(shot: Shot, place: Vec3): boolean {
  const outline = shot.surface?.height?.value === 0 ? undefined : surfaceOutline(shot);
  return outline !== undefined && isOnSurface(outline, place);
}

interface Sight {
  readonly pose: CameraPose;
  readonly edges: EdgeTangents;
  /** The ways in which the product stands, in degrees. */
  readonly turns: readonly number[];
  readonly shot: Shot;
  readonly film: Film;
}

const steps = 100;

function pointsSeen(sight: Sight, { x, y, z }: Vec3) {
  const { edges, pose } = sight;
  const floor = Math.min(floorMm(sight.shot), y);
  if (
    isBeside(
      sight,
      [floor, y].map((height) => ({ x, y: height, z })),
    )
  )
    return undefined;
  const hidden = hider(sight);
  const found = Array.from({ length: steps + 1 }, (_, step) => ({
    x,
    y: floor + ((y - floor) * step) / steps,
    z,
  })).flatMap((point) => {
    const { right, up, along } = fromCamera(pose, point);
    const tangent = { x: right / along, y: up / along };
    const isIn = tangent.x > edges.left && tangent.x < edges.right && tangent.y > edges.bottom && tangent.y < edges.top;
    return along > 0 && isIn && !hidden(point) ? [{ point, tangent }] : [];
  });
  const [low, high] = [found[0], found.at(-1)];
  if (!low || !high) return undefined;
  const [fromLeft, fromRight] = [high.tangent.x - edges.left, edges.right - high.tangent.x];
  return {
    inside: Math.min(fromLeft, fromRight) / (edges.right - edges.left),
    isRight: fromRight < fromLeft,
    high: (high.tangent.y - low.tangent.y) / (edges.top - edges.bottom),
    seen: { from: low.point.y, to: high.point.y },
  };
}

/** Are both ends of a straight thing past one edge of the picture? Then all of it is. */
function isBeside({ pose, edges }: Sight, ends: readonly Vec3[]): boolean {
  const seen = ends.map((end) => fromCamera(pose, end));
  if (seen.some(({ along }) => along <= 0)) return seen.every(({ along }) => along <= 0);
  return (
    seen.every(({ right, along }) => right <= edges.left * along) ||
    seen.every(({ right, along }) => right >= edges.right * along) ||
    seen.every(({ up, along }) => up <= edges.bottom * along) ||
    seen.every(({ up, along }) => up >= edges.top * along)
  );
}

/** Backdrop, surface, product and what else the shot looks at (a player's hands), as they stand before a point. */
function hider({ pose, turns, shot, film }: Sight): (point: Vec3) => boolean {
  const hung = hungBackdrop(shot, film);
  const whole = productAs(shot, film, shot.productMiddleMm);
  const covers = [whole, shot, ...around(shot, film)].flatMap((one) => coverOf(one, { pose, turns, film }) ?? []);
  const depth = fromCamera(pose, productPlace(shot)).along;
  return (point) => {
    const { right, up, along } = fromCamera(pose, point);
    const [x, y] = [right / along, up / along];
    const isCovered = covers.some(({ left, right, bottom, top }) => x > left && x < right && y > bottom && y < top);
    return (
      (hung && hides(hung, point, pose.at)) || isUnderSurface(pose, point, shot, hung) || (isCovered && along > depth)
    );
  };
}

/**
 * What the subject lies within: a mouth within a face and hands. It is there whether or not the shot says that it is seen, but for
 * what is larger than the product and nobody: that is the product opened, or another thing, in another shot.
 */
function around(shot: Shot, film: Film): Shot[] {
  const { box, heightMm } = shot.subject;
  if (!box) return [];
  return [...film.product.parts.values()].flatMap((part) => {
    const outer = part.size?.value;
    if (!outer || part.heightMm === undefined || part.name === shot.subject.name) return [];
    const isWithin =
      outer.widthMm >= box.widthMm &&
      (outer.depthMm ?? 0) >= (box.depthMm ?? 0) &&
      outer.heightMm / 2 - box.heightMm / 2 >= Math.abs(part.heightMm - heightMm);
    const as = { ...shot, subject: { ...shot.subject, name: part.name, box: outer, heightMm: part.heightMm } };
    const isShown = shot.shows.some(({ value }) => value === part.name);
    const isThere = isShown || !isMoreThanProduct(as, film) || looksAtSomebody(as, film);
    return isWithin && isThere ? [as] : [];
  });
}

/** Does the surface lie between a point below it and the lens? */
function isUnderSurface({ at }: CameraPose, point: Vec3, shot: Shot, hung: Hung | undefined): boolean {
  if (point.y >= 0 || at.y <= 0) return false;
  const part = at.y / (at.y - point.y);
  const over = addScaled(at, subtract(point, at), part);
  if (shot.backdrop?.sweeps && hung) return Math.abs(over.x) < hung.halfWidthMm && over.z < hung.behindMm;
  const outline = surfaceOutline(shot);
  return !outline || isOnSurface(outline, over);
}

/** What a shot's subject hides however it stands; undefined without its size. */
function coverOf(shot: Shot, { pose, turns, film }: Omit<Sight, 'edges' | 'shot'>): EdgeTangents | undefined {
  const outlines = turns.flatMap((turn) => {
    const corners = subjectCorners(shot, film, turn);
    return corners ? [outlineOf(pose, corners)] : [];
  });
  const [first, ...others] = outlines;
  return others.reduce(
    (all, one) => ({
      left: Math.max(all.left, one.left),
      right: Math.min(all.right, one.right),
      bottom: Math.max(all.bottom, one.bottom),
      top: Math.min(all.top, one.top),
    }),
    first!,
  );
}
