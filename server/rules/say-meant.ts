/** The fix that says that something unusual is wanted. */
import type { Shot } from '../core/film.ts';
import { type FixIdea, type PurposeWord, set } from '../core/rule.ts';
import { quoted } from '../core/say.ts';

/** Adds a word to `on-purpose` of a shot, beside those that it says already. */
export function sayMeant(shot: Shot, word: PurposeWord, what: string): FixIdea[] {
  const words = [...shot.fields.names('on-purpose').map(({ text }) => text), word];
  const text = words.length > 1 ? `[${words.join(', ')}]` : word;
  return [set(`Say that ${what} is meant: ${quoted(word)}`, [shot, 'on-purpose', text])];
}
