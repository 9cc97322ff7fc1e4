/** How much of a part is seen, in shots that look at something else of the product: of its height, and how squarely its face. */
import type { CameraPose, Vec3 } from '../../calc/geometry.ts';
import { angleBetweenDeg, directionOf, dot, subtract } from '../../calc/geometry.ts';
import type { Facing, Film, Part, Product, Shot } from '../film.ts';
import type { Degrees, Ends, Mm, Share } from '../units.ts';
import { faceDeg, lookingWay } from './face-seen.ts';
import { type Look, looksOf, type Showing } from './showings.ts';

export interface PartSeen {
  readonly shot: Shot;
  readonly share: Share;
  /** How much of it lies outside, as a share of the picture's height. */
  readonly outside: Share;
  /** What the picture takes in at the part's place, above the surface. */
  readonly picture: Ends<Mm>;
  /** Does any of them show its middle, in which its letters are? */
  readonly isMiddleSeen: boolean;
}

/** From the lowest to the highest point of an upright part, above the surface; undefined where its size or place is not said. */
export function heightsOf(part: Part, product: Product): Ends<Mm> | undefined {
  const { size, heightMm, faces } = part;
  if (!size || heightMm === undefined) return undefined;
  // Of one that lies, or looks up, how much of its height is seen says nothing.
  if (faces === 'up' || (size.value.depthMm ?? 0) > size.value.heightMm) return undefined;
  const half = size.value.heightMm / 2;
  const heights = { from: heightMm - half, to: heightMm + half };
  return faces && isBesideFace(heights, size.value.widthMm, faces, product) ? undefined : heights;
}

/** What is so much larger than the face of the product that it is said to have, or reaches so far past it, lies by itself. */
const pastFace: Share = 0.05;

function isBesideFace(heights: Ends<Mm>, widthMm: Mm, faces: Facing, { size, hangs }: Product): boolean {
  if (!size) return false;
  const { widthMm: acrossMm, depthMm = 0, heightMm } = size.value;
  const faceMm = faces === 'front' || faces === 'back' ? acrossMm : depthMm;
  const low = hangs?.value ?? 0;
  const spareMm = pastFace * heightMm;
  const isTooHigh = heights.from < low - spareMm || heights.to > low + heightMm + spareMm;
  return isTooHigh || widthMm > faceMm * (1 + pastFace);
}

/** What is in the air over the product wherever hands are. */
const flows = /stream|\bjet|pour|steam|smoke|vapou?r|mist|foam|froth|splash|\bdr[io]p|flame|spark/i;

/** A tool, a brush, a second piece: where somebody is in the picture, what is narrow and on no face of the product is in their hands. */
function isInHands({ name, faces, size }: Part, { people }: Shot, { product }: Film): boolean {
  if (people.length === 0 || faces || flows.test(name)) return false;
  const { widthMm = 0, depthMm = 0 } = product.size?.value ?? {};
  return (size?.value.widthMm ?? 0) < Math.max(widthMm, depthMm) / 2;
}

/** The most of its height that these show at any moment; undefined where one of them can't be told, or somebody holds it there. */
export function partSeenAtBest(part: Part, showings: readonly Showing[], film: Film): PartSeen | undefined {
  const heights = heightsOf(part, film.product);
  if (!heights || showings.some(({ shot }) => isInHands(part, shot, film))) return undefined;
  if (showings.some((showing) => looksOf([showing]).length === 0)) return undefined;
  const looks = looksOf(showings).flatMap((look) => placesOf(part, film, look).map((place) => ({ look, place })));
  const middle = (heights.from + heights.to) / 2;
  let isMiddleSeen = false;
  let best: Omit<PartSeen, 'isMiddleSeen'> | undefined;
  for (const { look, place } of looks) {
    const picture = heightsSeen(look, place);
    if (!picture) return undefined;
    const seenMm = Math.min(heights.to, picture.to) - Math.max(heights.from, picture.from);
    const share = Math.max(0, seenMm) / (heights.to - heights.from);
    isMiddleSeen ||= picture.from < middle && middle < picture.to;
    const outside = ((1 - share) * (heights.to - heights.from)) / (picture.to - picture.from);
    if (!best || share > best.share) best = { shot: look.showing.shot, share, outside, picture };
  }
  return best && { ...best, isMiddleSeen };
}

export interface FaceSeen {
  readonly shot: Shot;
  /** From straight on: 90 is edge on, and more is from behind. */
  readonly asideDeg: Degrees;
}

/**
 * How squarely these see the face of a part at best. Undefined where one of them can't be told, it is not said where the face
 * is, or the part is no plate: what stands out of a face is seen from the side too.
 */
export function faceSeenAtBest(part: Part, showings: readonly Showing[], film: Film): FaceSeen | undefined {
  const { faces, heightMm } = part;
  if (!faces || heightMm === undefined || !isPlate(part) || !film.product.size) return undefined;
  if (showings.some((showing) => looksOf([showing]).length === 0)) return undefined;
  const seen = looksOf(showings).map((look): FaceSeen => {
    const at = { ...(faces === 'up' ? above : placesOf(part, film, look)[0]!), y: heightMm };
    const asideDeg = angleBetweenDeg(subtract(look.pose.at, at), lookingWay(faces, look.turn));
    return { shot: look.showing.shot, asideDeg };
  });
  return seen.sort((a, b) => a.asideDeg - b.asideDeg)[0];
}

/** Of its sides the least is at most a third of the next, or not there at all: what is thicker is seen from the side as well. */
function isPlate({ size }: Part): boolean {
  const { widthMm, heightMm, depthMm = 0 } = size?.value ?? { widthMm: 1, heightMm: 1, depthMm: 1 };
  const [least, next] = [widthMm, heightMm, depthMm].sort((a, b) => a - b);
  return least! <= next! / 3;
}

/** The middle of the product, from above. */
const above: Vec3 = { x: 0, y: 0, z: 0 };

/**
 * Where it may be, seen from above: on the face that it has, else anywhere from the nearest of the product to the farthest. What
 * another part may hold that the shot looks at (a filling, its dumpling) may be where that is, too.
 */
export function placesOf(part: Part, { product }: Film, { pose, turn, showing }: Look): Vec3[] {
  const { faces } = part;
  const { widthMm = 0, depthMm = 0 } = product.size?.value ?? {};
  if (faces && faces !== 'up') {
    const out = faces === 'front' || faces === 'back' ? depthMm / 2 : widthMm / 2;
    const onFace = scaled(directionOf(turn + faceDeg[faces]), out);
    return isWithin(part, product.parts.get(showing.shot.subject.name)) ? [onFace, above] : [onFace];
  }
  const way = levelWay(pose);
  const reach = (side: Mm, sideTurn: Degrees) => (side / 2) * Math.abs(dot(way, directionOf(turn + sideTurn)));
  const half = reach(depthMm, 0) + reach(widthMm, 90);
  return [-half, 0, half].map((along) => scaled(way, along));
}

function isWithin(part: Part, other: Part | undefined): boolean {
  if (!other || other === part || other.faces) return false;
  const [own, whole] = [part, other].map(({ size, heightMm = NaN }) => ({
    heightMm,
    half: size ? size.value.heightMm / 2 : NaN,
  }));
  return Math.abs(own!.heightMm - whole!.heightMm) <= whole!.half - own!.half;
}

/** Nearer to straight down than this, heights lie along the line of sight. */
const steepest = 0.7;

/** Where the lower and the upper edge of the picture meet an upright line at a place. */
function heightsSeen({ pose, view: { edges } }: Look, place: Vec3): Ends<Mm> | undefined {
  if (!edges || Math.abs(pose.forward.y) > steepest) return undefined;
  const way = levelWay(pose);
  const farMm = dot(way, { x: place.x - pose.at.x, y: 0, z: place.z - pose.at.z });
  const heightAt = (edge: number) => {
    const ahead = dot(way, pose.forward) + edge * dot(way, pose.up);
    return ahead > 0 ? pose.at.y + (farMm * (pose.forward.y + edge * pose.up.y)) / ahead : undefined;
  };
  const [from, to] = [heightAt(edges.bottom), heightAt(edges.top)];
  return farMm > 0 && from !== undefined && to !== undefined ? { from, to } : undefined;
}

/** The way that a camera looks, as seen from above. */
function levelWay({ forward: { x, z } }: CameraPose): Vec3 {
  const length = Math.hypot(x, z);
  return { x: x / length, y: 0, z: z / length };
}

function scaled({ x, y, z }: Vec3, by: number): Vec3 {
  return { x: x * by, y: y * by, z: z * by };
}
