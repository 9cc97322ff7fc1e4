/** Which part of a clip is seen: turned upright, straightened, then zoomed and shifted, evenly from one end to the other. */
import { leastZoom, type PixelSize, uprightCrop } from '../calc/framing.ts';
import type { Deliverable, Piece } from '../core/film.ts';
import type { VideoFacts } from '../core/footage.ts';
import type { Ends } from '../core/units.ts';
import type { Framing } from './assembly.ts';
import type { PieceOn } from './grid.ts';

/** The zoom and shift of frames `start` to before `end`: a change runs evenly over all that is seen of the piece. */
export function lookOf(
  { piece, outerStart, outerEnd }: PieceOn,
  { name }: Deliverable,
  start: number,
  end: number,
): { readonly zoom: Ends; readonly shift: Ends } {
  const last = Math.max(1, outerEnd - 1 - outerStart);
  const at = ({ from, to }: Ends, frame: number) => from + ((to - from) * (frame - outerStart)) / last;
  const by = piece.zoomBy.get(name)?.value ?? 1;
  const more = piece.shiftBy.get(name)?.value ?? 0;
  return {
    zoom: { from: at(piece.zoom, start) * by, to: at(piece.zoom, end - 1) * by },
    shift: { from: at(piece.shift, start) + more, to: at(piece.shift, end - 1) + more },
  };
}

/** A tag of the file and `flip: upright` mean the same turn, so they never both apply. */
export function turnOf({ flip }: Piece, { rotationDeg }: VideoFacts): Framing['turnDeg'] {
  if (rotationDeg !== 0) return rotationDeg;
  return flip?.value === 'upright' ? 180 : 0;
}

/** As it is shown, with square pixels. */
export function uprightRaster({ raster, rotationDeg, pixelAspect = 1 }: VideoFacts): PixelSize {
  const isOnSide = rotationDeg === 90 || rotationDeg === 270;
  return {
    widthPx: isOnSide ? raster.width : raster.width * pixelAspect,
    heightPx: isOnSide ? raster.height * pixelAspect : raster.height,
  };
}

/** The least zoom that leaves no edge or corner empty anywhere along the way. */
export function leastZoomOf({ raster, straightenDeg, shift }: Framing, delivered: PixelSize): number {
  const least = (shiftShare: number) => leastZoom({ raster, delivered, zoom: 1, straightenDeg, shiftShare });
  return Math.max(least(shift.from), least(shift.to));
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/**
 * Where in the upright raster a place of the finished picture comes from, in pixels from its top left corner.
 *
 * @param place from the middle of the finished picture, as shares of its width and height: −0.5 to 0.5
 */
export function sourcePoint(
  { raster, straightenDeg }: Framing,
  { zoom, shift }: { readonly zoom: number; readonly shift: number },
  aspect: number,
  place: Point,
): Point {
  const crop = uprightCrop(raster, aspect);
  const x = ((place.x - shift) * crop.widthPx) / zoom;
  const y = (place.y * crop.heightPx) / zoom;
  const { cos, sin } = turn(straightenDeg);
  return { x: raster.widthPx / 2 + x * cos + y * sin, y: raster.heightPx / 2 - x * sin + y * cos };
}

export function turn(deg: number): { readonly cos: number; readonly sin: number } {
  const rad = (deg * Math.PI) / 180;
  return { cos: Math.cos(rad), sin: Math.sin(rad) };
}

export function moves({ zoom, shift }: Framing): boolean {
  return zoom.from !== zoom.to || shift.from !== shift.to;
}
