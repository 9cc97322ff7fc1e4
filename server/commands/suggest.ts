/** A word that was most likely meant, for what is said of one that is unknown. */
import { nearest } from '../core/nearest.ts';

/** A sentence with a space before it, or nothing. */
export function didYouMean(word: string, known: readonly string[]): string {
  const near = nearest(word, known);
  return near ? ` Did you mean \`${near.word}\`?` : '';
}
