/** What must hold of the answer to any text whatever. */
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Range } from '../../server/core/document/node.ts';
import type { Finding } from '../../server/core/finding.ts';
import { rules } from '../../server/rules/index.ts';
import { checkerFor, kits } from '../helpers/workspace.ts';
import type { Text } from './corpus.ts';

/** No check may take longer. */
const mostMs = 1000;

const byId = new Map(rules.map((rule) => [rule.id, rule]));

/** Two checkers for each set of other files: the second has seen other texts in another order. */
export class Pair {
  readonly #pairs = new Map<Text['files'], readonly [Checker, Checker]>();

  for(files: Text['files']): readonly [Checker, Checker] {
    let pair = this.#pairs.get(files);
    if (!pair) this.#pairs.set(files, (pair = [checkerFor(files), checkerFor(files)]));
    return pair;
  }
}

const pairs = new Pair();

/** Checks a text twice and throws where anything is not as it must be. */
export function expectSound({ kind, text, files }: Text): CheckResult {
  const [one, other] = pairs.for(files);
  const result = timed(() => one.checkAs(kind, text));
  const again = other.checkAs(kind, text).findings;
  if (saidBy(result.findings) !== saidBy(again)) fail(`not the same twice:\n${saidBy(again)}`);
  if (result.doc.broken) expectOnlySyntax(result.findings);
  for (const finding of result.findings) expectFinding(finding, text, files);
  for (const { finding } of result.silenced) expectFinding(finding, text, files);
  return result;
}

/** All of the findings but their fixes, which take work to find. */
function saidBy(findings: readonly Finding[]): string {
  return JSON.stringify(
    findings.map(({ rule, severity, message, start, end, related, shots }) => [
      rule,
      severity,
      message,
      start,
      end,
      related,
      shots,
    ]),
  );
}

/** A busy machine may be slow once; what is slow twice is slow. */
function timed(check: () => CheckResult): CheckResult {
  for (let tried = 0; ; tried++) {
    const start = performance.now();
    const result = check();
    const took = performance.now() - start;
    if (took <= mostMs) return result;
    if (tried === 2) fail(`took ${Math.round(took)} ms`);
  }
}

function expectOnlySyntax(findings: readonly Finding[]): void {
  const others = findings.filter(({ rule }) => byId.has(rule) || rule === 'unknown-key' || rule === 'missing-key');
  if (others.length > 0) fail(`said of a file that can't be read: ${others.map(({ rule }) => rule).join()}`);
}

export function expectFinding(finding: Finding, text: string, files: Text['files'] = {}): void {
  expectInside(finding, text, finding);
  expectPlain(finding.message, finding);
  for (const related of finding.related) {
    const there = related.file === undefined ? text : (files[related.file] ?? kits[related.file]);
    if (there === undefined) fail(`related to a file that is not there: ${related.file}`, finding);
    expectInside(related, there, finding);
    expectPlain(related.message, finding);
  }
  for (const fix of finding.fixes) {
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
  const found = /\b(?:NaN|undefined|Infinity)\b|\[object|\d[eE][+-]?\d{2,}/.exec(said);
  if (found && !finding.message.includes('`')) fail(`\`${found[0]}\` in \`${said}\``, finding);
  if (found && /NaN|undefined|Infinity|\[object/.test(found[0])) fail(`\`${found[0]}\` in \`${said}\``, finding);
}

function fail(what: string, finding?: Finding): never {
  throw new Error(finding ? `${finding.rule}: ${what}\n${finding.message}` : what);
}
