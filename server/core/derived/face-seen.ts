/**
 * Where the face of the subject looks that the camera sees: what light falls on it counts. From which angle and size on is
 * common practice, no source.
 */
import { addScaled, angleBetweenDeg, directionOf, dot, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { Facing, Shot, Subject } from '../film.ts';
import type { Degrees, Mm } from '../units.ts';
import { cameraPose, subjectPlace } from './optics.ts';
import { turnedDeg, turningRpm } from './time.ts';

/** Where a face of the product looks, from the front clockwise, seen from above: its left is the camera's left. */
export const faceDeg = { front: 0, left: 90, back: 180, right: 270 } as const;

const up: Vec3 = { x: 0, y: 1, z: 0 };

/** The way that a face looks when the product stands turned, length 1. */
export function lookingWay(faces: Facing, turned: Degrees): Vec3 {
  return faces === 'up' ? up : directionOf(turned + faceDeg[faces]);
}

/**
 * The way that the face looks which the camera sees at a moment of the action. Where a part faces is said, and a flat thing
 * shows its largest side. Of others it need not be said whether they have faces: a box has, and a jug has none. Where such a
 * front or side stands askew to the camera, half way between it and the plane toward the camera counts, unless the camera looks
 * down on the top of the thing as well.
 */
export function faceSeen(shot: Shot, moment: number): Vec3 {
  return facesSeen(shot, moment)[0];
}

/**
 * The same, and after it the faces that a camera sees as much of, where nothing tells which of them is looked at: sides of a
 * box, and what is seen beside a face that stands far aside.
 */
export function facesSeen(shot: Shot, moment: number): readonly [Vec3, ...Vec3[]] {
  const pose = cameraPose(shot, moment);
  if (!pose) return [directionOf(0)];
  const toward = subtract(pose.at, subjectPlace(shot));
  const own = ownFace(shot, toward);
  if (own && (shot.subject.letters || angleBetweenDeg(toward, own) <= farAsideDeg))
    return [asRim(shot, own, toward) ?? own];
  const sides = mostSeenSides(shot, toward);
  if (own) return [own, ...(sides.length > 0 ? sides : [toward])];
  const flat = largestSide(shot, toward);
  if (flat) return [asRim(shot, flat, toward) ?? flat];
  const first = halfWay(shot, toward, sides);
  // Who says that its front must be sharp looks at the front.
  if (shot.sharp === 'front') return [first];
  return [first, ...sides.filter((way) => angleBetweenDeg(way, first) > straightOnDeg)];
}

/** Up to here a face is filmed straight on, where a meter is held to the camera: few are quite as flat and upright as said. */
const straightOnDeg = 20;
/** Up to here a face that a part is said to have is what one looks at: of the rest not more is seen (common practice, no source). */
const farAsideDeg = 65;
/** From here on a face is seen so nearly from its edge that another is filmed. */
const edgeOnDeg = 80;

/** From here on one looks down into a round thing, and its top is what one sees. */
const intoDeg = 45;

/** The rim of a round thing is no plate: seen from before it, one looks at the side of its lip as much as at the top. */
function asRim({ subject }: Shot, way: Vec3, toward: Vec3): Vec3 | undefined {
  const downDeg = 90 - angleBetweenDeg(toward, up);
  if (!subject.isRing || angleBetweenDeg(way, up) > 1 || downDeg >= intoDeg) return undefined;
  return addScaled(up, toward, 1 / lengthOf(toward));
}

function ownFace(shot: Shot, toward: Vec3): Vec3 | undefined {
  const { faces } = shot.subject;
  if (!faces || (faces !== 'up' && turns(shot))) return undefined;
  const way = lookingWay(faces, turnedDeg(shot, 0));
  const asideDeg = angleBetweenDeg(toward, way);
  if (asideDeg <= straightOnDeg) return toward;
  return asideDeg < edgeOnDeg ? way : undefined;
}

/** Up to this part of its next larger measure a thing is flat. */
const flatTo = 1 / 5;
/** Of all that the camera sees of it, at least so much must be the flat side. */
const mostSeen = 3 / 4;
/** From here on a face that one would look at is seen too much aside. */
const lookedAtDeg = 60;

/**
 * The one face that is all one looks at from a place, when it stands turned: that which a part is said to have, and the top of
 * a thing that is seen from above. Undefined where it is the thing as a whole.
 */
export function faceLookedAt({ box, faces }: Subject, turned: Degrees, toward: Vec3): Facing | undefined {
  if (faces) return angleBetweenDeg(toward, lookingWay(faces, turned)) < lookedAtDeg ? faces : undefined;
  if (!box?.depthMm || toward.y <= 0) return undefined;
  const { widthMm, depthMm, heightMm } = box;
  const top = widthMm * depthMm * toward.y;
  const front = widthMm * heightMm * Math.abs(dot(directionOf(turned), toward));
  const side = depthMm * heightMm * Math.abs(dot(directionOf(turned + 90), toward));
  return top >= mostSeen * (top + front + side) ? 'up' : undefined;
}

function largestSide(shot: Shot, toward: Vec3): Vec3 | undefined {
  const sides = sidesSeen(shot, toward);
  const [flat, next] = [...sides].sort((a, b) => a.thickMm - b.thickMm);
  if (!flat || flat.thickMm > flatTo * next!.thickMm || (!isLevel(flat.way) && turns(shot))) return undefined;
  const all = sides.reduce((sum, { seen }) => sum + seen, 0);
  return flat.seen < mostSeen * all ? undefined : flat.way;
}

interface Side {
  /** How thick the box is behind it. */
  readonly thickMm: Mm;
  readonly way: Vec3;
  /** As large as it is seen, in mm² at the box. */
  readonly seen: number;
}

/** The three sides of its box that a camera sees, as it stands at the start; none without a depth. */
function sidesSeen(shot: Shot, toward: Vec3): Side[] {
  const { box } = shot.subject;
  if (!box?.depthMm) return [];
  const { widthMm, depthMm, heightMm } = box;
  const turned = turnedDeg(shot, 0);
  const side = (thickMm: Mm, areaMm2: number, way: Vec3): Side => {
    const cosine = dot(way, toward) / lengthOf(toward);
    return { thickMm, way: cosine < 0 ? subtract(nowhere, way) : way, seen: areaMm2 * Math.abs(cosine) };
  };
  return [
    side(heightMm, widthMm * depthMm, up),
    side(depthMm, widthMm * heightMm, directionOf(turned)),
    side(widthMm, depthMm * heightMm, directionOf(turned + 90)),
  ];
}

const nowhere: Vec3 = { x: 0, y: 0, z: 0 };

/** Of what is seen most, a side of which so much is seen is looked at as well. */
const aboutAsMuch = 2 / 3;

/** The sides of its box of which most is seen, none far aside, the largest first; none of what turns, whose sides come and go. */
function mostSeenSides(shot: Shot, toward: Vec3): Vec3[] {
  if (turns(shot)) return [];
  const sides = sidesSeen(shot, toward)
    .filter(({ way, seen }) => seen > 0 && angleBetweenDeg(way, toward) <= farAsideDeg)
    .sort((a, b) => b.seen - a.seen);
  return sides.filter(({ seen }) => seen >= aboutAsMuch * sides[0]!.seen).map(({ way }) => way);
}

/** Is it a top, or an underside? */
function isLevel(way: Vec3): boolean {
  return way.x === 0 && way.z === 0;
}

/** While it turns, one face after the other comes round to the camera. */
function turns(shot: Shot): boolean {
  return turningRpm(shot) !== 0;
}

/** Half way between the camera and the upright side that one looks at: that of which most is seen, else the nearest. */
function halfWay(shot: Shot, toward: Vec3, sides: readonly Vec3[]): Vec3 {
  if (turns(shot) || 90 - angleBetweenDeg(toward, up) >= topSeenDeg) return toward;
  const nearest = quarters.map((deg) => directionOf(turnedDeg(shot, 0) + deg));
  const side =
    sides.find((way) => !isLevel(way)) ?? nearest.reduce((a, b) => (dot(b, toward) > dot(a, toward) ? b : a));
  const level = { ...toward, y: 0 };
  return angleBetweenDeg(side, level) < askewDeg ? toward : addScaled(side, toward, 1 / lengthOf(toward));
}

const quarters = Object.values(faceDeg);

/** Seen from so far above, a thing shows its top as well as its sides, and the light on all of them is that toward the camera. */
const topSeenDeg = 30;

/** Less than this a face that stands askew is as bright as one that does not. */
const askewDeg = 5;
