/** Reflections: what a glossy face, table or sheet shows, and what a polariser takes away. Lengths in mm, angles in degrees. */

const rad = Math.PI / 180;

/** Turn in degrees from which the camera no longer shows, asin((w/2 + r/2) ÷ s), r half its width; `undefined` when no turn does. */
export function cameraMirrorClearDeg(distanceMm: number, faceMm: number, cameraMm: number): number | undefined {
  const sine = (faceMm / 2 + cameraMm / 4) / distanceMm;
  return sine <= 1 ? Math.asin(sine) / rad : undefined;
}

/** Brightness of a mirrored thing over the face's own: R·ρ·E of the thing ÷ (ρ·E) of the face. `Infinity` on a black face. */
export function mirroredShare(
  mirror: number,
  thing: { readonly reflects: number; readonly lux: number },
  face: { readonly reflects: number; readonly lux: number },
): number {
  return (mirror * thing.reflects * thing.lux) / (face.reflects * face.lux);
}

/** A place before a face, in the face's own frame: along it from its middle, and out from it. */
export interface BeforeFace {
  readonly alongMm: number;
  readonly outMm: number;
}

/**
 * Where a lamp mirrors in a face's plane, from its middle: x₀ = (x_c·z_l + x_l·z_c) ÷ (z_c + z_l). `undefined` unless
 * both camera and lamp stand before the face. Law of reflection.
 */
export function mirrorSpotMm(camera: BeforeFace, lamp: BeforeFace): number | undefined {
  if (camera.outMm <= 0 || lamp.outMm <= 0) return undefined;
  return (camera.alongMm * lamp.outMm + lamp.alongMm * camera.outMm) / (camera.outMm + lamp.outMm);
}

/** How near to the face's middle the spot must be to touch the face: w/2 + lamp/2 × z_c ÷ (z_c + z_l). */
export function mirrorReachMm(camera: BeforeFace, lamp: BeforeFace, faceMm: number, lampMm: number): number {
  return faceMm / 2 + ((lampMm / 2) * camera.outMm) / (camera.outMm + lamp.outMm);
}

/** Luminance of an evenly bright flat lamp in cd/m²: lux at 1 m × 1 m² ÷ its area. */
export function lampLuminanceCdM2(luxAt1m: number, areaM2: number): number {
  return luxAt1m / areaM2;
}

/** Luminance of a matt face in cd/m²: ρE ÷ π (Lambert). */
export function faceLuminanceCdM2(lux: number, reflects: number): number {
  return (lux * reflects) / Math.PI;
}

/**
 * Height above the table that its nearest part mirrors on a backdrop at horizontal distance X from a lens h above it:
 * X·tan e − h, with e the steepest ray that meets the table, tilt + half the field, at most atan(h ÷ table edge).
 */
export function tableMirrorsMm(
  camera: { readonly heightMm: number; readonly tiltDeg: number; readonly halfFieldDeg: number },
  backdropMm: number,
  tableEdgeMm: number,
): number {
  const steepest = tableEdgeMm > 0 ? Math.atan(camera.heightMm / tableEdgeMm) / rad : 90;
  const ray = Math.min(camera.tiltDeg + camera.halfFieldDeg, steepest);
  return ray >= 90 ? Infinity : backdropMm * Math.tan(ray * rad) - camera.heightMm;
}

/** Offset in mm, as the camera sees it, of the two reflections of a clear sheet: 2·th·tan(asin(sin i ÷ n))·cos i (Snell). */
export function doubledOffsetMm(thicknessMm: number, incidenceDeg: number, index: number): number {
  const inside = Math.asin(Math.sin(incidenceDeg * rad) / index);
  return 2 * thicknessMm * Math.tan(inside) * Math.cos(incidenceDeg * rad);
}

/** Share of light reflected by a clear surface, across (s) and along (p) the plane of incidence; Fresnel's equations. */
export function fresnel(incidenceDeg: number, index: number): { readonly s: number; readonly p: number } {
  const cosIn = Math.cos(incidenceDeg * rad);
  const cosOut = Math.sqrt(1 - (Math.sin(incidenceDeg * rad) / index) ** 2);
  const s = ((cosIn - index * cosOut) / (cosIn + index * cosOut)) ** 2;
  const p = ((index * cosIn - cosOut) / (index * cosIn + cosOut)) ** 2;
  return { s, p };
}

/** Share of glare that an ideal polariser leaves, Rp ÷ (Rs + Rp); 0 at Brewster's angle, ½ straight on. */
export function glareLeft(incidenceDeg: number, index: number): number {
  const { s, p } = fresnel(incidenceDeg, index);
  return s + p > 0 ? p / (s + p) : 0.5;
}
