/** What must hold of the answer to any text whatever. */
import type { Checker, CheckResult } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Range } from '../../server/core/document/node.ts';
import type { Finding } from '../../server/core/finding.ts';
import { rules } from '../../server/rules/index.ts';
import { quick } from '../helpers/quick.ts';
import { footageOf } from '../helpers/footage.ts';
import { checkerFor, kits, sheetPath } from '../helpers/workspace.ts';
import type { Text } from './corpus.ts';

/** How much is tried, as a multiple of what every run tries. */
export const times = Math.max(1, Math.round(Number(process.env['FUZZ_RUNS'] ?? 1)) || 1);
/** Fixed, so that a run says the same twice; `FUZZ_SEED=5` tries others. */
export const seed = Number(process.env['FUZZ_SEED'] ?? 20_261_125) | 0;

/** No check may take longer on a usual machine. */
const mostMs = 1000;

const byId = new Map(rules.map((rule) => [rule.id, rule]));

/** A checker for each set of other files, which has read many texts already. */
const seasoned = new Map<Text['files'], Checker>();
const none: Text['files'] = {};

export function checkerOf(given: Text['files']): Checker {
  const files = Object.keys(given).length === 0 ? none : given;
  let known = seasoned.get(files);
  if (!known) seasoned.set(files, (known = newChecker(files)));
  return known;
}

function newChecker(files: Text['files']): Checker {
  return checkerFor(files, { footage: () => footage });
}

/** Clips of the sample's sheet and of the pages: some as planned, some not. */
const footage = footageOf(
  Object.fromEntries(
    ['', 'music-box/day-1/'].flatMap((folder) => [
      [`${folder}C0012.MP4`, {}],
      [`${folder}C0013.MP4`, { video: { rate: 29.97003, bits: 8 } }],
      [`${folder}C0015.MP4`, { durationS: 4 }],
      [`${folder}C0016.MP4`, 'growing'],
    ]),
  ),
);

/** A take sheet is checked where it lies, so that its spec is found beside it. */
export function checkText({ name, kind, text, files }: Text, checker: Checker): CheckResult {
  const path = name in files ? name : sheetPath;
  return kind === 'takes' ? checker.check(path, text)! : checker.checkAs(kind, text);
}

/**
 * Checks a text and throws where anything is wrong. One in six is checked again by a checker that has read nothing, and
 * of one in three all fixes are looked at too: both take longer than the check itself.
 * @param thorough looks at the fixes of all
 */
export function expectSound(one: Text, thorough = false): CheckResult {
  const { text, files } = one;
  const checker = checkerOf(files);
  const fresh = () => checkText(one, newChecker(files));
  const result = quick(mostMs, () => checkText(one, checker), fresh);
  if (text.length % 6 === 0) {
    const again = saidBy(fresh().findings);
    if (saidBy(result.findings) !== again) fail(`not the same twice:\n${again}`);
  }
  if (result.doc.broken) expectOnlySyntax(result.findings);
  const withFixes = thorough || text.length % 3 === 1;
  for (const finding of result.findings) expectFinding(finding, text, files, withFixes);
  for (const { finding } of result.silenced) expectFinding(finding, text, files, withFixes);
  return result;
}

/** All that is shown of a finding but its fixes, which take work to find. */
export function shown({ rule, severity, message, start, end, related, shots }: Finding) {
  return { rule, severity, message, start, end, related, shots };
}

function saidBy(findings: readonly Finding[]): string {
  return JSON.stringify(findings.map(shown));
}

function expectOnlySyntax(findings: readonly Finding[]): void {
  const others = findings.filter(({ rule }) => byId.has(rule) || rule === 'unknown-key' || rule === 'missing-key');
  if (others.length > 0) fail(`said of a file that can't be read: ${others.map(({ rule }) => rule).join()}`);
}

/** @param withFixes false leaves the fixes alone: finding them takes longer than all else */
export function expectFinding(finding: Finding, text: string, files: Text['files'] = {}, withFixes = true): void {
  if (finding.rule === 'check-failed') fail('a rule failed', finding);
  expectInside(finding, text, finding);
  expectPlain(finding.message, finding);
  for (const related of finding.related) {
    const there = related.file === undefined ? text : (files[related.file] ?? kits[related.file]);
    if (there === undefined) fail(`related to a file that is not there: ${related.file}`, finding);
    expectInside(related, there, finding);
    expectPlain(related.message, finding);
  }
  for (const fix of withFixes ? finding.fixes : []) {
    for (const edit of fix.edits) expectInside(edit, text, finding);
    if (applyEdits(text, fix.edits) === undefined) fail(`edits that overlap: ${JSON.stringify(fix)}`, finding);
    expectPlain(fix.title, finding);
    for (const edit of fix.edits) expectNumbers(edit.text, finding);
  }
}

function expectInside({ start, end }: Range, text: string, finding: Finding): void {
  const whole = Number.isInteger(start) && Number.isInteger(end);
  if (!whole || start < 0 || end < start || end > text.length) fail(`${start}–${end} is outside the text`, finding);
}

/** No text that a program makes when it has nothing to say; `{name}` where it is one of the message's own. */
function expectPlain(said: string, finding: Finding): void {
  if (said.trim() === '') fail('says nothing', finding);
  expectNumbers(said, finding);
  const templates = Object.values<string>(byId.get(finding.rule)?.messages ?? {}).join(' ');
  const own = new Set(templates.match(/\{[A-Za-z0-9]+\}/g));
  const left = (said.match(/\{[A-Za-z0-9]+\}/g) ?? []).filter((one) => own.has(one));
  if (left.length > 0) fail(`not filled in: ${left.join()}`, finding);
}

/** None of the spoilt texts holds these words, so they can only be ours. */
function expectNumbers(said: string, finding: Finding): void {
  const found = /\b(?:NaN|undefined|Infinity)\b|\[object/.exec(said);
  if (found) fail(`\`${found[0]}\` in \`${said}\``, finding);
}

function fail(what: string, finding?: Finding): never {
  throw new Error(finding ? `${finding.rule}: ${what}\n${finding.message}` : what);
}

/** A message without where a kit was looked for: a repo on the disk has a folder with a name, one in memory has none. */
export function withoutFolder(message: string): string {
  return message.replace(
    /its path starts at the folder `[^`]*`, .*?(?:is|folder)\.|paths start at the top folder of the repo\./,
    '…',
  );
}
