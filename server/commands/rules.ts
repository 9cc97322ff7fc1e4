/** `shootspec rules` and `shootspec explain`. */
import type { RuleInfo } from '../formats/sarif.ts';
import { rules } from '../rules/index.ts';
import { oneOf, pages, parse, print, UsageError } from './usage.ts';

export function listRules(args: string[]): number {
  const { values } = parse(args, { format: { type: 'string' } });
  const format = oneOf('--format', values.format ?? 'text', ['text', 'json'] as const);
  if (format === 'json') {
    const list = rules.map(({ id, family, severity, summary, sources, limits }) => ({
      id,
      family,
      severity,
      summary,
      sources,
      limits: limits ?? {},
    }));
    return print(`${JSON.stringify({ rules: list }, null, 2)}\n`);
  }
  const families = [...new Set(rules.map((rule) => rule.family))];
  const blocks = families.map((family) => {
    const lines = rules
      .filter((rule) => rule.family === family)
      .map(
        (rule) => `  ${rule.id} (${rule.severity})\n      ${rule.summary}\n      Source: ${rule.sources.join('; ')}`,
      );
    return `${family}\n${lines.join('\n')}\n`;
  });
  return print(`${blocks.join('\n')}\n${rules.length} rules\n`);
}

export function explain(args: string[]): number {
  const { positionals } = parse(args, {});
  const [id] = positionals;
  if (id === undefined)
    throw new UsageError('Say which rule: `shootspec explain shutter-off-half-frame`. `shootspec rules` lists them.');
  const all = pages();
  const page = Object.hasOwn(all, id) ? all[id] : undefined;
  if (page === undefined) throw new UsageError(`There is no rule \`${id}\`. \`shootspec rules\` lists them.`);
  return print(page);
}

/** What an output says of a rule besides its findings. */
export function ruleInfo(): (id: string) => RuleInfo | undefined {
  const all = pages();
  const byId = new Map(rules.map((rule) => [rule.id, rule]));
  return (id) => {
    const rule = byId.get(id);
    const page = Object.hasOwn(all, id) ? all[id] : undefined;
    return rule && page !== undefined
      ? { family: rule.family, severity: rule.severity, summary: rule.summary, page }
      : undefined;
  };
}
