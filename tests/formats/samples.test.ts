/** All that is found in all samples, in every form for machines, held against the schema of that form. */
import { describe, expect, test } from 'vitest';
import { toGithub } from '../../server/formats/github.ts';
import { toGitlab } from '../../server/formats/gitlab.ts';
import { toJunit } from '../../server/formats/junit.ts';
import { type FileReport, reportOf } from '../../server/formats/report.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { codeQualityFaults } from '../helpers/code-quality.ts';
import { junitFaults } from '../helpers/junit.ts';
import { sarifFaults } from '../helpers/sarif.ts';
import { pageSpecs, samples } from '../hostile/corpus.ts';
import { checkerOf, checkText } from '../hostile/sound.ts';

/** Beside the samples one in eight of the specs of the rules' pages, since most samples have little that is found. */
const texts = [...samples, ...pageSpecs.filter((_, index) => index % 8 === 0)];

const reports: readonly FileReport[] = texts.map((one, index) =>
  reportOf(checkText(one, checkerOf(one.files)), {
    file: `${index}/${one.name}`,
    failAt: 'warning',
    fileOf: (path) => `${index}/${path}`,
    fixesOf: (finding) => finding.fixes,
  }),
);
const info = () => ({ family: 'time', severity: 'warning', summary: 'Too short.', page: '# a page\n' }) as const;

test('there is something to say, of each severity, with places beside it and fixes, and silenced', () => {
  const all = reports.flatMap(({ findings }) => findings);
  expect(new Set(all.map(({ severity }) => severity)).size).toBe(4);
  expect(all.some(({ related }) => related.length > 1)).toBe(true);
  expect(all.some(({ fixes }) => fixes.length > 1)).toBe(true);
  expect(reports.some(({ silenced }) => silenced.length > 0)).toBe(true);
});

describe('is valid', () => {
  test('as SARIF 2.1.0, whose related places are all different', () => {
    expect(sarifFaults(toSarif(reports, '1.2.3', info))).toEqual([]);
  });

  test('as JUnit', async () => {
    expect(await junitFaults({ wrong: '<testsuites><testcase/></testsuites>' })).not.toEqual([]);
    const all = Object.fromEntries(reports.map((report) => [report.file.replace(/\W/g, '-'), toJunit([report])]));
    expect(await junitFaults({ ...all, together: toJunit(reports), none: toJunit([]) })).toEqual([]);
  });

  test('as a code quality report', () => {
    expect(codeQualityFaults('[{"description":"x"}]')).not.toEqual([]);
    expect(codeQualityFaults(toGitlab(reports))).toEqual([]);
  });

  // GitHub Docs, "Workflow commands for GitHub Actions": `::error file={name},line={line},endLine={endLine},title={title}::{message}`.
  test('as annotations', () => {
    const { annotations } = toGithub(reports, false);
    const form =
      /^::(?:error|warning|notice) file=[^:,]+,line=\d+,endLine=\d+(?:,col=\d+,endColumn=\d+)?,title=[^:,]+::.+$/;
    expect(
      annotations
        .trimEnd()
        .split('\n')
        .slice(0, -1)
        .filter((line) => !form.test(line)),
    ).toEqual([]);
  });
});
