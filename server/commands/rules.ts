/** `shootspec rules` and `shootspec explain`. */
import { coreChecks, textChecks } from '../core/core-checks.ts';
import { listText } from '../core/say.ts';
import type { RuleInfo } from '../formats/sarif.ts';
import { rules } from '../rules/index.ts';
import { didYouMean } from './suggest.ts';
import { table } from './table.ts';
import { oneOf, pages, parse, print, UsageError } from './usage.ts';

export function listRules(args: string[]): number {
  const { values, positionals } = parse(args, 'rules');
  const families = [...new Set(rules.map((rule) => rule.family))];
  for (const name of positionals) assertFamily(name, families);
  const wanted = positionals.length === 0 ? rules : rules.filter(({ family }) => positionals.includes(family));
  const format = oneOf('--format', values.format ?? 'text', table.rules.options.format.words);
  if (format === 'json') {
    const list = wanted.map(({ id, family, severity, summary, sources, limits }) => ({
      id,
      family,
      severity,
      summary,
      sources,
      limits: limits ?? {},
    }));
    return print(`${JSON.stringify({ rules: list }, null, 2)}\n`);
  }
  const blocks = families.flatMap((family) => {
    const members = wanted.filter((rule) => rule.family === family);
    if (members.length === 0) return [];
    const lines = members.map(
      (rule) => `  ${rule.id} (${rule.severity})\n      ${rule.summary}\n      Source: ${rule.sources.join('; ')}`,
    );
    return [`${family}\n${lines.join('\n')}\n`];
  });
  return print(`${blocks.join('\n')}\n${wanted.length} rules\n`);
}

function assertFamily(name: string, families: readonly string[]): void {
  if (families.includes(name)) return;
  if (rules.some(({ id }) => id === name))
    throw new UsageError(`\`${name}\` is one rule: \`shootspec explain ${name}\` prints its page.`);
  throw new UsageError(
    `There is no family \`${name}\`.${didYouMean(name, families) || ` There are ${listText(families)}.`}`,
  );
}

export function explain(args: string[]): number {
  const { positionals } = parse(args, 'explain');
  const [id] = positionals;
  if (id === undefined)
    throw new UsageError('Say which rule: `shootspec explain shutter-off-half-frame`. `shootspec rules` lists them.');
  const all = pages();
  const page = Object.hasOwn(all, id) ? all[id] : undefined;
  if (page !== undefined) return print(page);
  const checks = { ...coreChecks, ...textChecks };
  if (Object.hasOwn(checks, id)) return print(`# ${id}\n\n${checks[id]}\n\nIt is no rule: no setting changes it.\n`);
  const near = didYouMean(id, [...Object.keys(all), ...Object.keys(checks)]);
  throw new UsageError(`There is no rule \`${id}\`.${near} \`shootspec rules\` lists them.`);
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
