/** What every output is made from: files with their findings as plain data, places counted as people count. */
import type { CheckResult } from '../core/checker.ts';
import type { Silenced } from '../core/check.ts';
import type { LineMap } from '../core/document/lines.ts';
import type { Range } from '../core/document/node.ts';
import { distinct, type Finding, type Fix, type Severity } from '../core/finding.ts';
import { fingerprint } from './fingerprint.ts';

/** Lines and columns from 1; columns count UTF-16 units, as editors do. */
export interface ReportPlace {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export interface ReportedFix {
  readonly title: string;
  readonly safe: boolean;
  readonly edits: readonly (ReportPlace & { readonly text: string })[];
}

export interface ReportedRelated {
  readonly file: string;
  readonly message: string;
  /** Absent for places in other files. */
  readonly place?: ReportPlace;
}

/** What is shown of a line, from a column on. */
export interface Source {
  readonly text: string;
  readonly column: number;
}

export interface Reported extends ReportPlace {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  /** The same for the same finding of the same file, wherever its line is; no two in a file are alike. */
  readonly fingerprint: string;
  /** The line that it starts on; of a long one, what is around its start. */
  readonly source: Source;
  readonly related: readonly ReportedRelated[];
  readonly fixes: readonly ReportedFix[];
}

export interface ReportedSilenced extends Reported {
  readonly why: { readonly kind: 'accepted' | 'on-purpose' | 'baseline'; readonly text: string };
}

/** One file with what was found in it. It can be sent from one thread to another. */
export interface FileReport {
  /** From the current folder, or the top of the repo for what is read there; with forward slashes. */
  readonly file: string;
  /** The mildest severity that makes the check of this file fail. */
  readonly failAt: Severity;
  readonly findings: readonly Reported[];
  /** What is meant, accepted, or known from before, and why. */
  readonly silenced: readonly ReportedSilenced[];
  /** Other files that all of it depends on. */
  readonly dependsOn: readonly string[];
}

export interface ReportOptions {
  readonly file: string;
  readonly failAt: Severity;
  /** How a file of the repo, by its path from the root, is called here. */
  fileOf(path: string): string;
  /** The fixes of a finding that are worth naming. */
  fixesOf(finding: Finding): readonly Fix[];
}

export function reportOf(result: CheckResult, options: ReportOptions): FileReport {
  const count = new Map<string, number>();
  const { doc } = result;
  const report = (finding: Finding, fixes: readonly Fix[]): Reported => {
    const at = place(finding, doc.lines);
    return {
      ...at,
      rule: finding.rule,
      severity: finding.severity,
      message: finding.message,
      fingerprint: nth(fingerprint(options.file, finding.rule, finding.message), count),
      source: sourceOf(doc, at),
      // Places in other files are not told, so that several of them may be one and the same here.
      related: distinct(
        finding.related.map(({ file, message, ...range }) =>
          file === undefined
            ? { file: options.file, message, place: place(range, doc.lines) }
            : { file: options.fileOf(file), message },
        ),
      ),
      fixes: fixes.map(({ title, safe, edits }) => ({
        title,
        safe,
        edits: edits.map((edit) => ({ ...place(edit, doc.lines), text: edit.text })),
      })),
    };
  };
  return {
    file: options.file,
    failAt: options.failAt,
    findings: result.findings.map((finding) => report(finding, options.fixesOf(finding))),
    silenced: result.silenced.map(({ finding, by }) => ({ ...report(finding, []), why: why(by) })),
    dependsOn: result.dependsOn.map((path) => options.fileOf(path)),
  };
}

/** So many characters of a line are shown before a finding, and from its start on. */
const [mostBefore, mostFrom] = [100, 200];

function sourceOf({ text, lines }: CheckResult['doc'], { line, column }: ReportPlace): Source {
  const [start, end] = [lines.start(line - 1), lines.end(line - 1)];
  const at = start + column - 1;
  const [first, last] = [Math.max(start, at - mostBefore), Math.min(end, at + mostFrom)];
  const marked = (isCut: boolean) => (isCut ? '…' : '');
  return {
    text: marked(first > start) + text.slice(first, last) + marked(last < end),
    column: first - start + 1 - marked(first > start).length,
  };
}

function why(by: Silenced['by']): ReportedSilenced['why'] {
  return by.kind === 'accepted' ? { kind: 'accepted', text: by.reason } : { kind: 'on-purpose', text: by.word };
}

/** The same words twice in one file: the second has a fingerprint of its own. */
function nth(print: string, count: Map<string, number>): string {
  const before = count.get(print) ?? 0;
  count.set(print, before + 1);
  return before === 0 ? print : `${print}-${before + 1}`;
}

export function place(range: Range, lines: LineMap): ReportPlace {
  const [start, end] = [lines.position(range.start), lines.position(range.end)];
  return { line: start.line + 1, column: start.character + 1, endLine: end.line + 1, endColumn: end.character + 1 };
}

/** "accepted: as the client asked", "on purpose: low-key", "known from the baseline". */
export function whyText({ why: { kind, text } }: ReportedSilenced): string {
  if (kind === 'baseline') return 'known from the baseline';
  return `${kind === 'accepted' ? 'accepted' : 'on purpose'}: ${text}`;
}

/** "2 errors, 1 warning", or "no findings". */
export function countText(findings: readonly { readonly severity: Severity }[]): string {
  const counts = (['error', 'warning', 'info', 'hint'] as const).flatMap((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? [] : [`${count} ${count === 1 || severity === 'info' ? severity : `${severity}s`}`];
  });
  return counts.join(', ') || 'no findings';
}

/** "1 file", "3 files". */
export function filesText(count: number): string {
  return `${count} ${count === 1 ? 'file' : 'files'}`;
}
