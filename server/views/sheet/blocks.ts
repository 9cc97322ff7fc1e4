/** What a sheet is made of, whatever it is printed as. */
import type { Severity } from '../../core/finding.ts';
import type { Picture } from '../picture.ts';

export type SheetBlock =
  | { readonly kind: 'page' }
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3; readonly words: string }
  | { readonly kind: 'text'; readonly words: string }
  /** Names and values. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [string, string])[] }
  /** The same, with sentences for values. */
  | { readonly kind: 'list'; readonly rows: readonly (readonly [string, string])[] }
  | TableBlock
  | { readonly kind: 'picture'; readonly picture: Picture }
  /** Things to tick off; in a row where they are short. */
  | { readonly kind: 'ticks'; readonly title: string; readonly items: readonly string[]; readonly inRow?: boolean }
  | {
      readonly kind: 'findings';
      readonly title: string;
      readonly items: readonly FindingOnSheet[];
    }
  /** Pictures made of pixels with words under each: small ones in a row, or large ones. */
  | { readonly kind: 'frames'; readonly frames: readonly FrameOnSheet[]; readonly isStrip?: boolean }
  /** Each with room for an answer. */
  | { readonly kind: 'questions'; readonly items: readonly string[] }
  /** Side by side, as wide as each other, or the first twice as wide. */
  | { readonly kind: 'beside'; readonly columns: readonly (readonly SheetBlock[])[]; readonly isFirstWide?: boolean }
  /** Not parted by the end of a page, where a page holds it. */
  | { readonly kind: 'together'; readonly blocks: readonly SheetBlock[] };

export interface FindingOnSheet {
  readonly number: number;
  readonly severity: Severity;
  readonly words: string;
}

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** To be written in by hand: empty cells, high enough for that. */
  readonly isForm?: boolean;
  /** Amounts stand at the right of the last column, and the last row is their sum. */
  readonly isSum?: boolean;
}

export interface FrameOnSheet {
  /** Undefined where the plan does not say enough to draw it. */
  readonly png?: PngFile | undefined;
  readonly heading: string;
  readonly words: readonly string[];
}

/** A file that says how large its picture is. */
export interface PngFile {
  readonly bytes: Uint8Array;
  readonly width: number;
  readonly height: number;
}

export interface Sheet {
  readonly title: string;
  /** Read at a desk and not on the set: in larger letters. */
  readonly isForClient?: boolean;
  readonly blocks: readonly SheetBlock[];
}
