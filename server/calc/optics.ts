/**
 * Thin-lens optics: field, depth of field, blur and diffraction. Lengths in mm. Distances count from the lens's front
 * principal plane, taken at the lens front, which is fine below magnification 0.2 and estimated above; close up
 * `fromFrontMm` mends the focal length by where the plane lies. A focus distance must lie beyond the focal length: nearer
 * than that there is no image, and sizes in the image come out `Infinity`.
 */

export interface Focus {
  readonly focalMm: number;
  readonly fNumber: number;
  /** Distance focused on. */
  readonly distanceMm: number;
}

/** Distance from the lens to its image, v = s·f ÷ (s − f); f at infinity, `Infinity` at or inside the focal length. */
export function imageDistanceMm(focalMm: number, distanceMm: number): number {
  if (distanceMm === Infinity) return focalMm;
  return distanceMm > focalMm ? (distanceMm * focalMm) / (distanceMm - focalMm) : Infinity;
}

/** Image size ÷ object size, m = f ÷ (s − f). */
export function magnification(focalMm: number, distanceMm: number): number {
  return distanceMm > focalMm ? focalMm / (distanceMm - focalMm) : Infinity;
}

/** The two ways before and behind a thin lens that make a picture over a way of T: (T ± √(T² − 4·f·T)) ÷ 2; undefined under 4·f. */
function wayParts(
  focalMm: number,
  allMm: number,
): { readonly shorterMm: number; readonly longerMm: number } | undefined {
  if (allMm < 4 * focalMm) return undefined;
  const apart = Math.sqrt(allMm * allMm - 4 * focalMm * allMm);
  return { shorterMm: (allMm - apart) / 2, longerMm: (allMm + apart) / 2 };
}

/**
 * How far behind its front a lens's plane lies when it is focused at `distanceMm` from the front, with the sensor
 * `toSensorMm` behind the front: 1 ÷ u + 1 ÷ v = 1 ÷ f with u + v = T, the way from object to sensor, gives
 * u = (T ± √(T² − 4·f·T)) ÷ 2 (Bessel's method of measuring f; from memory). Of both that holds which shows less than life size,
 * as lenses do, where it lies in the front of the lens; else the first that does not lie before the front. No farther behind it
 * than `mostMm`. T under 4·f takes a lens that gets shorter as it focuses, of which nothing is known: 0.
 */
export function planeDepthMm(focalMm: number, distanceMm: number, toSensorMm: number, mostMm: number): number {
  const parts = wayParts(focalMm, distanceMm + toSensorMm);
  if (!parts) return 0;
  const isInFront = parts.longerMm - distanceMm <= frontShare * toSensorMm;
  // A lens held by hand to a bellows is measured to a few per cent.
  const objectMm = !isInFront && parts.shorterMm > 0.95 * distanceMm ? parts.shorterMm : parts.longerMm;
  return Math.min(Math.max(objectMm - distanceMm, 0), mostMm);
}

/** How far behind its front, of the way to the sensor, the plane of a lens lies at most (common practice, no source). */
const frontShare = 0.4;

/**
 * The focal length that a thin lens at the front would have, to show what is in focus as large as one of `focalMm` does whose
 * plane lies `depthMm` behind the front: s ÷ f' = (s + depth) ÷ f, so that s, m and the depth of field hold.
 */
export function fromFrontMm(focalMm: number, distanceMm: number, depthMm: number): number {
  return distanceMm === Infinity ? focalMm : (focalMm * distanceMm) / (distanceMm + depthMm);
}

/** Focal length with a close-up lens close before the lens: 1 ÷ f' = 1 ÷ f + D, D in dioptres (1 ÷ m; thin lenses that touch). */
export function closeUpFocalMm(focalMm: number, dioptres: number): number {
  return 1 / (1 / focalMm + dioptres / 1000);
}

/**
 * Where a lens focuses with a tube of length `tubeMm` behind it, its sensor being `toSensorMm` behind its front without it. From
 * object to sensor is T = u + v at its nearest; the tube adds to v, the lens formula gives u, and what lies before the front is
 * u + v less the way from there to the sensor.
 */
export function tubeFocusRange(focalMm: number, nearestMm: number, toSensorMm: number, tubeMm: number): FocusRange {
  const all = nearestMm + toSensorMm;
  // A lens that gets shorter as it focuses: nothing else is known of it.
  const ownMm = wayParts(focalMm, all)?.shorterMm ?? imageDistanceMm(focalMm, nearestMm);
  const fromFront = (imageMm: number) => (focalMm * imageMm) / (imageMm - focalMm) + imageMm - toSensorMm - tubeMm;
  return { nearestMm: fromFront(ownMm + tubeMm), farthestMm: fromFront(focalMm + tubeMm) };
}

export interface FocusRange {
  readonly nearestMm: number;
  /** `Infinity` for a lens by itself. */
  readonly farthestMm: number;
}

/**
 * Where a lens with close-up lenses and tubes can be focused. Focusing moves the sensor's distance from f to that of its
 * nearest focus; a tube of length L adds to both, a close-up lens of D dioptres shortens f: s = f'·v ÷ (v − f').
 */
export function focusRange(focalMm: number, nearestMm: number, dioptres: number, tubeMm: number): FocusRange {
  const f = closeUpFocalMm(focalMm, dioptres);
  const seenFrom = (imageMm: number) =>
    imageMm === Infinity ? f : imageMm > f ? (f * imageMm) / (imageMm - f) : Infinity;
  const nearest = imageDistanceMm(focalMm, nearestMm) + tubeMm;
  return { nearestMm: seenFrom(nearest), farthestMm: seenFrom(focalMm + tubeMm) };
}

/** Width (or height) seen at `atMm` when focused at `distanceMm`: side × at ÷ v. At the focus: side × (s − f) ÷ f. */
export function fieldMm(sideMm: number, focalMm: number, distanceMm: number, atMm = distanceMm): number {
  return (sideMm * atMm) / imageDistanceMm(focalMm, distanceMm);
}

/** Distance at which the field is `fieldWantedMm`: s = f × (field ÷ side + 1). */
export function distanceForFieldMm(sideMm: number, focalMm: number, fieldWantedMm: number): number {
  return focalMm * (fieldWantedMm / sideMm + 1);
}

/** Hyperfocal distance, f² ÷ (N·c) + f: focus there and all from half of it to infinity is sharp. */
export function hyperfocalMm(focalMm: number, fNumber: number, circleMm: number): number {
  return (focalMm * focalMm) / (fNumber * circleMm) + focalMm;
}

export interface SharpZone {
  readonly nearMm: number;
  /** `Infinity` from the hyperfocal distance on. */
  readonly farMm: number;
  readonly totalMm: number;
}

/**
 * Near and far limit: h·s ÷ (h + s − f) and h·s ÷ (h − (s − f)) with h = f² ÷ (N·c) (Photographic Lenses FAQ no. 10;
 * exact for a thin lens, so it holds close up too).
 */
export function depthOfField({ focalMm, fNumber, distanceMm }: Focus, circleMm: number): SharpZone {
  const h = (focalMm * focalMm) / (fNumber * circleMm);
  const beyond = distanceMm - focalMm;
  const nearMm = (h * distanceMm) / (h + beyond);
  const farMm = h > beyond * (1 + 1e-12) ? (h * distanceMm) / (h - beyond) : Infinity;
  return { nearMm, farMm, totalMm: farMm - nearMm };
}

/** Focus that holds `nearMm` to `farMm` with the widest aperture: 2·zn·zf ÷ (zn + zf); 2·zn when far is `Infinity`. */
export function focusHoldingMm(nearMm: number, farMm: number): number {
  return farMm === Infinity ? 2 * nearMm : (2 * nearMm * farMm) / (nearMm + farMm);
}

/**
 * Widest f-number that holds `nearMm` to `farMm` from that focus: N = f² ÷ (h·c), h = 2(s − f)·zn·zf ÷ (s·(zf − zn)).
 * 0 when near and far are one plane; any aperture does.
 */
export function apertureHolding(focalMm: number, nearMm: number, farMm: number, circleMm: number): number {
  const s = focusHoldingMm(nearMm, farMm);
  const spread = farMm === Infinity ? 1 / nearMm : (farMm - nearMm) / (nearMm * farMm);
  const inverseH = (s * spread) / (2 * (s - focalMm));
  return (focalMm * focalMm * inverseH) / circleMm;
}

/** Blur disc on the sensor of a point at `atMm`: f² ÷ N × |z − s| ÷ (z·(s − f)). */
export function blurDiscMm({ focalMm, fNumber, distanceMm }: Focus, atMm: number): number {
  const miss = atMm === Infinity ? 1 : Math.abs(atMm - distanceMm) / atMm;
  return (focalMm * focalMm * miss) / (fNumber * (distanceMm - focalMm));
}

/** The same blur measured in the object's own plane: opening f ÷ N × |z − s| ÷ s. */
export function blurInPlaneMm({ focalMm, fNumber, distanceMm }: Focus, atMm: number): number {
  return ((focalMm / fNumber) * Math.abs(atMm - distanceMm)) / distanceMm;
}

/** Distance behind the focus at which the disc in its own plane is `discMm`: disc × s × N ÷ f. */
export function gapForBlurMm({ focalMm, fNumber, distanceMm }: Focus, discMm: number): number {
  return (discMm * distanceMm * fNumber) / focalMm;
}

/** Working f-number close up, N × (1 + m ÷ P); P is exit ÷ entrance pupil, 1 unless known. */
export function effectiveFNumber(fNumber: number, magnified: number, pupilFactor = 1): number {
  return fNumber * (1 + magnified / pupilFactor);
}

/** Diameter in mm of the Airy disc at 0.55 µm: 2.44 × λ × N, N the working f-number. */
export function airyDiscMm(fNumber: number): number {
  return 2.44 * 0.00055 * fNumber;
}

/** Working f-number whose Airy disc is `discMm`. */
export function fNumberForAiryMm(discMm: number): number {
  return discMm / (2.44 * 0.00055);
}

/**
 * Contrast that diffraction leaves of a pattern of `periodMm` on the sensor, 0 to 1: 2/π × (acos s − s·√(1 − s²)), with
 * s = λ·N ÷ period at 0.55 µm, N the working f-number (transfer function of a circular opening; Goodman, Introduction to
 * Fourier Optics, from memory).
 */
export function diffractionContrast(periodMm: number, fNumber: number): number {
  const s = (0.00055 * fNumber) / periodMm;
  return s >= 1 ? 0 : (2 / Math.PI) * (Math.acos(s) - s * Math.sqrt(1 - s * s));
}

/** Captured pixels per pixel pitch of a screen at `atMm`, from the field and raster width there. */
export function pixelsPerPitch(pitchMm: number, fieldWidthMm: number, rasterWidthPx: number): number {
  return (pitchMm * rasterWidthPx) / fieldWidthMm;
}

/** Period in captured pixels of the beat between a grid of `pitchPx` pixels and the sensor: 1 ÷ |1/q − round(1/q)|. */
export function moirePeriodPx(pitchPx: number): number {
  const perPixel = 1 / pitchPx;
  const apart = Math.abs(perPixel - Math.round(perPixel));
  return apart < 1e-12 ? Infinity : 1 / apart;
}
