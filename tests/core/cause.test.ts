/** Reports with one cause are one finding; what it says, where, and what is offered. A rule made up for it reports them. */
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Finding } from '../../server/core/finding.ts';
import { defineRule, type Rule, set } from '../../server/core/rule.ts';
import { isMended } from '../../server/features/compare-findings.ts';
import { memoryHost, spec } from '../helpers/workspace.ts';

/** Every ISO over 400 is too high, and the aperture is to blame. */
const rule: Rule = defineRule({
  id: 'iso-blames-aperture',
  family: 'exposure',
  summary: 'Made up.',
  severity: 'info',
  sources: ['none'],
  messages: { high: '{shot}: {iso} is too high.' },
  shot(shot, { report }) {
    const { iso, aperture } = shot.camera;
    if (!aperture || typeof iso?.value !== 'number' || iso.value <= 400) return;
    report({
      message: 'high',
      data: { shot: shot.name, iso: iso.value },
      at: iso,
      excess: iso.value,
      severity: iso.value > 5000 ? 'warning' : undefined,
      cause: aperture,
      mendCause: (shots) => [
        set(`Open the lens for ${shots.map((one) => one.name).join(', ')}`, [shot.camera, 'aperture', 'f/2']),
      ],
      fixes: [set(`Set iso to ${iso.value / 2}`, [shot.camera, 'iso', String(iso.value / 2)])],
    });
  },
});

const check = (text: string) => new Checker(memoryHost({}), [rule]).checkAs('shoot', text).findings;

const shots = (...iso: readonly (number | string)[]) =>
  spec(
    `shots:\n${iso.map((one, index) => `  s${index}: { record: 12 s, camera: { iso: ${one} } }\n`).join('')}cut: []\n`,
  );

describe('several shots with one cause', () => {
  const text = shots(800, 1600, 400, 1000);
  const [found, ...more] = check(text).filter((one) => one.rule === rule.id);

  test('are one finding, at the cause, with the numbers of the worst and the names of all', () => {
    expect(more).toEqual([]);
    expect(text.slice(found!.start, found!.end)).toBe('f/8');
    expect(found!.message).toBe('s1 (also s3 and s0): 1600 is too high.');
    expect(found!.shots).toEqual(['s1', 's3', 's0']);
    expect(found!.excess).toBe(1600);
    expect(found!.related.map(({ start, end }) => text.slice(start, end))).toHaveLength(2);
  });

  test('are mended together first, each in its way then, and the worst alone last', () => {
    const fixes = found!.fixes.map(({ title, edits }) => [title, edits.length, applyEdits(text, edits)] as const);
    expect(fixes.map(([title]) => title)).toEqual([
      'Open the lens for s1, s3, s0',
      'Set iso to 800, in `s1`, and the others as each needs it',
      'Set iso to 800, in `s1`',
    ]);
    expect(fixes[1]![2]).toBe(shots(400, 800, 400, 500));
    expect(fixes[2]![2]).toBe(shots(800, 800, 400, 1000));
  });

  test('as serious as the most serious', () => {
    const [both] = check(shots(800, 6400)).filter((one) => one.rule === rule.id);
    expect(both!.severity).toBe('warning');
    expect(both!.message).toBe('s1 (also s0): 6400 is too high.');
  });

  test('that say the same are told alike', () => {
    const [both] = check(shots(800, 800)).filter((one) => one.rule === rule.id);
    expect(both!.message).toBe('s0 and s1: 800 is too high.');
  });
});

test('one shot alone stands at its own value', () => {
  const text = shots(800, 400);
  const [found] = check(text).filter((one) => one.rule === rule.id);
  expect(text.slice(found!.start, found!.end)).toBe('800');
  expect(found!.fixes.map((one) => one.title)).toEqual(['Set iso to 400']);
});

describe('a finding is mended', () => {
  const one = (excess: number | undefined, message: string, ...about: string[]): Finding => {
    return { rule: 'r', severity: 'info', message, start: 0, end: 0, related: [], fixes: [], excess, shots: about };
  };
  const finding = one(4, 'four', 'a', 'b');
  const mended = (after: Finding[], others: Finding[] = []) => isMended(finding, [finding, ...others], after);

  test.each([
    ['when it is gone', [], true],
    ['when it is less', [one(2, 'two', 'a', 'b')], true],
    ['when it is left of one shot only', [one(4, 'four', 'a')], true],
    ['not when it says other numbers', [one(4, 'still four', 'a', 'b')], false],
    ['not when it is more', [one(5, 'five', 'a')], false],
    ['not when it is as it was', [finding], false],
  ])('%s', (_, after, is) => {
    expect(mended(after)).toBe(is);
  });

  test('whatever else the rule says of other shots', () => {
    expect(mended([one(9, 'nine', 'c')])).toBe(true);
  });

  test('when one of two that are said of a shot is gone, and the other has other numbers', () => {
    expect(mended([one(3, 'three', 'a')], [one(3.5, 'half', 'a')])).toBe(true);
    expect(mended([one(3, 'three', 'a'), one(4, 'again', 'a', 'b')], [one(3.5, 'half', 'a')])).toBe(false);
  });
});
