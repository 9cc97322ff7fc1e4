/** Reads the thresholds of rules, as their defaults and the settings file write them. */
import { quantities } from './quantities/table.ts';
import type { Limit, Rule } from './rule.ts';

/** The threshold in the unit of its quantity's reader (°, 1 = 100 %, stops, mired, mm, s, words a minute, W), or undefined. */
export function readLimit(limit: Limit, text: string): number | undefined {
  return quantities[limit.quantity].read(text);
}

const usual = new Map<Rule, Record<string, number>>();

/** All thresholds of a rule: the settings' where they are given and readable, else its own. */
export function limitsOf(rule: Rule, given: ReadonlyMap<string, string> | undefined): Readonly<Record<string, number>> {
  if (given && given.size > 0) return readLimits(rule, given);
  let limits = usual.get(rule);
  if (!limits) usual.set(rule, (limits = readLimits(rule, new Map())));
  return limits;
}

function readLimits(rule: Rule, given: ReadonlyMap<string, string>): Record<string, number> {
  const limits: Record<string, number> = {};
  for (const [name, limit] of Object.entries((rule.limits ?? {}) as Record<string, Limit>)) {
    const text = given.get(name);
    const value = (text === undefined ? undefined : readLimit(limit, text)) ?? readLimit(limit, limit.default);
    if (value === undefined) throw new Error(`${rule.id}: its limit ${name} has an unreadable default`);
    limits[name] = value;
  }
  return limits;
}
