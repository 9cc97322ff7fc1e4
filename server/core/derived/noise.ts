/** How noisy a shot is at an ISO, and up to which it is clean. */
import { markedIsos, nearestMark, signalToNoise } from '../../calc/exposure.ts';
import type { CameraBody, Film, Shot } from '../film.ts';
import { showsPiece } from '../resolve/edit.ts';
import type { Stops } from '../units.ts';
import { viewAt } from './framing.ts';
import { pictureRaster, sensorUsed } from './optics.ts';

/** Signal to noise of middle grey that counts as clean: ISO 12232's 40, scaled to how 1080 lines are seen, is about 21. */
const cleanNoise = 30;

/**
 * Side on the sensor, in µm, of a pixel of a picture whose shorter side has 1080 of them, in the deliverable and at the
 * moment with the tightest crop: pictures of all sizes are judged as they are seen.
 */
export function linePixelUm(shot: Shot, film: Film): number | undefined {
  const sensor = sensorUsed(shot);
  const raster = pictureRaster(shot.camera);
  if (!sensor || !raster) return undefined;
  const pitchUm = (sensor.widthMm * 1000) / raster.width;
  const crops = [...film.deliverables.values()].flatMap((deliverable) =>
    shot.pieces
      .filter((piece) => showsPiece(deliverable, piece))
      .flatMap((piece) => [0, 1].map((moment) => viewAt(piece, deliverable, moment)))
      .flatMap((view) => (view ? Math.min(view.cropWidthPx, view.cropHeightPx) : [])),
  );
  return crops.length > 0 ? (pitchUm * Math.min(...crops)) / 1080 : undefined;
}

/** The base that an ISO counts from: of two the higher that is not above it (a twelfth of a stop is forgiven). */
export function baseIsoFor(body: CameraBody | undefined, iso: number): number | undefined {
  const bases = (body?.baseIsos ?? []).map((one) => one.value);
  return bases.findLast((one) => one <= iso * 1.06) ?? bases[0];
}

/** From so near on the second base is taken in the place of what is wanted: it is cleaner than what lies just under it. */
const nearBase: Stops = 0.5;

/** The ISO to set where one is wanted: as marked, or of two bases the higher where that is near. */
export function isoToSet(body: CameraBody | undefined, wanted: number): number {
  const marked = nearestMark(wanted, markedIsos);
  const second = body?.baseIsos[1]?.value;
  return second !== undefined && Math.abs(Math.log2(second / marked)) <= nearBase ? second : marked;
}

/**
 * The highest marked ISO at which the shot is clean: what the kit calls `noisy-above`, else by the noise of its pixels in
 * the finished picture, else two stops over the base. Never under the base.
 */
export function cleanIso(shot: Shot, film: Film, base: number): number {
  const own = shot.camera.body?.noisyAbove?.value;
  const pixelUm = linePixelUm(shot, film);
  const isClean = (iso: number) => {
    if (own !== undefined) return iso <= own * (1 + 1e-6);
    return pixelUm === undefined ? iso <= base * 4 * (1 + 1e-6) : signalToNoise(iso, pixelUm) >= cleanNoise;
  };
  return Math.max(base, ...markedIsos.filter(isClean));
}
