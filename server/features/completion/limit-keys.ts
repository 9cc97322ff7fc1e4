/** The limits of a rule that the settings can change. */
import type { Limit, Rule } from '../../core/rule.ts';

export function limitsFor(rules: readonly Rule[], id: string): { name: string; meaning: string; usual: string }[] {
  const limits = (rules.find((rule) => rule.id === id)?.limits ?? {}) as Record<string, Limit>;
  return Object.entries(limits).map(([name, limit]) => ({ name, meaning: limit.meaning, usual: limit.default }));
}
