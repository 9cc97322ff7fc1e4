/** What can be done about findings: their fixes, those that are safe all at once, and accepting one in place. */
import { acceptHere, noReason } from '../core/accept.ts';
import type { CheckResult } from '../core/checker.ts';
import type { Shot } from '../core/film.ts';
import { isSameEdit, ofShots } from '../core/fix.ts';
import { applyEdits, writtenBy } from '../core/document/edits.ts';
import type { Range } from '../core/document/node.ts';
import { type Edit, type Finding, type Fix, severities, weightOf } from '../core/finding.ts';
import { schemaRules } from '../core/schema/check.ts';
import { atLeast } from '../core/settings.ts';
import { makeSafe, safeFixes } from './safe-fixes.ts';
import { firstNew, firstWorse, isMended } from './compare-findings.ts';

export interface Action {
  readonly title: string;
  readonly kind: 'fix' | 'fix-all' | 'accept';
  readonly edits: readonly Edit[];
  readonly finding?: Finding;
  /** The first fix of its finding that holds. */
  readonly preferred: boolean;
  /** False where it is still to be tried, with `stillHolds`, when somebody chooses it. */
  readonly tried: boolean;
  /** Words in its edits that somebody is to overwrite. */
  readonly select?: string;
  /** Of a fix that was tried: how grave all is that the file still has after it. */
  readonly leaves?: number;
}

/** Checks the text as it would be after a fix. */
export type Recheck = (text: string) => CheckResult;

/** So many texts are checked before a menu is shown: each takes as long as a check of the file. */
const mostTried = 5;

export interface ActionOptions {
  /** Lists what was not tried too, to be tried when it is chosen. */
  readonly untried: boolean;
  /** Whether to offer to accept findings. */
  readonly accepts: boolean;
}

/**
 * The actions for the findings that touch a range, each once: their fixes, those of the gravest finding first, then the
 * safe fixes of the whole file, then to accept the findings. Pauses (yields) between checks, so that it can be given up.
 */
export function* actionsAt(
  result: CheckResult,
  range: Range,
  recheck: Recheck,
  options: ActionOptions,
): Generator<void, Action[]> {
  const here = result.findings
    .filter((finding) => finding.start <= range.end && finding.end >= range.start)
    .sort((a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity));
  const actions: Action[] = [];
  let left = mostTried;
  for (const action of withoutRepeats(here.flatMap((finding) => fixActions(finding, result)))) {
    if (left > 0) {
      left--;
      yield;
      let after: CheckResult | undefined;
      const watched = (text: string) => (after = recheck(text));
      if (holdsStill(action, result, watched))
        actions.push({ ...action, tried: true, leaves: weightOf(after?.findings ?? []) });
    } else if (options.untried) {
      actions.push(action);
    }
  }
  actions.sort(graverFirst);
  const offers = withoutLess(actions);
  const all = fixAll(result, recheck);
  const accepts = options.accepts ? here.flatMap((finding) => acceptActions(finding, result)[0] ?? []) : [];
  const tried = () => accepts.slice(0, left).flatMap((one) => stillHolds(one, result, recheck) ?? []);
  const offered = options.untried ? accepts : tried();
  return withPreferred([...offers, ...(all ? [all] : []), ...withoutRepeats(offered)]);
}

/** By the severity of their finding; of fixes of one finding the one that leaves least, then as their rule has them. */
function graverFirst(a: Action, b: Action): number {
  const [one, two] = [a.finding!, b.finding!];
  const bySeverity = severities.indexOf(one.severity) - severities.indexOf(two.severity);
  return bySeverity || (one === two && a.leaves !== undefined && b.leaves !== undefined ? a.leaves - b.leaves : 0);
}

/** All that may be listed for the findings of a file, untried. */
export function listedActions(result: CheckResult): Action[] {
  return result.findings.flatMap((finding) => [...fixActions(finding, result), ...acceptActions(finding, result)]);
}

/** Tries an action that was not tried: the same, or one that does it in another way; undefined where neither holds. */
export function stillHolds(action: Action, result: CheckResult, recheck: Recheck): Action | undefined {
  const { finding, kind } = action;
  const ways = kind === 'accept' && finding ? acceptActions(finding, result) : [action];
  const held = ways.find((one) => holdsStill(one, result, recheck));
  return held && { ...held, tried: true };
}

function holdsStill(action: Action, result: CheckResult, recheck: Recheck): boolean {
  const { finding, kind, edits } = action;
  if (!finding) return true;
  return kind === 'accept' ? accepts(edits, finding, result, recheck) : holds(action, finding, result, recheck);
}

/** Findings of several shots at a value that they take over may ask for one and the same. */
function withoutRepeats(actions: readonly Action[]): Action[] {
  const said = new Set<string>();
  return actions.filter(({ title, edits }) => {
    const key = JSON.stringify([title, edits]);
    return said.has(key) ? false : said.add(key);
  });
}

/** Where a fix mends all shots alike, what it does in one of them alone is no other choice. */
function withoutLess(actions: readonly Action[]): Action[] {
  const isPart = (less: Action, more: Action) =>
    more.finding === less.finding &&
    more.title.startsWith(`${less.title}, and `) &&
    less.edits.every((edit) => more.edits.some((one) => isSameEdit(one, edit)));
  return actions.filter((less) => !actions.some((more) => more.tried && isPart(less, more)));
}

function fixActions(finding: Finding, result: CheckResult): Action[] {
  return titledFixes(finding, result).map(({ title, edits }) => ({
    title,
    kind: 'fix',
    edits,
    finding,
    preferred: false,
    tried: false,
  }));
}

/** The fixes of a finding, whose titles name its shots where it stands at a value that more of them take over. */
export function titledFixes(finding: Finding, result: CheckResult): readonly Fix[] {
  const shots = fewerShots(finding, result);
  if (shots.length === 0) return finding.fixes;
  return finding.fixes.map((fix) =>
    fix.isNamed ? fix : { ...fix, title: fix.title + ofShots(shots, fix.edits, result.doc.text) },
  );
}

function withPreferred(actions: readonly Action[]): Action[] {
  const seen = new Set<Finding>();
  return actions.map((action) => {
    const { finding, kind, tried } = action;
    if (!finding || kind !== 'fix' || !tried || seen.has(finding)) return action;
    seen.add(finding);
    return { ...action, preferred: true };
  });
}

/** The shots that a finding is about, where it stands at a value that more of them take over; none elsewhere. */
function fewerShots({ shots: names = [], start, end }: Finding, { film }: CheckResult): readonly Shot[] {
  if (!film || names.length >= film.shots.size) return [];
  const shots = names.flatMap((name) => film.shots.get(name) ?? []);
  return shots.some((shot) => shot.start <= start && end <= shot.end) ? [] : shots;
}

/**
 * Does a fix do what it says? After it the finding must be gone or smaller, the file must still be read, and nothing as
 * serious may have come in its place. What is not written as the format wants it hides other findings: they come back when that
 * is mended, and nobody has started them.
 */
export function holds(fix: Pick<Fix, 'edits'>, finding: Finding, result: CheckResult, recheck: Recheck): boolean {
  const text = applyEdits(result.doc.text, fix.edits);
  if (text === undefined) return false;
  const after = recheck(text);
  if (after.doc.broken && !result.doc.broken) return false;
  if (!isMended(finding, result.findings, after.findings)) return false;
  if (result.doc.broken) return true;
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
function isWellFormed({ edits }: Pick<Fix, 'edits'>, before: readonly Finding[], after: readonly Finding[]): boolean {
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
 * Does the fix make more of something as serious, on this shot or another, or something worse that was there? What the picture
 * then takes in (an edge, a lamp, less of the product) counts from a note on, where nobody looks for it; and from a warning on after
 * what can't be made as it is written, but for what was not said beside that. The finding's own rule may say less of the same.
 */
function startsAnother(finding: Finding, before: readonly Finding[], after: readonly Finding[]): boolean {
  const { rule, severity } = finding;
  const least = severity === 'error' ? 'warning' : 'info';
  const isSpoilt = (one: Finding) => one.isOfPicture && !one.yieldsTo?.includes(rule) && atLeast(one.severity, least);
  const counted = (one: Finding) => atLeast(one.severity, severity) || isSpoilt(one) === true;
  return (firstNew(before, after, counted) ?? firstWorse(before, after, counted)) !== undefined;
}

/** The ways to accept a finding in place, of which one may hold. */
export function acceptActions(finding: Finding, result: CheckResult): Action[] {
  if (notAcceptable.has(finding.rule) || ofSchema.has(finding.rule)) return [];
  const title = `Accept \`${finding.rule}\` on this line, with a reason`;
  return acceptHere(result.doc, finding).map((edit) => ({
    title,
    kind: 'accept',
    edits: [edit],
    finding,
    preferred: false,
    tried: false,
    select: noReason,
  }));
}

/** What stands for the reason that somebody will give. */
export const reasonTried = 'tried';

/** Is the finding accepted after the edits, once there is a reason, and nothing else changed by them? */
function accepts(edits: readonly Edit[], finding: Finding, result: CheckResult, recheck: Recheck): boolean {
  const accepted = ({ silenced }: CheckResult) =>
    silenced.filter((one) => one.by.kind === 'accepted' && same(one.finding, finding)).length;
  const reasoned = edits.map((edit) => ({ ...edit, text: edit.text.replace(noReason, reasonTried) }));
  const after = recheck(applyEdits(result.doc.text, reasoned)!);
  return accepted(after) > accepted(result) && !startsAnother(finding, result.findings, after.findings);
}

/** All safe fixes that can be made together and leave the file readable, as one action; undefined when there are none. */
export function fixAll(result: CheckResult, recheck: Recheck): Action | undefined {
  if (safeFixes(result.findings).length === 0) return undefined;
  const { edits } = makeSafe(result, recheck);
  if (edits.length === 0) return undefined;
  return { title: 'Make all safe fixes in this file', kind: 'fix-all', edits, preferred: false, tried: true };
}

/** How something is written has no reason that could be given: it can't be accepted away. */
const notAcceptable: ReadonlySet<string> = new Set([
  'syntax',
  'name-twice',
  'text-cut-by-hash',
  'comma-in-braces',
  'odd-character',
  'merge-key',
  'conflict-marks',
  'empty-file',
  'several-documents',
  'not-text',
  'spec-too-big',
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
