/** What a sheet is made of, whatever it is printed as. */
import type { Finding } from '../../core/finding.ts';
import type { Picture } from '../picture.ts';

export type SheetBlock =
  | { readonly kind: 'page' }
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3; readonly words: string }
  | { readonly kind: 'text'; readonly words: string }
  /** Names and values. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [string, string])[] }
  | TableBlock
  | { readonly kind: 'picture'; readonly picture: Picture }
  /** Things to tick off; in a row where they are short. */
  | { readonly kind: 'ticks'; readonly title: string; readonly items: readonly string[]; readonly inRow?: boolean }
  | {
      readonly kind: 'findings';
      readonly title: string;
      readonly items: readonly { readonly number: number; readonly finding: Finding }[];
    }
  /** Side by side, as wide as each other, or the first twice as wide. */
  | { readonly kind: 'beside'; readonly columns: readonly (readonly SheetBlock[])[]; readonly isFirstWide?: boolean }
  /** Not parted by the end of a page, where a page holds it. */
  | { readonly kind: 'together'; readonly blocks: readonly SheetBlock[] };

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** To be written in by hand: empty cells, high enough for that. */
  readonly isForm?: boolean;
}

export interface Sheet {
  readonly title: string;
  readonly blocks: readonly SheetBlock[];
}
