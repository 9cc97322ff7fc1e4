/** Findings of a take sheet in every output, held against what reads it: the plan's line stands beside each. */
import { expect, test } from 'vitest';
import { toGithub } from '../../server/formats/github.ts';
import { toGitlab } from '../../server/formats/gitlab.ts';
import { toJson } from '../../server/formats/json.ts';
import { toJunit } from '../../server/formats/junit.ts';
import { reportOf } from '../../server/formats/report.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { toText } from '../../server/formats/text.ts';
import { rules } from '../../server/rules/index.ts';
import { footageOf } from '../helpers/footage.ts';
import { sarifFaults } from '../helpers/sarif.ts';
import { checkSheet, specPath } from '../helpers/workspace.ts';
import { readXml } from '../helpers/xml.ts';

const footage = footageOf({ 'C0012.MP4': { video: { rate: 29.97003, usualStepS: 0.0333667 } } });
const result = checkSheet(
  'takes:\n  box:\n    - { clip: C0012.MP4, judged: best } # seen\n    - { clip: C9.MP4, judged: good }\n',
  { outside: { footage: () => footage } },
);
const reports = [
  reportOf(result, {
    file: 'films/film.takes.yaml',
    failAt: 'error',
    fileOf: (path) => `films/${path}`,
    fixesOf: ({ fixes }) => fixes,
  }),
];
const said = ['recorded-rate-off', 'clip-not-found'];

test('SARIF is valid, with the plan as related place and the fix as an edit', () => {
  const info = (id: string) => {
    const rule = rules.find((one) => one.id === id);
    return rule && { family: rule.family, severity: rule.severity, summary: rule.summary, page: '# a page\n' };
  };
  const text = toSarif(reports, '1.2.3', info);
  expect(sarifFaults(text)).toEqual([]);
  expect(text).toContain(`films/${specPath}`);
  expect(text).toContain('{ rate: 29.97 }');
});

test.each([
  ['JSON', toJson(reports)],
  ['text', toText(reports)],
  ['GitLab', toGitlab(reports)],
  ['annotations', toGithub(reports, false).annotations],
  ['JUnit', toJunit(reports)],
])('%s has each finding on its line of the sheet', (_, text) => {
  for (const rule of said) expect(text).toContain(rule);
  expect(text).toContain('films/film.takes.yaml');
});

test('JSON, GitLab and JUnit are read by a reader of their form', () => {
  for (const text of [toJson(reports), toGitlab(reports)]) expect(() => JSON.parse(text) as unknown).not.toThrow();
  expect(() => readXml(toJunit(reports))).not.toThrow();
});
