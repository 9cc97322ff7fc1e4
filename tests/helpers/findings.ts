/** What a rule says about a spec, in few words for tests. */
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Finding } from '../../server/core/finding.ts';
import { checkSpec } from './workspace.ts';

type Files = Readonly<Record<string, string>>;

export function findings(text: string, rule: string, files: Files = {}): Finding[] {
  return checkSpec(text, files).findings.filter((one) => one.rule === rule);
}

export function messages(text: string, rule: string, files: Files = {}): string[] {
  return findings(text, rule, files).map((one) => one.message);
}

/** The characters that each finding of a rule marks. */
export function marked(text: string, rule: string, files: Files = {}): string[] {
  return findings(text, rule, files).map(({ start, end }) => text.slice(start, end));
}

/** The spec after each fix that a rule's first finding offers, by the fix's title. */
export function fixed(text: string, rule: string, files: Files = {}): Record<string, string> {
  const fixes = findings(text, rule, files)[0]?.fixes ?? [];
  return Object.fromEntries(fixes.map((fix) => [fix.title, applyEdits(text, fix.edits) ?? '']));
}
