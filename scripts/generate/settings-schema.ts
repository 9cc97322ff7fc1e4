/** The schema of the settings file with every rule in it, so that any editor that reads schemas completes and checks them. */
import type { Limit, Rule } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { limitForm } from './quantity-fields.ts';

const reasonWithNone = {
  if: { required: ['severity'], properties: { severity: { const: 'none' } } },
  then: { required: ['reason'] },
};

interface ConfigSchema {
  readonly properties: Readonly<Record<string, object>>;
}

/** The schema as written, with the rules as they are. What was made before is made anew. */
export function withRules(schema: ConfigSchema): object {
  const all = [...rules].sort((a, b) => (a.id < b.id ? -1 : 1));
  const made = [
    { $comment: 'Made by `npm run generate` from the rules.', additionalProperties: reasonWithNone },
    { properties: Object.fromEntries(all.map((rule) => [rule.id, forRule(rule)])) },
  ];
  return { ...schema, properties: { ...schema.properties, rules: { ...schema.properties['rules'], allOf: made } } };
}

function forRule({ id, family, summary, severity, limits }: Rule): object {
  const named = Object.entries((limits ?? {}) as Record<string, Limit>);
  const isCare = family === 'care';
  return {
    title: id,
    description: `${summary} Usually: ${severity}.`,
    type: 'object',
    additionalProperties: false,
    properties: {
      // A rule about harm is never turned off.
      severity: {
        enum: ['error', 'warning', 'info', ...(isCare ? ['sheet'] : ['hint', 'sheet', 'none'])],
        default: severity,
      },
      reason: true,
      ...Object.fromEntries(named.map(([name, limit]) => [name, forLimit(limit)])),
    },
  };
}

function forLimit({ quantity, default: usual, meaning }: Limit): object {
  return { description: meaning, ...limitForm(quantity), default: quantity === 'number' ? Number(usual) : usual };
}
