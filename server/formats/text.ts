/** For people at a terminal: the place, the finding, the line with the characters marked, and the fixes. */
import type { Severity } from '../core/finding.ts';
import type { Entry } from './baseline.ts';
import { harmless, logLines, oneLine } from './escape.ts';
import { countText, type FileReport, filesText, type Reported, type ReportedSilenced, whyText } from './report.ts';

export interface Paint {
  severity(severity: Severity, text: string): string;
  dim(text: string): string;
  strong(text: string): string;
}

/** No colours. */
export const plain: Paint = { severity: (_, text) => text, dim: (text) => text, strong: (text) => text };

/** What is said beside the reports: entries of the baseline that are no longer found, and files that only lack a name of ours. */
export interface Beside {
  readonly unused?: readonly Entry[];
  readonly passedOver?: readonly string[];
}

export function toText(reports: readonly FileReport[], beside: Beside = {}, paint: Paint = plain): string {
  const blocks = reports.flatMap(({ file, findings }) => findings.map((finding) => one(file, finding, paint)));
  return logLines([...blocks, summary(reports, beside)].join('\n'));
}

function one(file: string, finding: Reported, paint: Paint): string {
  const { line, column, endLine, endColumn, severity, source } = finding;
  const at = `${oneLine(file)}:${line}:${column}`;
  const head = `${paint.strong(at)} ${paint.severity(severity, severity)} ${oneLine(finding.message)} ${paint.dim(`[${oneLine(finding.rule)}]`)}`;
  const from = column - source.column;
  const [before, rest] = [source.text.slice(0, from), source.text.slice(from)];
  const marked = endLine === line ? rest.slice(0, endColumn - column) : rest;
  const indent = ' '.repeat(`${line}`.length);
  const carets = '^'.repeat(Math.max(1, cells(marked)));
  const lines = [
    `  ${paint.dim(`${line} |`)} ${shown(source.text)}`,
    `  ${paint.dim(`${indent} |`)} ${' '.repeat(cells(before))}${paint.severity(severity, carets)}`,
  ];
  const fixes = finding.fixes.map((fix) => `  ${paint.dim('fix:')} ${oneLine(fix.title)}`);
  return [head, ...lines, ...fixes, ''].join('\n');
}

/** A line as it is printed: tabs as one blank, so that carets stand under what they mark. */
function shown(line: string): string {
  return harmless(line.replaceAll('\t', ' '));
}

function cells(text: string): number {
  return [...shown(text)].length;
}

function summary(reports: readonly FileReport[], { unused = [], passedOver = [] }: Beside): string {
  const findings = reports.flatMap((report) => report.findings);
  const meant = reports.flatMap(({ file, silenced }) => silenced.map((entry) => ({ file, entry })));
  const known = meant.filter(({ entry }) => entry.why.kind === 'baseline').length;
  const list = meant
    .filter(({ entry }) => entry.why.kind !== 'baseline')
    .map(({ file, entry }) => meantLine(file, entry));
  return [
    ...(list.length > 0 ? [`${list.length} taken as meant:`, ...list] : []),
    ...(known > 0 ? [`${known} known from the baseline.`] : []),
    ...unusedLines(unused),
    ...passedOver.map(passedOverLine),
    `${filesText(reports.length)}: ${countText(findings)}.`,
    '',
  ].join('\n');
}

function meantLine(file: string, entry: ReportedSilenced): string {
  return `  ${oneLine(file)}:${entry.line} ${oneLine(entry.rule)} (${oneLine(whyText(entry))})`;
}

function passedOverLine(file: string): string {
  const ending = file.slice(file.lastIndexOf('/') + 1);
  return `${oneLine(file)} is not checked: call it NAME.${oneLine(ending)}.`;
}

function unusedLines(unused: readonly Entry[]): string[] {
  if (unused.length === 0) return [];
  const lines = unused.map(
    ({ file, rule, count }) => `  ${oneLine(file)} ${oneLine(rule)}${count > 1 ? `, ${count} times` : ''}`,
  );
  return ['In the baseline, but no longer found; write it again with --write-baseline:', ...lines];
}
