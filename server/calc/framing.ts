/** What part of the recorded picture a deliverable shows, how many pixels it has, and what the edges see. */

export interface PixelSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The largest upright picture of an aspect (width ÷ height) that a raster holds: zoom 1. */
export function uprightCrop(raster: PixelSize, aspect: number): PixelSize {
  const widthPx = Math.min(raster.widthPx, raster.heightPx * aspect);
  return { widthPx, heightPx: widthPx / aspect };
}

/**
 * The largest picture of an aspect inside a raster, turned by `straightenDeg` and moved along its own width by
 * `shiftShare` of that width. Its turned outline, w·cos α + h·sin α by h·cos α + w·sin α, must stay inside:
 * w = min(W ÷ (cos α + sin α ÷ a + 2·shift·cos α), H ÷ (sin α + cos α ÷ a + 2·shift·sin α)). Geometry.
 */
export function largestCrop(raster: PixelSize, aspect: number, straightenDeg = 0, shiftShare = 0): PixelSize {
  const rad = (Math.abs(straightenDeg) * Math.PI) / 180;
  const cos = Math.abs(Math.cos(rad));
  const sin = Math.abs(Math.sin(rad));
  const shift = 2 * Math.abs(shiftShare);
  const widthPx = Math.min(
    raster.widthPx / (cos + sin / aspect + shift * cos),
    raster.heightPx / (sin + cos / aspect + shift * sin),
  );
  return { widthPx, heightPx: widthPx / aspect };
}

export interface CropUse {
  readonly raster: PixelSize;
  /** The deliverable's size. */
  readonly delivered: PixelSize;
  /** Zoom against the largest upright picture of the deliverable's shape. */
  readonly zoom: number;
  readonly straightenDeg?: number;
  readonly shiftShare?: number;
}

/** Recorded pixels across a deliverable at a zoom: upright width ÷ zoom. */
export function cropWidthPx({ raster, delivered, zoom }: CropUse): number {
  return uprightCrop(raster, delivered.widthPx / delivered.heightPx).widthPx / zoom;
}

/** Recorded pixels for each delivered pixel: 1 or more is real, 0.8 is enlarged by a quarter. */
export function cropScale(use: CropUse): number {
  return cropWidthPx(use) / use.delivered.widthPx;
}

/** Greatest zoom that still has a recorded pixel for each delivered one. */
export function zoomHeadroom(raster: PixelSize, delivered: PixelSize): number {
  return cropScale({ raster, delivered, zoom: 1 });
}

/** Least zoom whose straightened, shifted picture has no empty corners or edges; 1 when upright and central. */
export function leastZoom({ raster, delivered, straightenDeg = 0, shiftShare = 0 }: CropUse): number {
  const aspect = delivered.widthPx / delivered.heightPx;
  return uprightCrop(raster, aspect).widthPx / largestCrop(raster, aspect, straightenDeg, shiftShare).widthPx;
}

/** The picture's edges as tangents from the camera's axis: right and up plus; ±half side ÷ image distance when central. */
export interface EdgeTangents {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}
