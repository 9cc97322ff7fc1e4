/** One thing that may be written, as plain data. */
import type { Range } from '../../core/document/node.ts';

export interface Item extends Range {
  readonly label: string;
  readonly kind: 'key' | 'name' | 'word' | 'value' | 'path' | 'block';
  /** What it is or means, in a few words. */
  readonly detail?: string;
  /** Markdown. */
  readonly documentation?: string;
  /** With `$1` and `${1:text}` where the cursor goes on, when `isSnippet`. */
  readonly text: string;
  readonly isSnippet: boolean;
  /** What is compared with the characters that are replaced, when not the label. */
  readonly filter?: string;
  /** True when a value is wanted next. */
  readonly more: boolean;
  /** What the rules would say. */
  readonly warned?: string;
}

/** Characters that mean something in a snippet. */
export function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}
