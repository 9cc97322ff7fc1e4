/** A drawing or a photograph of what a shot is to look like, as it goes into pictures and papers. */
export interface Sketch {
  readonly kind: 'png' | 'jpeg';
  /** As it is shown. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** How far it is turned clockwise to be shown. */
  readonly turnDeg: 0 | 90 | 180 | 270;
  /** Of a JPEG file: 1 of grey, 3 of colour. */
  readonly channels: 1 | 3;
  /** The whole file, without what cameras write into it besides the picture. */
  readonly bytes: Uint8Array;
}
