/** Changes of one block in the words that every output writes. */
import type { Effect, FieldChange, PlanChange } from './comparison.ts';
import type { Facts } from './facts.ts';

export function cameOrWent(
  kind: string,
  name: string,
  before: Facts | undefined,
  after: Facts | undefined,
): PlanChange {
  const fields = [...(after?.values() ?? [])].map((one) => ({ name: one.name, after: one.text }));
  return { what: before ? 'removed' : 'added', kind, names: [name], all: false, fields, effects: [] };
}

export function changed(
  kind: string,
  names: readonly string[],
  fields: readonly FieldChange[],
  effects: readonly Effect[],
): PlanChange[] {
  if (fields.length === 0 && effects.length === 0) return [];
  return [{ what: 'changed', kind, names, all: false, fields, effects }];
}

/** All that it says as one text, to tell whether two blocks say the same. */
export function asText(facts: Facts): string {
  return JSON.stringify([...facts].map(([name, { raw }]) => [name, raw]));
}
