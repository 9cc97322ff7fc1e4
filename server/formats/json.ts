/** One JSON object for scripts. */
import { type FileReport, place } from './report.ts';

export function toJson(reports: readonly FileReport[]): string {
  const findings = reports.flatMap(({ file, result }) =>
    result.findings.map((finding) => ({
      file,
      rule: finding.rule,
      severity: finding.severity,
      message: finding.message,
      ...place(finding, result.doc.lines),
      related: finding.related.map((one) =>
        one.file === undefined
          ? { file, message: one.message, ...place(one, result.doc.lines) }
          : { file: one.file, message: one.message },
      ),
      fixes: finding.fixes.map(({ title, safe, edits }) => ({
        title,
        safe,
        edits: edits.map((edit) => ({ ...place(edit, result.doc.lines), text: edit.text })),
      })),
    })),
  );
  const accepted = reports.flatMap(({ file, result }) =>
    result.silenced.map(({ finding, by }) => ({
      file,
      rule: finding.rule,
      message: finding.message,
      ...place(finding, result.doc.lines),
      by: by.kind === 'accepted' ? `accepted: ${by.reason}` : `on purpose: ${by.word}`,
    })),
  );
  return `${JSON.stringify({ findings, accepted }, null, 2)}\n`;
}
