/** SARIF 2.1.0 (OASIS Standard, 27 March 2020): for code scanning. */
import type { Family } from '../core/rule.ts';
import type { Level } from '../core/finding.ts';
import { harmless, json } from './escape.ts';
import type { FileReport, ReportPlace, Reported, ReportedFix, ReportedSilenced } from './report.ts';
import { whyText } from './report.ts';

/** What is known of a rule that has a page; checks of the format itself have none. */
export interface RuleInfo {
  readonly family: Family;
  readonly severity: Level;
  readonly summary: string;
  /** The page, in Markdown. */
  readonly page: string;
}

const levelOf: Readonly<Record<Level, string>> = {
  error: 'error',
  warning: 'warning',
  info: 'note',
  hint: 'note',
  sheet: 'none',
};

export function toSarif(
  reports: readonly FileReport[],
  version: string,
  infoOf: (rule: string) => RuleInfo | undefined,
): string {
  const all = reports.flatMap(({ file, findings, silenced }) =>
    [...findings, ...silenced].map((finding) => ({ file, finding })),
  );
  const rules = [...new Set(all.map(({ finding }) => finding.rule))].sort();
  const driver = {
    name: 'shootspec',
    semanticVersion: version,
    rules: rules.map((id) => descriptor(id, infoOf(id))),
  };
  const run = {
    tool: { driver },
    columnKind: 'utf16CodeUnits',
    results: all.map(({ file, finding }) => result(file, finding, rules.indexOf(finding.rule))),
  };
  return json({ $schema: 'https://json.schemastore.org/sarif-2.1.0.json', version: '2.1.0', runs: [run] });
}

function descriptor(id: string, info: RuleInfo | undefined) {
  if (!info) {
    const text = 'A check of how the file is written.';
    return {
      id,
      shortDescription: { text },
      help: { text: `${text} docs/format.md and docs/fields.md say what may be written where.` },
    };
  }
  return {
    id,
    shortDescription: { text: info.summary },
    help: { text: info.page, markdown: info.page },
    defaultConfiguration: { level: levelOf[info.severity] },
    properties: { tags: [info.family] },
  };
}

function result(file: string, finding: Reported | ReportedSilenced, ruleIndex: number) {
  const { rule, severity, message, fingerprint, related, fixes } = finding;
  const others = related.map((one) => ({
    ...location(one.file, one.place),
    message: { text: literal(one.message) },
  }));
  return {
    ruleId: rule,
    ruleIndex,
    level: levelOf[severity],
    message: { text: literal(message) },
    locations: [location(file, finding)],
    ...(others.length > 0 && { relatedLocations: others }),
    partialFingerprints: { 'shootspec/v1': fingerprint },
    ...(fixes.length > 0 && { fixes: fixes.map((fix) => sarifFix(file, fix)) }),
    ...('why' in finding && { suppressions: [suppression(finding)] }),
  };
}

/** Accepted in the spec itself, or known to a file outside it. */
function suppression(finding: ReportedSilenced) {
  const kind = finding.why.kind === 'baseline' ? 'external' : 'inSource';
  return { kind, status: 'accepted', justification: whyText(finding) };
}

function location(file: string, place?: ReportPlace) {
  return { physicalLocation: { artifactLocation: { uri: uri(file) }, ...(place && { region: region(place) }) } };
}

function region({ line, column, endLine, endColumn }: ReportPlace) {
  return { startLine: line, startColumn: column, endLine, endColumn };
}

function sarifFix(file: string, { title, edits }: ReportedFix) {
  const replacements = edits.map((edit) => ({ deletedRegion: region(edit), insertedContent: { text: edit.text } }));
  return {
    description: { text: literal(title) },
    artifactChanges: [{ artifactLocation: { uri: uri(file) }, replacements }],
  };
}

/** A relative address (RFC 3986): each step of the path percent-encoded. */
function uri(file: string): string {
  return harmless(file).split('/').map(encodeURIComponent).join('/');
}

/** Text of a message in which nothing is a link (`[text](target)`, §3.11.6) or a placeholder (`{0}`, §3.11.5). */
function literal(text: string): string {
  return harmless(text)
    .replace(/\[(?=[^[\]]*\]\()/g, '\\[')
    .replace(/\{(\d+)\}/g, '{{$1}}');
}
