/**
 * The promise of the verified fix, kept from this side too: on every rule's page the first fix of every finding cures
 * it and starts nothing as serious, so that the editor never has to hold it back.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { holds } from '../../server/features/actions.ts';
import { rules } from '../../server/rules/index.ts';
import { type Example, examples, readPage, withoutMarks } from '../helpers/page.ts';
import { checkSpec } from '../helpers/workspace.ts';

/** `RULE=one-rule,another` runs their pages alone. */
const only = process.env['RULE']?.split(',');

describe.each(rules.filter((rule) => !only || only.includes(rule.id)))('$id', (rule) => {
  const file = new URL(`../../server/rules/${rule.family}/${rule.id}.md`, import.meta.url);
  const page = readPage(readFileSync(file, 'utf8'));

  test.each(examples(page.sections.get('Wrong') ?? ''))('the first fix holds, example %#', ({ text, files }) => {
    expect(firstFixesThatFail({ text: withoutMarks(text), files }, rule.id)).toEqual([]);
  });
});

/** The titles of first fixes that don't hold, each with what stands in the text after it. */
function firstFixesThatFail({ text, files }: Example, rule: string): string[] {
  const recheck = (changed: string) => checkSpec(changed, files);
  const result = recheck(text);
  return result.findings
    .filter((finding) => finding.rule === rule)
    .flatMap((finding) => {
      const [first] = finding.fixes;
      if (!first || holds(first, finding, result, recheck)) return [];
      const after = recheck(applyEdits(text, first.edits) ?? '').findings;
      return [`${first.title}: ${after.map((one) => `${one.rule}: ${one.message}`).join(' | ')}`];
    });
}
