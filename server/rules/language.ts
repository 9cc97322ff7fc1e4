/**
 * The rules' messages in another language. Only the templates are translated: what a rule puts between their braces,
 * the fixes, and what the format's own checks say stay as they are.
 */
import type { Rule } from '../core/rule.ts';

/**
 * The same rules with translated templates laid over their own.
 * @param texts as read from a file: what is not there, or not as it should be, is said in English.
 */
export function inLanguage(rules: readonly Rule[], texts: unknown): readonly Rule[] {
  return rules.map((rule) => {
    const own = rule.messages as Readonly<Record<string, string>>;
    const translated = valueOf(texts, rule.id);
    const messages = Object.fromEntries(
      Object.entries(own).map(([key, template]) => [key, usable(valueOf(translated, key), template) ?? template]),
    );
    return { ...rule, messages };
  });
}

function valueOf(from: unknown, key: string): unknown {
  return from !== null && typeof from === 'object' && Object.hasOwn(from, key)
    ? (from as Readonly<Record<string, unknown>>)[key]
    : undefined;
}

/** A translation that says all that the template says: with the same names between braces, in any order. */
function usable(translation: unknown, template: string): string | undefined {
  if (typeof translation !== 'string' || translation.trim() === '') return undefined;
  return namesIn(translation) === namesIn(template) ? translation : undefined;
}

function namesIn(template: string): string {
  return [...new Set(template.match(/\{[^{}]*\}/g))].sort().join();
}
