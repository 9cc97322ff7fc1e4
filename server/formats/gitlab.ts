/** GitLab's code quality report: the fields that its page "Code Quality" asks for. */
import type { Severity } from '../core/finding.ts';
import { json, oneLine } from './escape.ts';
import type { FileReport } from './report.ts';

const severityOf: Readonly<Record<Severity, string>> = {
  error: 'critical',
  warning: 'major',
  info: 'minor',
  hint: 'info',
};

export function toGitlab(reports: readonly FileReport[]): string {
  return json(
    reports.flatMap(({ file, findings }) =>
      findings.map(({ rule, severity, message, fingerprint, line, endLine }) => ({
        description: oneLine(message),
        check_name: rule,
        fingerprint,
        severity: severityOf[severity],
        location: { path: file, lines: { begin: line, end: endLine } },
      })),
    ),
  );
}
