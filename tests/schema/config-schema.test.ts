/** The schema of the settings file, as other editors use it: it holds the rules as they are and agrees with our own check. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { withRules } from '../../scripts/generate/settings-schema.ts';
import type { Limit } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { checkerFor } from '../helpers/workspace.ts';

const schema = JSON.parse(
  readFileSync(new URL('../../schemas/config.schema.json', import.meta.url), 'utf8'),
) as Parameters<typeof withRules>[0];
const valid = new Ajv2020({ strict: false }).compile(schema);

test('holds the rules as they are (`npm run generate` makes it so)', () => {
  expect(withRules(schema)).toEqual(schema);
});

describe('agrees with the check of the settings', () => {
  const limits = rules.flatMap((rule) =>
    Object.entries((rule.limits ?? {}) as Record<string, Limit>).map(([name, limit]) => ({ rule, name, limit })),
  );
  const both = (text: string) => [
    valid(parse(text)),
    checkerFor()
      .check('shootspec.yaml', text)!
      .findings.filter((finding) => finding.severity === 'error').length === 0,
  ];

  test('every limit takes its usual value, and refuses one without its unit', () => {
    expect(limits.length).toBeGreaterThan(50);
    for (const { rule, name, limit } of limits) {
      const line = (value: string) => `rules:\n  ${rule.id}: { ${name}: ${value} }\n`;
      expect([line(limit.default), both(line(limit.default))]).toEqual([line(limit.default), [true, true]]);
      const wrong = limit.quantity === 'number' ? '5 mm' : '5';
      expect([line(wrong), both(line(wrong))]).toEqual([line(wrong), [false, false]]);
    }
  });

  test.each([
    ['rules:\n  cut-jars: { severity: none }\n', false],
    ['rules:\n  cut-jars: { severity: none, reason: Meant. }\n', true],
    ['rules:\n  cut-jars: { severity: loud }\n', false],
    ['rules:\n  cut-jars: { no-such-limit: 5 % }\n', false],
    ['rules:\n  flashes-general: { severity: none, reason: We like it. }\n', false],
    ['rules:\n  flashes-general: { severity: info }\n', true],
  ])('%j', (text, fine) => {
    expect(both(text)).toEqual([fine, fine]);
  });
});
