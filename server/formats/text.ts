/** For people at a terminal: the place, the finding, the line with the characters marked, and the fixes. */
import type { Finding, Severity } from '../core/finding.ts';
import type { LineMap } from '../core/document/lines.ts';
import { countText, type FileReport, harmless, place } from './report.ts';

export interface Paint {
  severity(severity: Severity, text: string): string;
  dim(text: string): string;
  strong(text: string): string;
}

/** No colours. */
export const plain: Paint = { severity: (_, text) => text, dim: (text) => text, strong: (text) => text };

export function toText(reports: readonly FileReport[], paint: Paint = plain): string {
  const files = reports.filter(({ result }) => result.findings.length > 0);
  const blocks = files.flatMap(({ file, result }) =>
    result.findings.map((finding) => one(file, finding, result.doc.text, result.doc.lines, paint)),
  );
  return [...blocks, summary(reports)].join('\n');
}

function one(file: string, finding: Finding, text: string, lines: LineMap, paint: Paint): string {
  const at = place(finding, lines);
  const head = `${paint.strong(`${harmless(file)}:${at.line}:${at.column}`)} ${paint.severity(finding.severity, finding.severity)} ${harmless(finding.message)} ${paint.dim(`[${finding.rule}]`)}`;
  const line = text.slice(lines.start(at.line - 1), lines.end(at.line - 1));
  const width = at.endLine === at.line ? at.endColumn - at.column : line.length - at.column + 1;
  const [before, marked] = [line.slice(0, at.column - 1), line.slice(at.column - 1, at.column - 1 + width)];
  const indent = ' '.repeat(`${at.line}`.length);
  const carets = '^'.repeat(Math.max(1, cells(marked)));
  const source = [
    `  ${paint.dim(`${at.line} |`)} ${shown(line)}`,
    `  ${paint.dim(`${indent} |`)} ${' '.repeat(cells(before))}${paint.severity(finding.severity, carets)}`,
  ];
  const fixes = finding.fixes.map((fix) => `  ${paint.dim('fix:')} ${harmless(fix.title)}`);
  return [head, ...source, ...fixes, ''].join('\n');
}

/** A line as it is printed: tabs as one blank, so that carets stand under what they mark. */
function shown(line: string): string {
  return harmless(line.replaceAll('\t', ' '));
}

function cells(text: string): number {
  return [...shown(text)].length;
}

function summary(reports: readonly FileReport[]): string {
  const findings = reports.flatMap(({ result }) => result.findings);
  const silenced = reports.flatMap(({ file, result }) => result.silenced.map((entry) => ({ file, result, ...entry })));
  const list = silenced.map(({ file, result, finding, by }) => {
    const why = by.kind === 'accepted' ? `accepted: ${by.reason}` : `on purpose: ${by.word}`;
    return `  ${harmless(file)}:${place(finding, result.doc.lines).line} ${finding.rule} (${harmless(why)})`;
  });
  const accepted = list.length > 0 ? [`${list.length} taken as meant:`, ...list] : [];
  const files = `${reports.length} ${reports.length === 1 ? 'file' : 'files'}`;
  return [...accepted, `${files}: ${countText(findings)}.`, ''].join('\n');
}
