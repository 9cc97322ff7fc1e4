/** What each deliverable shows of a piece: zoom, crop, spare pixels, pixels for each mm. */
import { cropScale, cropWidthPx, type EdgeTangents, leastZoom } from '../../calc/framing.ts';
import { imageDistanceMm } from '../../calc/optics.ts';
import type { Deliverable, Piece, Shot } from '../film.ts';
import { along } from './moments.ts';
import type { Mm, Share } from '../units.ts';
import { fieldAt, type LensMoment, lensAt, pictureRaster } from './optics.ts';
import { type Cut, sideways, type Way, wayOf } from './sight.ts';
import { actionMoment } from './time.ts';

/** A piece in a deliverable at a moment of the piece, 0 its start and 1 its end. */
export interface View {
  /** Zoom against the largest unrotated picture of the deliverable's shape. */
  readonly zoom: number;
  readonly shift: Share;
  /** Recorded pixels for each delivered one; under 1 the picture is enlarged. */
  readonly scale: number;
  /** The least zoom that leaves no empty corner or edge with this straighten and shift. */
  readonly leastZoom: number;
  /** Crop, in recorded pixels. */
  readonly cropWidthPx: number;
  readonly cropHeightPx: number;
  /** Crop at the subject, where the lens is known. */
  readonly cropWidthMm?: Mm;
  readonly cropHeightMm?: Mm;
  readonly lens?: LensMoment;
  /** The picture's edges as the camera sees them, from the line to the subject's middle. */
  readonly edges?: EdgeTangents;
  /** Where it lies in the action of the shot, 0 to 1. */
  readonly actionMoment: number;
}

/** Undefined without a shot, a recorded raster or the deliverable's raster. */
export function viewAt(piece: Piece, deliverable: Deliverable, moment: number): View | undefined {
  const shot = piece.shot;
  const recorded = shot && pictureRaster(shot.camera);
  const out = deliverable.raster?.value;
  if (!shot || !recorded || !out) return undefined;
  const zoom = along(piece.zoom, moment)! * (piece.zoomBy.get(deliverable.name)?.value ?? 1);
  const shift = along(piece.shift, moment)! + (piece.shiftBy.get(deliverable.name)?.value ?? 0);
  const raster = { widthPx: recorded.width, heightPx: recorded.height };
  const delivered = { widthPx: out.width, heightPx: out.height };
  const { straightenDeg } = piece;
  const crop = { raster, delivered, zoom };
  const widthPx = cropWidthPx(crop);
  const heightPx = widthPx / (out.width / out.height);
  const inAction = actionMoment(piece, moment);
  const lens = lensAt(shot, inAction);
  const field = lens && fieldAt(lens, lens.distanceMm);
  const parts = { widthPart: widthPx / recorded.width, heightPart: heightPx / recorded.height, shift };
  return {
    zoom,
    shift,
    scale: cropScale(crop),
    leastZoom: leastZoom({ raster, delivered, zoom, straightenDeg, shiftShare: shift }),
    cropWidthPx: widthPx,
    cropHeightPx: heightPx,
    cropWidthMm: field && field.widthMm * parts.widthPart,
    cropHeightMm: field && field.heightMm * parts.heightPart,
    lens,
    edges: lens && edgesOf(lens, parts, shot.camera.offCentre?.value ?? 0, wayOf(shot, piece)),
    actionMoment: inAction,
  };
}

interface CropParts {
  readonly widthPart: Share;
  readonly heightPart: Share;
  readonly shift: Share;
}

/**
 * A picture that is moved right shows what lies further left, and in a mirror further right; a subject right of the
 * middle has more room at its left.
 */
function edgesOf(
  lens: LensMoment,
  { widthPart, heightPart, shift }: CropParts,
  offCentre: Share,
  way: Way,
): EdgeTangents {
  const imageMm = imageDistanceMm(lens.focalMm, lens.focusMm);
  const width = lens.sensor.widthMm / imageMm;
  const middle = -shift * width * widthPart * sideways(way) - offCentre * width;
  const side = (width * widthPart) / 2;
  const up = (lens.sensor.heightMm / imageMm / 2) * heightPart;
  return { left: middle - side, right: middle + side, bottom: -up, top: up };
}

/** Undefined where the lens is not known. */
export function cutOf(shot: Shot, piece: Piece | undefined, { edges, shift }: View): Cut | undefined {
  return edges && { edges, shift, way: wayOf(shot, piece), straightenDeg: piece?.straightenDeg ?? 0 };
}

/** Delivered pixels for each mm at the subject. */
export function pxPerMmAt(view: View, deliverable: Deliverable): number | undefined {
  return view.cropWidthMm && deliverable.raster ? deliverable.raster.value.width / view.cropWidthMm : undefined;
}
