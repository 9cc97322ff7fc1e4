/** The page that a drawing is made for: as wide as the place where it is shown, so that no letter is made smaller. */

/** Where a drawing is shown, in CSS pixels. */
export interface Room {
  readonly width: number;
  /** How high it may be without scrolling, where somebody knows that. */
  readonly height?: number | undefined;
  /** Without head and foot: the words round it say what they would. */
  readonly bare?: boolean;
}

export interface Page {
  readonly width: number;
  readonly margin: number;
  /** Where words and lines begin and end. */
  readonly left: number;
  readonly right: number;
  readonly inner: number;
  readonly height?: number | undefined;
  /** Too narrow for names beside what they name: they stand above it. */
  readonly narrow: boolean;
}

/** A file of its own, on a screen. */
export const usualRoom: Room = { width: 960 };

/** Plain type; where none of the first is, what comes is a little wider. */
export const fontFamily = 'Helvetica, Arial, Liberation Sans, Nimbus Sans, DejaVu Sans Condensed, sans-serif';

/** No letter of ours is smaller, in CSS pixels. */
export const smallest = 11;

/** What a title, words and small words measure. */
export const letters = { title: 17, head: 13, words: 12, small: smallest } as const;

const [narrowest, widest, lowest, highest] = [220, 1600, 240, 4000];

export function pageFor({ width, height }: Room): Page {
  const wide = Number.isFinite(width) ? Math.min(widest, Math.max(narrowest, Math.round(width))) : usualRoom.width;
  const margin = wide < 560 ? 8 : 24;
  const high =
    height !== undefined && Number.isFinite(height) ? Math.min(highest, Math.max(lowest, height)) : undefined;
  return {
    width: wide,
    margin,
    left: margin,
    right: wide - margin,
    inner: wide - 2 * margin,
    narrow: wide < 620,
    ...(high !== undefined && { height: high }),
  };
}
