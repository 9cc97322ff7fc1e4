/** JUnit XML, as build servers read it: a suite for each file, a case for each finding, and one that passes for a clean file. */
import { atLeast } from '../core/settings.ts';
import { xml } from './escape.ts';
import type { FileReport, Reported, ReportedSilenced } from './report.ts';
import { whyText } from './report.ts';

/** What is at least as serious as the file's threshold is a failure; the milder is a case that passes and says so. */
export function toJunit(reports: readonly FileReport[]): string {
  const suites = reports.map(suite);
  const sum = (name: 'tests' | 'failures') => suites.reduce((all, one) => all + one[name], 0);
  const counts = `tests="${sum('tests')}" failures="${sum('failures')}" errors="0"`;
  const body = suites.map((one) => one.text).join('');
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="shootspec" ${counts}>\n${body}</testsuites>\n`;
}

function suite(report: FileReport) {
  const { file, findings, silenced } = report;
  const failed = findings.filter((finding) => atLeast(finding.severity, report.failAt));
  const cases = [
    ...findings.map((finding) => findingCase(file, finding, failed.includes(finding))),
    ...silenced.map((one) => silencedCase(file, one)),
  ];
  if (cases.length === 0) cases.push(`    <testcase name="no findings" classname="${xml(file)}"/>\n`);
  const counts = `tests="${cases.length}" failures="${failed.length}" errors="0" skipped="${silenced.length}"`;
  const text = `  <testsuite name="${xml(file)}" ${counts}>\n${cases.join('')}  </testsuite>\n`;
  return { text, tests: cases.length, failures: failed.length };
}

function findingCase(file: string, finding: Reported, failed: boolean): string {
  const { severity, message, line, column } = finding;
  const said = xml(`${file}:${line}:${column} ${severity} ${message}`);
  const inner = failed
    ? `<failure type="${severity}" message="${xml(message)}">${said}</failure>`
    : `<system-out>${said}</system-out>`;
  return `${head(file, finding)}>${inner}</testcase>\n`;
}

function silencedCase(file: string, one: ReportedSilenced): string {
  return `${head(file, one)}><skipped>${xml(whyText(one))}</skipped></testcase>\n`;
}

function head(file: string, { rule, line, column }: Reported): string {
  return `    <testcase name="${xml(`${rule} ${line}:${column}`)}" classname="${xml(file)}"`;
}
