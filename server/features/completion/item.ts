/** One thing that may be written, as plain data. */
import { quote } from '../../core/document/edits.ts';
import type { Range } from '../../core/document/node.ts';

export interface Item extends Range {
  readonly label: string;
  /** Where it ends when it is put before what stands there, and not over it; the same as `end` when absent. */
  readonly insertEnd?: number;
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
  /** True for what stands there already, so that taking it changes nothing. */
  readonly stands?: boolean;
}

/** Characters that mean something in a snippet. */
export function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}

/** A name or a path that YAML would read as something else without quotes: they are what somebody chose, and may hold anything. */
export function nameText(label: string): string {
  return /^[\p{L}\p{N}_./][\p{L}\p{M}\p{N}_./ ()'-]*$/u.test(label) ? label : quote(label);
}
