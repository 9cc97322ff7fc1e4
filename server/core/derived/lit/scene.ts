/**
 * A shot as its camera sees it at one moment, with its light: plain data that a painter turns into pixels anywhere.
 * Lengths are shares of the picture's width, from its left and its top edge. Light is linear sRGB in which a grey card of
 * 18 % that the settings expose right is 0.18.
 */

export interface LitScene {
  /** Width ÷ height. */
  readonly aspect: number;
  /** Light of what is behind everything. */
  readonly behind: readonly [number, number, number];
  /** From the farthest to the nearest. */
  readonly areas: readonly LitArea[];
  /** Light at which a channel of the recording is full. */
  readonly fullAt: number;
  /** What the grade does. */
  readonly brightenStops: number;
  readonly saturation: number;
  /** What had to be taken for granted, in words. */
  readonly assumed: readonly string[];
}

export type LitKind =
  | 'backdrop'
  | 'screen'
  | 'surface'
  | 'product'
  | 'part'
  | 'letters'
  | 'shadow'
  | 'mirrored'
  | 'highlight';

/**
 * A convex outline, corner by corner as x, y and the half width of the blur there: minus where it lies before the focus, so
 * that it changes evenly along an edge.
 */
export type Outline = readonly number[];

export interface LitArea {
  readonly kind: LitKind;
  readonly outline: Outline;
  /** What it ends at besides: shadows and reflections stay on what they fall on. */
  readonly within?: Outline;
  /** Its way across the picture during the exposure. */
  readonly path?: readonly [x: number, y: number];
  /** Does it cover what is behind it, or add its light to that (minus takes some away)? */
  readonly blend: 'cover' | 'add';
  /** 0 to 1. */
  readonly opacity: number;
  readonly shade: Shade;
  readonly grain?: Grain;
  /** What lies on it: the shade is then the light on that. */
  readonly photograph?: Laid;
  /** The photograph that is seen in place of it, where whoever paints has that. */
  readonly unless?: string;
}

/** Three numbers that give a sum at a place of the picture: a + b·x + c·y. */
export type Sum = readonly [a: number, b: number, c: number];

/** How a flat thing lies in space. */
export interface Lie {
  /** A place on the thing is `across` ÷ `near` and `up` ÷ `near` from its middle, in mm. */
  readonly across: Sum;
  readonly up: Sum;
  readonly near: Sum;
  /** A mm there, as a share of the picture's width, is `share` × `near`. */
  readonly share: number;
  /** Half width of the blur, minus before the focus. */
  readonly blur: Sum;
}

/** A cut-out photograph over the middle of a flat thing. */
export interface Laid extends Lie {
  /** From the repo's root. */
  readonly path: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Uneven tone over a flat thing: where it is sharp one sees it. */
export interface Grain extends Lie {
  /** Share of the light, to each side. */
  readonly strength: number;
  /** Size of its spots, level and upright. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Seen at a slant a mm is this share of what it is level. */
  readonly slant: number;
}

/** Light over a rectangle of the picture: rows of corners from its top left, three numbers each, evenly between them. */
export interface Shade {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly rows: number;
  readonly rgb: readonly number[];
}
