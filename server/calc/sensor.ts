/** The part of a sensor that makes the picture, and the sizes that follow from it. Lengths in mm. */

export interface PictureSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface SensorUse {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Width ÷ height of the recorded raster with the camera upright. */
  readonly aspect: number;
  /** What a recording mode takes off each side, 1 or more; 1 when left out. */
  readonly modeCrop?: number;
  /** What the stabiliser takes when it is on, 1 or more; 1 when left out. */
  readonly stabiliserCrop?: number;
  /** Camera turned by 90°: the answer stands upright. */
  readonly onItsSide?: boolean;
}

/**
 * The used sensor: the largest picture of the raster's aspect (full width if its height fits, else full height),
 * divided by the crops. 9.8 × 7.3 mm at 16:9 with 1.1 is 8.909 × 5.011 mm. Geometry.
 */
export function usedSensor(use: SensorUse): PictureSize {
  const fullWidth = Math.min(use.widthMm, use.heightMm * use.aspect);
  const crop = (use.modeCrop ?? 1) * (use.stabiliserCrop ?? 1);
  const wide = { widthMm: fullWidth / crop, heightMm: fullWidth / use.aspect / crop };
  return use.onItsSide ? { widthMm: wide.heightMm, heightMm: wide.widthMm } : wide;
}

export function diagonalMm({ widthMm, heightMm }: PictureSize): number {
  return Math.hypot(widthMm, heightMm);
}

/**
 * Circle of confusion in mm: diagonal of the used sensor ÷ 1500 ÷ zoom (the classic rule, common practice; 1730 is the
 * stricter one). It is 1.47 pixels of 1920 at 16:9 on any sensor.
 */
export function circleOfConfusionMm(size: PictureSize, zoom = 1, parts = 1500): number {
  return diagonalMm(size) / parts / zoom;
}

/** Angle of view in degrees of a picture side behind a lens: 2·atan(side ÷ 2v); v is the focal length at infinity. */
export function angleOfViewDeg(sideMm: number, imageDistanceMm: number): number {
  return (2 * Math.atan(sideMm / (2 * imageDistanceMm)) * 180) / Math.PI;
}
