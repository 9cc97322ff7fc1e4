/** What each deliverable shows of a piece: zoom, crop, spare pixels, pixels for each mm. */
import { cropScale, cropWidthPx, leastZoom } from '../../calc/framing.ts';
import type { Deliverable, Piece } from '../film.ts';
import { along } from '../resolve/shots.ts';
import type { Mm, Share } from '../units.ts';
import { fieldAt, type LensMoment, lensAt, pictureRaster } from './optics.ts';
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
  const straightenDeg = piece.straightenDeg;
  const least = leastZoom({ raster, delivered, zoom, straightenDeg, shiftShare: shift });
  // Straightening needs a zoom of its own: the one that hides the corners counts where the written one is smaller.
  const cornerZoom = leastZoom({ raster, delivered, zoom, straightenDeg });
  const used = { raster, delivered, zoom: zoom * (straightenDeg === 0 ? 1 : cornerZoom) };
  const widthPx = cropWidthPx(used);
  const heightPx = widthPx / (out.width / out.height);
  const lens = lensAt(shot, actionMoment(piece, moment));
  const field = lens && fieldAt(lens, lens.distanceMm);
  return {
    zoom,
    shift,
    scale: cropScale(used),
    leastZoom: least,
    cropWidthPx: widthPx,
    cropHeightPx: heightPx,
    cropWidthMm: field && (field.widthMm * widthPx) / recorded.width,
    cropHeightMm: field && (field.heightMm * heightPx) / recorded.height,
    lens,
  };
}

/** Delivered pixels for each mm at the subject. */
export function pxPerMmAt(view: View, deliverable: Deliverable): number | undefined {
  return view.cropWidthMm && deliverable.raster ? deliverable.raster.value.width / view.cropWidthMm : undefined;
}
