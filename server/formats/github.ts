/**
 * GitHub: annotations on the lines of a pull request, and what is more than GitHub shows as Markdown for the summary of
 * the step. The form and its escapes are those of GitHub's page "Workflow commands" and of its own toolkit; a step
 * shows ten errors, ten warnings and ten notices, and drops the rest.
 */
import type { Severity } from '../core/finding.ts';
import { severities } from '../core/finding.ts';
import { harmless, markdown } from './escape.ts';
import { countText, type FileReport, filesText, type Reported } from './report.ts';

const kinds: Readonly<Record<Severity, 'error' | 'warning' | 'notice'>> = {
  error: 'error',
  warning: 'warning',
  info: 'notice',
  hint: 'notice',
};
/** How many of each kind a step shows. */
const shownOfEach = 10;

export interface GithubOutput {
  /** For standard output. */
  readonly annotations: string;
  /** For the file that `GITHUB_STEP_SUMMARY` names: the findings that are not among the annotations. */
  readonly summary: string;
}

/** @param hasSummary false where there is nowhere to put a summary: everything is then an annotation. */
export function toGithub(reports: readonly FileReport[], hasSummary: boolean): GithubOutput {
  const all = reports.flatMap(({ file, findings }) => findings.map((finding) => ({ file, finding })));
  const ordered = severities.flatMap((severity) => all.filter(({ finding }) => finding.severity === severity));
  const left: Record<string, number> = { error: shownOfEach, warning: shownOfEach, notice: shownOfEach };
  const shown = new Set(ordered.filter(({ finding }) => !hasSummary || left[kinds[finding.severity]]!-- > 0));
  const rest = ordered.filter((one) => !shown.has(one));
  const count = `${filesText(reports.length)}: ${countText(all.map(({ finding }) => finding))}.\n`;
  return {
    annotations: [...shown].map(({ file, finding }) => annotation(file, finding)).join('') + count,
    summary: rest.length === 0 ? '' : summary(rest, count),
  };
}

function annotation(file: string, finding: Reported): string {
  const { line, column, endLine, endColumn, severity, rule, message } = finding;
  // Columns count only where both ends are on one line.
  const columns = endLine === line ? `,col=${column},endColumn=${Math.max(endColumn, column)}` : '';
  const where = `file=${property(file)},line=${line},endLine=${endLine}${columns}`;
  return `::${kinds[severity]} ${where},title=${property(rule)}::${data(message)}\n`;
}

/** What stands after the second `::`. */
function data(text: string): string {
  return escapeLine(text);
}

/** A value between the first and the second `::`. */
function property(text: string): string {
  return escapeLine(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}

/** `%`, carriage returns and line feeds as GitHub reads them back; all else that acts is shown, not done. */
function escapeLine(text: string): string {
  return text
    .split(/(\r|\n)/)
    .map((part) => (part === '\r' ? '%0D' : part === '\n' ? '%0A' : harmless(part).replaceAll('%', '%25')))
    .join('')
    .replace(/##(?=(?:vso|teamcity)?\[)/g, '#\\u{23}');
}

function summary(rest: readonly { readonly file: string; readonly finding: Reported }[], count: string): string {
  const rows = rest.map(
    ({ file, finding }) =>
      `| ${markdown(file)}:${finding.line} | ${finding.severity} | ${markdown(finding.message)} | ${markdown(finding.rule)} |`,
  );
  const head = ['| place | severity | finding | rule |', '|---|---|---|---|'];
  return ['### Findings that are not shown as annotations', '', ...head, ...rows, '', count, ''].join('\n');
}
