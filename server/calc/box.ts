/** A product as a box, seen by a camera that looks down and past which it may turn. Lengths in mm, angles in degrees. */

export interface BoxMm {
  readonly widthMm: number;
  readonly depthMm: number;
  readonly heightMm: number;
}

function turnedParts(degrees: number): { readonly cos: number; readonly sin: number } {
  const rad = (degrees * Math.PI) / 180;
  return { cos: Math.abs(Math.cos(rad)), sin: Math.abs(Math.sin(rad)) };
}

/** Extent of the turned footprint away from the camera, d·|cos y| + w·|sin y|. */
function footprintDepthMm(box: BoxMm, turnDeg: number): number {
  const { cos, sin } = turnedParts(turnDeg);
  return box.depthMm * cos + box.widthMm * sin;
}

/** Width of the outline seen straight on, turned by y: w·|cos y| + d·|sin y|. */
export function outlineWidthMm(box: BoxMm, turnDeg: number): number {
  const { cos, sin } = turnedParts(turnDeg);
  return box.widthMm * cos + box.depthMm * sin;
}

/** Height of the outline when the camera looks down by e: h·cos e + footprint depth·sin e. */
export function outlineHeightMm(box: BoxMm, lookDownDeg: number, turnDeg: number): number {
  const { cos, sin } = turnedParts(lookDownDeg);
  return box.heightMm * cos + footprintDepthMm(box, turnDeg) * sin;
}

/** Diameter of the circle that the footprint sweeps in a full turn, √(w² + d²): the widest outline. */
export function sweepMm(box: BoxMm): number {
  return Math.hypot(box.widthMm, box.depthMm);
}

/** Turn in degrees, 0 to 90, at which the outline is widest: atan(d ÷ w). */
export function widestTurnDeg(box: BoxMm): number {
  return (Math.atan2(box.depthMm, box.widthMm) * 180) / Math.PI;
}

/**
 * The widest outline while turning from one angle to another: the ends, and √(w² + d²) when the widest turn is passed.
 */
export function widestOutlineMm(box: BoxMm, fromDeg: number, toDeg: number): number {
  const low = Math.min(fromDeg, toDeg);
  const high = Math.max(fromDeg, toDeg);
  const widest = widestTurnDeg(box);
  const passes = [widest, -widest].some((turn) => turn + 180 * Math.ceil((low - turn) / 180) <= high);
  return passes ? sweepMm(box) : Math.max(outlineWidthMm(box, fromDeg), outlineWidthMm(box, toDeg));
}

/** The most depth seen while turning from one angle to another. */
export function deepestSeenMm(box: BoxMm, lookDownDeg: number, fromDeg: number, toDeg: number): number {
  // A box's depth is the width of the same box seen from the side.
  const side = { widthMm: box.depthMm, depthMm: box.widthMm, heightMm: box.heightMm };
  const { cos, sin } = turnedParts(lookDownDeg);
  return widestOutlineMm(side, fromDeg, toDeg) * cos + box.heightMm * sin;
}
