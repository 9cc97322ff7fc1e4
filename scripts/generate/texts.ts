/** What `npm run generate` writes for translators of the rules' messages. */
import type { Rule } from '../../server/core/rule.ts';

/** The templates as the rules have them, by rule and message key. */
export function textsOf(rules: readonly Rule[]): Record<string, Readonly<Record<string, string>>> {
  const sorted = [...rules].sort((a, b) => (a.id < b.id ? -1 : 1));
  return Object.fromEntries(sorted.map(({ id, messages }) => [id, messages as Record<string, string>]));
}
