/**
 * Places around the product. Lengths in mm, angles in degrees. Seen from above 0° is toward the main camera and angles
 * go clockwise: 90° is camera left. In coordinates x is camera right, y up, z away from the camera at 0°.
 */

export interface Vec3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export const deg = 180 / Math.PI;

export function subtract(a: Vec3, b: Vec3): Vec3 {
  return { x: a.x - b.x, y: a.y - b.y, z: a.z - b.z };
}

export function addScaled(a: Vec3, b: Vec3, scale: number): Vec3 {
  return { x: a.x + b.x * scale, y: a.y + b.y * scale, z: a.z + b.z * scale };
}

/** The corners of a rectangle, round it: half its sides lie along two unit vectors from its middle. */
export function rectangle(middle: Vec3, across: Vec3, up: Vec3, halfAcross: number, halfUp: number): Vec3[] {
  const corner = (x: number, y: number) => addScaled(addScaled(middle, across, x * halfAcross), up, y * halfUp);
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}

export function dot(a: Vec3, b: Vec3): number {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

/** Square to both, by the right hand where x, y and z are (and as long as the area between them). */
export function cross(a: Vec3, b: Vec3): Vec3 {
  return { x: a.y * b.z - a.z * b.y, y: a.z * b.x - a.x * b.z, z: a.x * b.y - a.y * b.x };
}

/** `Math.hypot` takes ten times as long; nothing here is long enough to overflow. */
export function lengthOf(a: Vec3): number {
  return Math.sqrt(dot(a, a));
}

/** The same way, 1 long; one without length stays so. */
export function unit(way: Vec3): Vec3 {
  const length = lengthOf(way);
  return length > 0 ? addScaled({ x: 0, y: 0, z: 0 }, way, 1 / length) : way;
}

/** Angle between two directions in degrees, 0 to 180; 0 when one has no length. */
export function angleBetweenDeg(a: Vec3, b: Vec3): number {
  const lengths = lengthOf(a) * lengthOf(b);
  return lengths > 0 ? Math.acos(Math.min(1, Math.max(-1, dot(a, b) / lengths))) * deg : 0;
}

/** Horizontal direction of an angle around the product, length 1: 0° is −z, 90° is −x. */
export function directionOf(angleDeg: number): Vec3 {
  return { x: -Math.sin(angleDeg / deg), y: 0, z: -Math.cos(angleDeg / deg) };
}

/** The angle at which a direction lies, seen from above: the reverse of `directionOf`. */
export function angleOfDeg({ x, z }: Vec3): number {
  return Math.atan2(-x, -z) * deg;
}

/**
 * A place from its angle, the straight distance from `centre`, and how much higher it is than the centre. A rise of
 * more than the distance is held at straight above (or below).
 */
export function placeAt(angleDeg: number, distanceMm: number, riseMm: number, centre: Vec3): Vec3 {
  const rise = Math.min(distanceMm, Math.max(-distanceMm, riseMm));
  const across = Math.sqrt(distanceMm * distanceMm - rise * rise);
  const direction = directionOf(angleDeg);
  return { x: centre.x + direction.x * across, y: centre.y + rise, z: centre.z + direction.z * across };
}

/** A tape is read, and rounded, to a few per cent: a rise of up to so many times the distance is straight above or below. */
export const straightUpTo = 1.05;

/** How far a camera looks down in degrees, asin(rise ÷ distance); minus is up. */
export function lookDownDeg(distanceMm: number, riseMm: number): number {
  return distanceMm > 0 ? Math.asin(Math.min(1, Math.max(-1, riseMm / distanceMm))) * deg : 0;
}

/** A camera's place and axes; the axes have length 1 and stand square to each other. */
export interface CameraPose {
  readonly at: Vec3;
  readonly forward: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
}

/**
 * The pose of an upright camera at a place looking at a target. Straight down (or up) the top of the picture is the
 * side away from 0°. A camera at its target looks along z.
 */
export function lookAt(at: Vec3, target: Vec3): CameraPose {
  const toward = subtract(target, at);
  const forward = lengthOf(toward) > 0 ? unit(toward) : { x: 0, y: 0, z: 1 };
  const across = Math.hypot(forward.x, forward.z);
  const level = across > 1e-9 ? { x: forward.x / across, z: forward.z / across } : { x: 0, z: 1 };
  const right = { x: level.z, y: 0, z: -level.x };
  // up = forward × right, so that right, up and forward keep their hands.
  const up = {
    x: forward.y * right.z - forward.z * right.y,
    y: forward.z * right.x - forward.x * right.z,
    z: forward.x * right.y - forward.y * right.x,
  };
  return { at, forward, right, up };
}

/** A point as the camera sees it: sideways, up and along its axis, mm. `along` at or below 0 is behind the lens. */
export function fromCamera(pose: CameraPose, point: Vec3): { right: number; up: number; along: number } {
  const toward = subtract(point, pose.at);
  return { right: dot(toward, pose.right), up: dot(toward, pose.up), along: dot(toward, pose.forward) };
}

/** Does a ray meet an upright box whose middle is the origin? Slab by slab: between the planes of all three pairs at once. */
export function meetsBox(from: Vec3, ray: Vec3, half: Vec3): boolean {
  let [enters, leaves] = [0, Infinity];
  for (const axis of ['x', 'y', 'z'] as const) {
    if (ray[axis] === 0 && Math.abs(from[axis]) > half[axis]) return false;
    if (ray[axis] === 0) continue;
    const ends = [-1, 1].map((side) => (side * half[axis] - from[axis]) / ray[axis]);
    enters = Math.max(enters, Math.min(...ends));
    leaves = Math.min(leaves, Math.max(...ends));
  }
  return enters <= leaves;
}
