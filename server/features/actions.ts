/** What can be done about findings: their fixes, those that are safe all at once, and accepting one in place. */
import { acceptHere } from '../core/accept.ts';
import type { CheckResult } from '../core/checker.ts';
import { applyEdits, writtenBy } from '../core/document/edits.ts';
import { child, pairOf, type Range } from '../core/document/node.ts';
import type { Edit, Finding, Fix } from '../core/finding.ts';
import { listFirst, quoted } from '../core/say.ts';
import { schemaRules } from '../core/schema/check.ts';
import { atLeast } from '../core/settings.ts';
import { firstNew, firstWorse } from './news.ts';

export interface Action {
  readonly title: string;
  readonly kind: 'fix' | 'fix-all' | 'accept';
  readonly edits: readonly Edit[];
  readonly finding?: Finding;
  /** The first fix of its finding that holds. */
  readonly preferred: boolean;
}

/** Checks the text as it would be after a fix. */
export type Recheck = (text: string) => CheckResult;

/** The actions for the findings that touch a range, and the safe fixes of the whole file; each once. */
export function actionsAt(result: CheckResult, range: Range, recheck: Recheck): Action[] {
  const here = result.findings.filter((finding) => finding.start <= range.end && finding.end >= range.start);
  const fixes = here.flatMap((finding) => fixActions(finding, result, recheck));
  const accepts = here.flatMap((finding) => acceptAction(finding, result, recheck) ?? []);
  const all = fixAll(result);
  return once([...fixes, ...(all ? [all] : []), ...accepts]);
}

/** Findings of several shots at a value that they take over may ask for one and the same. */
function once(actions: readonly Action[]): Action[] {
  const said = new Set<string>();
  return actions.filter(({ title, edits }) => {
    const key = JSON.stringify([title, edits]);
    return said.has(key) ? false : said.add(key);
  });
}

function fixActions(finding: Finding, result: CheckResult, recheck: Recheck): Action[] {
  const holding = finding.fixes.filter((fix) => holds(fix, finding, result, recheck));
  const where = ofWhichShots(finding, result);
  return holding.map((fix, index) => ({
    title: fix.title + where,
    kind: 'fix',
    edits: fix.edits,
    finding,
    preferred: index === 0,
  }));
}

/** Said of a value that more shots take over than the finding is about; empty elsewhere. */
function ofWhichShots({ shots = [], start, end }: Finding, { film, doc }: CheckResult): string {
  if (!film || shots.length === 0 || shots.length >= film.shots.size) return '';
  const blocks = shots.flatMap((name) => pairOf(child(doc.root, 'shots'), name) ?? []);
  if (blocks.some(({ key, value }) => key.start <= start && end <= value.end)) return '';
  return `, in ${listFirst(shots.map(quoted), mostNamed)}`;
}

/** So many shots are named in a title. */
const mostNamed = 3;

/**
 * Does a fix do what it says? After it the finding must be gone, the file must still be read, and nothing as serious
 * may have come in its place. What is not written as the format wants it hides other findings: they come back when that
 * is mended, and nobody has started them.
 */
export function holds(fix: Fix, finding: Finding, result: CheckResult, recheck: Recheck): boolean {
  const text = applyEdits(result.doc.text, fix.edits);
  if (text === undefined) return false;
  const after = recheck(text);
  if (after.doc.broken && !result.doc.broken) return false;
  const gone =
    after.findings.filter((one) => same(one, finding)).length <
    result.findings.filter((one) => same(one, finding)).length;
  if (!gone || result.doc.broken) return gone;
  return isAboutForm(finding)
    ? isWellFormed(fix, result.findings, after.findings)
    : !startsAnother(finding, result.findings, after.findings);
}

/** Is it about how something is written, or which thing is meant, so that it is not known what the spec says there? */
function isAboutForm({ rule }: Finding): boolean {
  return ofSchema.has(rule) || otherForm.has(rule);
}

const ofSchema: ReadonlySet<string> = new Set(schemaRules);
const otherForm: ReadonlySet<string> = new Set([
  'syntax',
  'name-twice',
  'text-cut-by-hash',
  'comma-in-braces',
  'odd-character',
  'kit-not-found',
  'kit-outside',
  'name-not-defined',
  'gear-to-choose',
]);

/** Is all that a fix writes as the format wants it? */
function isWellFormed({ edits }: Fix, before: readonly Finding[], after: readonly Finding[]): boolean {
  const written = writtenBy(edits);
  const count = (all: readonly Finding[], finding: Finding) => all.filter((one) => same(one, finding)).length;
  return !after.some(
    (one) =>
      ofSchema.has(one.rule) &&
      written.some((range) => range.start < one.end && range.end > one.start) &&
      count(after, one) > count(before, one),
  );
}

function same(a: Finding, b: Finding): boolean {
  return a.rule === b.rule && a.message === b.message;
}

/**
 * Does the fix make more of something as serious, on this shot or another, or something worse that was there? The
 * finding's own rule may say less of the same.
 */
function startsAnother(finding: Finding, before: readonly Finding[], after: readonly Finding[]): boolean {
  const counted = (one: Finding) => atLeast(one.severity, finding.severity);
  return (firstNew(before, after, counted) ?? firstWorse(before, after, counted)) !== undefined;
}

/** Undefined where no comment accepts the finding, or only one that changes what is written there: it is tried as fixes are. */
export function acceptAction(finding: Finding, result: CheckResult, recheck: Recheck): Action | undefined {
  if (notAcceptable.has(finding.rule)) return undefined;
  const accepted = ({ silenced }: CheckResult) =>
    silenced.filter((one) => one.by.kind === 'accepted' && same(one.finding, finding)).length;
  const edit = acceptHere(result.doc, finding, 'say why here').find((one) => {
    const after = recheck(applyEdits(result.doc.text, [one])!);
    return accepted(after) > accepted(result) && !startsAnother(finding, result.findings, after.findings);
  });
  const title = `Accept \`${finding.rule}\` on this line, with a reason`;
  return edit && { title, kind: 'accept', edits: [edit], finding, preferred: false };
}

/** All safe fixes that don't overlap, as one action; undefined when there are none. */
export function fixAll(result: CheckResult): Action | undefined {
  const edits = safeEdits(result.findings);
  if (edits.length === 0) return undefined;
  return { title: 'Make all safe fixes in this file', kind: 'fix-all', edits, preferred: false };
}

function safeEdits(findings: readonly Finding[]): Edit[] {
  const taken: Edit[] = [];
  for (const finding of findings) {
    const fix = finding.fixes.find((one) => one.safe);
    if (!fix || fix.edits.some((edit) => taken.some((one) => overlap(one, edit)))) continue;
    taken.push(...fix.edits);
  }
  return taken.sort((a, b) => a.start - b.start);
}

function overlap(a: Range, b: Range): boolean {
  return a.start < b.end && b.start < a.end ? true : a.start === b.start;
}

/** What the file's own syntax is made of can't be accepted away. */
const notAcceptable: ReadonlySet<string> = new Set([
  'syntax',
  'conflict-marks',
  'empty-file',
  'several-documents',
  'not-text',
  'file-too-big',
  'nested-too-deep',
  'unknown-alias',
  'alias-circle',
  'alias-bomb',
  'yaml-version',
  'complex-key',
  'more-findings',
  'accept-unknown',
  'accept-without-reason',
  'accept-unused',
]);
