/**
 * Every rule's page is its test: what stands under Wrong is found at the marked characters, Right is silent, and Fix
 * is what the first fix that the finding offers makes of Wrong.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import { rules } from '../../server/rules/index.ts';
import { checkExample, examples, marks, readPage, withoutMarks } from '../helpers/page.ts';

/** `RULE=one-rule,another` runs their pages alone. */
const only = process.env['RULE']?.split(',');

describe.each(rules.filter((rule) => !only || only.includes(rule.id)))('$id', (rule) => {
  const file = new URL(`../../server/rules/${rule.family}/${rule.id}.md`, import.meta.url);
  const page = readPage(readFileSync(file, 'utf8'));
  const section = (name: string) => page.sections.get(name) ?? '';

  test('has a page with every section, in order', () => {
    expect(page.title).toBe(rule.id);
    expect(page.summary).toBe(rule.summary);
    expect([...page.sections.keys()]).toEqual(['Why', 'Wrong', 'Right', 'Fix', 'When to turn it off']);
    expect(examples(section('Wrong')).length).toBeGreaterThan(0);
    expect(examples(section('Right')).length).toBeGreaterThan(0);
    expect(rule.sources.length).toBeGreaterThan(0);
  });

  test.each(examples(section('Wrong')))('finds what is wrong, example %#', (example) => {
    const { text } = example;
    const marked = marks(text).filter((mark) => mark.label === rule.id);
    expect(marked.length, 'marks under Wrong').toBeGreaterThan(0);
    expect(places(checkExample(example), rule.id, text)).toEqual(
      marked.map(({ start, end }) => `${lineOf(text, start)}: ${text.slice(start, end)}`),
    );
  });

  test.each(examples(section('Right')))('is silent when it is right, example %#', (example) => {
    const result = checkExample(example);
    expect(result.doc.problems.map((problem) => problem.message)).toEqual([]);
    expect(result.findings.filter((one) => schemaRules.has(one.rule)).map((one) => one.message)).toEqual([]);
    expect(saidOf(result, rule.id).map((one) => one.message)).toEqual([]);
  });

  const [wrong] = examples(section('Wrong'));
  const [fixed] = examples(section('Fix'));
  test.runIf(wrong && fixed)('is fixed by its first fix', () => {
    const clean = withoutMarks(wrong!.text);
    const [finding] = saidOf(checkExample(wrong!, clean), rule.id);
    expect(finding?.fixes.length).toBeGreaterThan(0);
    const text = applyEdits(clean, finding!.fixes[0]!.edits);
    expect(text).toBe(fixed!.text);
    const after = saidOf(checkExample(wrong!, text!), rule.id);
    expect(after.some((one) => one.message === finding!.message)).toBe(false);
  });
});

const schemaRules = new Set(['unknown-key', 'missing-key', 'wrong-shape', 'wrong-unit', 'unknown-word', 'bad-name']);

function places(result: CheckResult, rule: string, text: string): string[] {
  return saidOf(result, rule).map(({ start, end }) => `${lineOf(text, start)}: ${text.slice(start, end)}`);
}

/** In the order of the text, whether it is a finding or told on the sheet alone. */
function saidOf({ findings, forSet = [] }: CheckResult, rule: string) {
  return [...findings, ...forSet].filter((one) => one.rule === rule).sort((a, b) => a.start - b.start);
}

function lineOf(text: string, offset: number): number {
  return text.slice(0, offset).split('\n').length;
}
