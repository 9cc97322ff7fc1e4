/** One JSON object for scripts. */
import type { Entry } from './baseline.ts';
import { json } from './escape.ts';
import { type FileReport, type ReportPlace, whyText } from './report.ts';

export function toJson(reports: readonly FileReport[], unused: readonly Entry[] = []): string {
  const findings = reports.flatMap(({ file, findings: all }) =>
    all.map(({ rule, severity, message, fingerprint, related, fixes, ...rest }) => ({
      file,
      rule,
      severity,
      message,
      ...placeOf(rest),
      fingerprint,
      related: related.map((one) => ({ file: one.file, message: one.message, ...one.place })),
      fixes,
    })),
  );
  const accepted = reports.flatMap(({ file, silenced }) =>
    silenced.map((one) => ({
      file,
      rule: one.rule,
      message: one.message,
      ...placeOf(one),
      by: whyText(one),
    })),
  );
  return json({ findings, accepted, ...(unused.length > 0 && { unusedBaseline: unused }) });
}

function placeOf({ line, column, endLine, endColumn }: ReportPlace): ReportPlace {
  return { line, column, endLine, endColumn };
}
