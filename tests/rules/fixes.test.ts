/**
 * The promise of the verified fix, kept from this side too: on every rule's page the first fix of every finding cures
 * it and starts nothing as serious, so that the editor never has to hold it back.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { holds } from '../../server/features/actions.ts';
import { rules } from '../../server/rules/index.ts';
import { checkExample, type Example, examples, readPage, withoutMarks } from '../helpers/page.ts';

/** `RULE=one-rule,another` runs their pages alone. */
const only = process.env['RULE']?.split(',');

/** Their fixes say what was recorded, which may be a fault of its own: then the editor holds them back. */
const sayWhatWas: ReadonlySet<string> = new Set(['recorded-codec-off', 'recorded-colour-off', 'recorded-too-small']);
const promised = rules.filter(({ id }) => !sayWhatWas.has(id));

describe.each(promised.filter((rule) => !only || only.includes(rule.id)))('$id', (rule) => {
  const file = new URL(`../../server/rules/${rule.family}/${rule.id}.md`, import.meta.url);
  const page = readPage(readFileSync(file, 'utf8'));

  test.each(examples(page.sections.get('Wrong') ?? ''))('the first fix holds, example %#', (example) => {
    expect(firstFixesThatFail({ ...example, text: withoutMarks(example.text) }, rule.id)).toEqual([]);
  });
});

/** The titles of first fixes that don't hold, each with what stands in the text after it. */
function firstFixesThatFail(example: Example, rule: string): string[] {
  const { text } = example;
  const recheck = (changed: string) => checkExample(example, changed);
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
