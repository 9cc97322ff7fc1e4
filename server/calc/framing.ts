/** What part of the recorded picture a deliverable shows, how many pixels it has, and what the edges see. */
import { addScaled, type CameraPose, dot, subtract, type Vec3 } from './geometry.ts';

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

/** Zoom that hides the corners of a picture straightened by an angle, its own aspect kept; 1 at 0°. */
export function straightenZoom(aspect: number, straightenDeg: number): number {
  const raster = { widthPx: aspect, heightPx: 1 };
  return aspect / largestCrop(raster, aspect, straightenDeg).widthPx;
}

/** The largest-area upright rectangle inside a raster turned by an angle of 0 to 90°. Well-known derivation. */
export function largestAreaInside(raster: PixelSize, angleDeg: number): PixelSize {
  const rad = (Math.abs(angleDeg) * Math.PI) / 180;
  const cos = Math.abs(Math.cos(rad));
  const sin = Math.abs(Math.sin(rad));
  const { widthPx: w, heightPx: h } = raster;
  const long = Math.max(w, h);
  const short = Math.min(w, h);
  if (short <= 2 * sin * cos * long || Math.abs(sin - cos) < 1e-10) {
    const a = short / (2 * sin);
    const b = short / (2 * cos);
    return w >= h ? { widthPx: a, heightPx: b } : { widthPx: b, heightPx: a };
  }
  const cos2 = cos * cos - sin * sin;
  return { widthPx: (w * cos - h * sin) / cos2, heightPx: (h * cos - w * sin) / cos2 };
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

/** Delivered pixels for each mm at a place where the whole recorded width covers `fieldWidthMm`. */
export function pxPerMm(use: CropUse, fieldWidthMm: number): number {
  return (use.delivered.widthPx / cropWidthPx(use)) * (use.raster.widthPx / fieldWidthMm);
}

/** The picture's edges as tangents from the camera's axis: right and up plus; ±half side ÷ image distance when central. */
export interface EdgeTangents {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** A flat thing in the scene: its middle, the directions of its width and height (length 1, square), half sizes in mm. */
export interface Panel {
  readonly middle: Vec3;
  readonly across: Vec3;
  readonly upright: Vec3;
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
}

/** How much panel is left beyond the picture at each edge, mm; minus: the camera sees past it. */
export interface PanelSpare {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/**
 * Where the picture's corner rays meet a panel's plane, against the panel's edges. A ray that never meets it (camera
 * looking past or away) makes `-Infinity` at the side it leaves by. Ray and plane, similar triangles.
 */
export function panelSpare(pose: CameraPose, edges: EdgeTangents, panel: Panel): PanelSpare {
  const normal = cross(panel.across, panel.upright);
  const toPlane = dot(subtract(panel.middle, pose.at), normal);
  const spare = { left: Infinity, right: Infinity, bottom: Infinity, top: Infinity };
  for (const sideways of [edges.left, edges.right]) {
    for (const up of [edges.bottom, edges.top]) {
      const ray = addScaled(addScaled(pose.forward, pose.right, sideways), pose.up, up);
      const approach = dot(ray, normal);
      const meets = approach * toPlane > 0 && Math.abs(approach) > 1e-12;
      const scale = meets ? toPlane / approach : Infinity;
      const hit = meets ? subtract(addScaled(pose.at, ray, scale), panel.middle) : ray;
      const x = dot(hit, panel.across) * (meets ? 1 : Infinity) || 0;
      const y = dot(hit, panel.upright) * (meets ? 1 : Infinity) || 0;
      spare.left = Math.min(spare.left, panel.halfWidthMm + x);
      spare.right = Math.min(spare.right, panel.halfWidthMm - x);
      spare.bottom = Math.min(spare.bottom, panel.halfHeightMm + y);
      spare.top = Math.min(spare.top, panel.halfHeightMm - y);
    }
  }
  return spare;
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return { x: a.y * b.z - a.z * b.y, y: a.z * b.x - a.x * b.z, z: a.x * b.y - a.y * b.x };
}
