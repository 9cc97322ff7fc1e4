/** The parts of package.json that are made from the rules. */
import type { Rule } from '../../server/core/rule.ts';

interface Manifest {
  readonly contributes: { readonly configuration: { readonly properties: Readonly<Record<string, object>> } };
}

const setting = 'shootSpec.rules';

/** The manifest with the names of all rules, so that the editor completes them in the setting, and says what they find. */
export function withRuleNames<M extends Manifest>(manifest: M, rules: readonly Rule[]): M {
  const sorted = [...rules].sort((a, b) => (a.id < b.id ? -1 : 1));
  const { contributes } = manifest;
  const { configuration } = contributes;
  const propertyNames = {
    enum: sorted.map(({ id }) => id),
    enumDescriptions: sorted.map(({ summary }) => summary),
  };
  const properties = {
    ...configuration.properties,
    [setting]: { ...configuration.properties[setting], propertyNames },
  };
  return { ...manifest, contributes: { ...contributes, configuration: { ...configuration, properties } } };
}
