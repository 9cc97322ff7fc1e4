/** A cut-out photograph of a thing, as the picture as lit takes it in. */
export interface Photograph {
  readonly widthPx: number;
  readonly heightPx: number;
  /** The whole first, each after it of half the width and height, down to a single pixel. */
  readonly levels: readonly PhotographLevel[];
}

export interface PhotographLevel {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Red, green and blue in linear light times how much it covers, and that: 0 to 65535 each, row by row. */
  readonly rgba: Uint16Array;
}
