/** What both scales share: where they lie on the page, and the words of their rows. */
import type { Range } from '../../core/document/node.ts';
import { textWidth } from '../measure.ts';
import { letters, type Page } from '../page.ts';
import { type Drawn, type Noted, paragraph } from '../picture.ts';

/** Where a scale begins and ends; names stand before it and words behind it, or both above where the page is narrow. */
export interface Band {
  readonly page: Page;
  readonly left: number;
  readonly right: number;
}

const [namesWidth, wordsWidth, gap] = [168, 232, 12];

export function bandOf(page: Page): Band {
  if (page.narrow) return { page, left: page.left + 12, right: page.right - 12 };
  return { page, left: page.left + namesWidth + gap, right: page.right - wordsWidth - gap };
}

export interface RowWords {
  readonly name: string;
  readonly words: string;
  /** Where the name and the words are written. */
  readonly nameAt?: (Range & { readonly file?: string }) | undefined;
  readonly wordsAt?: (Range & { readonly file?: string }) | undefined;
  readonly noted?: readonly Noted[];
  readonly bold?: boolean;
}

const rowHeight = 26;

/** A row of a scale: `middle` of the band is where its sign goes. */
export interface BandRow extends Drawn {
  readonly middle: number;
}

export function bandRow({ page, left, right }: Band, top: number, row: RowWords): BandRow {
  const { name, words, nameAt, wordsAt, noted, bold } = row;
  const style = { bold: true, range: nameAt, noted };
  if (page.narrow) {
    const head = paragraph({ x: page.left, y: top }, page, name, style);
    const said = paragraph({ x: page.left, y: head.bottom }, page, words, { range: wordsAt, bold });
    return { body: [...head.body, ...said.body], middle: said.bottom + 12, bottom: said.bottom + 30 };
  }
  const head = paragraph({ x: page.left, y: top + 4 }, page, name, { ...style, right: left - gap });
  const said = paragraph({ x: right + gap, y: top + 4 }, page, words, { range: wordsAt, bold });
  const bottom = Math.max(top + rowHeight, head.bottom + 4, said.bottom + 4);
  return { body: [...head.body, ...said.body], middle: top + 12, bottom };
}

/** The name of a scale: before it, or above it. */
export function bandHead({ page, left }: Band, words: string, top: number, noted: readonly Noted[] = []): Drawn {
  const right = page.narrow ? page.right : left - gap;
  return paragraph({ x: page.left, y: top }, page, words, { size: letters.head, bold: true, noted, right });
}

/** Words as wide as they need, held on the band. */
export function held(words: string, x: number, { page }: Band, size: number = letters.words, bold = false): number {
  const half = textWidth(words, size, bold) / 2;
  return Math.max(page.left + half, Math.min(page.right - half, x));
}
