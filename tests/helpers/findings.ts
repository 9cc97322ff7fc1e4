/** What a rule says about a spec, as a finding or on the sheet alone, in few words for tests. */
import { expect } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Finding } from '../../server/core/finding.ts';
import { checkSpec } from './workspace.ts';

type Files = Readonly<Record<string, string>>;

export function findings(text: string, rule: string, files: Files = {}): Finding[] {
  const { findings: all, forSet = [] } = checkSpec(text, files);
  return [...all, ...forSet].filter((one) => one.rule === rule);
}

export function messages(text: string, rule: string, files: Files = {}): string[] {
  return findings(text, rule, files).map((one) => one.message);
}

export function severities(text: string, rule: string, files: Files = {}): string[] {
  return findings(text, rule, files).map((one) => (one.isForSet ? 'sheet' : one.severity));
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

/** The titles of those fixes. */
export function titles(text: string, rule: string, files: Files = {}): string[] {
  return Object.keys(fixed(text, rule, files));
}

/** The same, where each takes its finding away, brings none of the rule, and leaves a text that can be read. */
export function mends(text: string, rule: string, files: Files = {}): string[] {
  const all = fixed(text, rule, files);
  const [first, ...others] = messages(text, rule, files);
  if (first) expect(Object.keys(all)).not.toEqual([]);
  for (const [title, after] of Object.entries(all)) {
    const found = checkSpec(after, files).findings.filter((one) => one.rule === rule || one.rule.startsWith('wrong-'));
    expect(others, title).toEqual(expect.arrayContaining(found.map((one) => one.message)));
  }
  return Object.keys(all);
}
