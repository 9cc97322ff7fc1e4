/** What every output is made from: files with their findings, and places counted as people count. */
import type { CheckResult } from '../core/checker.ts';
import type { Finding } from '../core/finding.ts';
import type { LineMap } from '../core/document/lines.ts';
import type { Range } from '../core/document/node.ts';

export interface FileReport {
  /** As the user named it, with forward slashes. */
  readonly file: string;
  readonly result: CheckResult;
}

/** Lines and columns from 1; columns count UTF-16 units, as editors do. */
export interface Place {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export function place(range: Range, lines: LineMap): Place {
  const [start, end] = [lines.position(range.start), lines.position(range.end)];
  return { line: start.line + 1, column: start.character + 1, endLine: end.line + 1, endColumn: end.character + 1 };
}

/** Control characters, marks that turn text round and lone surrogates as `\u{…}`, so that no output acts on them. */
export function harmless(text: string): string {
  return text.replace(
    // eslint-disable-next-line no-control-regex -- control characters are what this looks for
    /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g,
    (character) => `\\u{${character.charCodeAt(0).toString(16)}}`,
  );
}

/** "2 errors, 1 warning", or "no findings". */
export function countText(findings: readonly Finding[]): string {
  const counts = (['error', 'warning', 'info', 'hint'] as const).flatMap((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? [] : [`${count} ${count === 1 || severity === 'info' ? severity : `${severity}s`}`];
  });
  return counts.join(', ') || 'no findings';
}
