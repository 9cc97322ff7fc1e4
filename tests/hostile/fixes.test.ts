/** Every fix that spoilt specs are offered, and every finding accepted, on its own: it must do what it says and nothing else. */
import { describe, expect, test } from 'vitest';
import { noReason } from '../../server/core/accept.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import { applyEdits, writtenBy } from '../../server/core/document/edits.ts';
import type { Node, Range } from '../../server/core/document/node.ts';
import type { Doc } from '../../server/core/document/parse.ts';
import type { Finding, Fix } from '../../server/core/finding.ts';
import { schemaRules } from '../../server/core/schema/check.ts';
import { acceptActions, type Action, holds, reasonTried, stillHolds } from '../../server/features/actions.ts';
import { fixToEnd } from '../../server/features/fix-to-end.ts';
import { corpus, pageSpecs, samples, type Text } from './corpus.ts';
import { figures } from './figures.ts';
import { fuzz } from './fuzz.ts';
import { checkerOf, expectSound } from './sound.ts';

const ofSchema: ReadonlySet<string> = new Set(schemaRules);
/** What these take out, change or quote may be a comment: it is what they are about. */
const aboutComments: ReadonlySet<string> = new Set([
  'text-cut-by-hash',
  'odd-character',
  'accept-unused',
  'accept-unknown',
  'accept-without-reason',
]);

/** These mend the form before anyone asks what the text means, so what they make of it may still mean nothing. */
const aboutForm: ReadonlySet<string> = new Set([
  ...schemaRules,
  'text-cut-by-hash',
  'comma-in-braces',
  'odd-character',
]);

const made = { fixes: 0, holding: 0, passes: 0, accepted: 0 };

describe('one by one', () => {
  fuzz('spoilt specs', pageSpecs, 40, tryFixes, true);
  fuzz('specs spoilt without care', pageSpecs, 30, tryFixes);
  fuzz('spoilt samples', samples, 3, tryFixes, true);
  fuzz(
    'spoilt specs with values over several lines',
    pageSpecs,
    20,
    (one) => tryFixes({ ...one, text: wrapped(one.text) }),
    true,
  );
});

// A slip in a spec that is wrong on purpose leaves most of what is found of it to be accepted.
describe('acceptances one by one', () => {
  const wrong = pageSpecs.filter(({ name }) => name.includes(' Wrong '));
  fuzz('wrong specs with a slip', wrong, 70, tryAccepts, true, 1);
});

describe('safe fixes until there is none left', () => {
  fuzz('spoilt texts', corpus, 45, fixAll);
  fuzz(
    'spoilt samples without blanks before units',
    samples,
    15,
    (one) => fixAll({ ...one, text: joined(one.text) }),
    true,
  );
});

function fixAll({ kind, text, files }: Text): void {
  const checker = checkerOf(files);
  const check = (now: string) => checker.checkAs(kind, now);
  const { text: end, passes } = fixToEnd(text, check);
  made.passes += passes;
  if (passes >= 10) throw new Error(`not done after ${passes} passes`);
  // Doing it again changes nothing.
  if (fixToEnd(end, check).text !== end) throw new Error('not at its end');
}

/** As it is typed in a hurry: `50mm`. */
function joined(text: string): string {
  return text.replace(/(?<=\d) (?=[a-z%°])/gi, (gap, at: number) => (at % 3 ? gap : ''));
}

test('as many as there should be', () => {
  expect(made.fixes).toBeGreaterThanOrEqual(figures.fixes);
  expect(made.holding).toBeGreaterThan(80);
  expect(made.accepted).toBeGreaterThan(80);
  expect(made.passes).toBeGreaterThan(2);
});

/** Breaks values over lines, as an editor does that wraps them. */
function wrapped(text: string): string {
  const within = (line: string) =>
    line.replace(/(?<=[\w",]) (?=[\w"])/g, (gap, at: number) => (at % 3 ? gap : `\n${' '.repeat(12)}`));
  return text.replace(/^[^#\n]+$/gm, within);
}

type Check = (text: string) => CheckResult;

function tryFixes(one: Text): void {
  const before = expectSound(one, true);
  const check = remembered(one);
  for (const finding of before.findings) {
    for (const fix of finding.fixes) {
      made.fixes++;
      attempt(fix, finding, () => tryFix(fix, finding, before, check));
    }
    acceptWhereOffered(finding, before, check);
  }
}

function tryAccepts(one: Text): void {
  const check = remembered(one);
  const before = check(one.text);
  for (const finding of before.findings) acceptWhereOffered(finding, before, check);
}

/** Several findings may ask for the same, and what is tried here is what the action tried itself. */
function remembered({ kind, files }: Text): Check {
  const checker = checkerOf(files);
  const checked = new Map<string, CheckResult>();
  return (text) => {
    const result = checked.get(text) ?? checker.checkAs(kind, text);
    checked.set(text, result);
    return result;
  };
}

function attempt(what: Fix | Action, finding: Finding, go: () => void): void {
  try {
    go();
  } catch (error) {
    throw new Error(`${finding.rule}: ${what.title}: ${(error as Error).message}\n${JSON.stringify(what.edits)}`);
  }
}

function acceptWhereOffered(finding: Finding, before: CheckResult, check: Check): void {
  const [listed] = acceptActions(finding, before);
  const accept = listed && stillHolds(listed, before, check);
  if (!accept) return;
  attempt(accept, finding, () => tryAccept(accept, finding, before, check));
  made.accepted++;
}

/** A comment more, the finding less, and no value other than before. */
function tryAccept(accept: Action, finding: Finding, before: CheckResult, check: Check): void {
  const after = check(applyEdits(before.doc.text, accept.edits)!.replace(noReason, reasonTried));
  expectOtherLineEnds(before.doc.text, accept);
  const said = (doc: Doc) => JSON.stringify([...values(doc.root)].map((one) => one.said));
  if (said(after.doc) !== said(before.doc)) throw new Error('changes a value');
  const expected = [...before.doc.comments.map((one) => one.text), `accept ${finding.rule}: ${reasonTried}`].sort();
  const got = after.doc.comments.map((one) => one.text).sort();
  if (JSON.stringify(got) !== JSON.stringify(expected)) throw new Error(`has other comments: ${got.join(' | ')}`);
  const like = (one: Finding) => one.rule === finding.rule && one.message === finding.message;
  if (after.findings.filter(like).length >= before.findings.filter(like).length) throw new Error('finding still there');
}

function tryFix(fix: Fix, finding: Finding, before: CheckResult, check: Check): void {
  const { text } = before.doc;
  const now = applyEdits(text, fix.edits);
  if (now === undefined) throw new Error('its edits overlap');
  const after = check(now);
  if (!before.doc.broken && after.doc.broken) throw new Error(`can't be read after it: ${after.findings[0]?.message}`);
  expectOtherLineEnds(text, fix);
  if (!before.doc.broken) {
    if (!aboutComments.has(finding.rule)) expectComments(before.doc, after.doc, fix);
    expectOthersKept(before.doc, after.doc, fix);
  }
  // What stands at two places through an alias may be right at one of them only.
  const isStrict = !aboutForm.has(finding.rule) && !/[*&]/.test(text);
  const holding = holds(fix, finding, before, check);
  if (!before.doc.broken && (holding || isStrict)) expectReadable(before, after, fix);
  if (!holding) return;
  made.holding++;
  const like = (all: readonly Finding[]) =>
    all.filter(({ rule, message }) => rule === finding.rule && message === finding.message).length;
  if (like(after.findings) >= like(before.findings)) throw new Error('its finding is still there');
}

/** A fix brings no kind of line end that the file does not have. */
function expectOtherLineEnds(text: string, fix: Pick<Fix, 'edits'>): void {
  const had = new Set(text.match(/\r\n|\n|\r/g));
  if (had.size === 0) return;
  for (const edit of fix.edits)
    for (const end of edit.text.match(/\r\n|\n|\r/g) ?? [])
      if (!had.has(end)) throw new Error(`brings ${JSON.stringify(end)}`);
}

/** A comment goes only with the line that is taken out. */
function expectComments(before: Doc, after: Doc, fix: Fix): void {
  const left = after.comments.map((one) => one.text);
  const isTaken = ({ start, end }: Range) =>
    fix.edits.some((edit) => edit.text === '' && edit.start <= start && edit.end >= end);
  for (const { text } of before.comments.filter((one) => !isTaken(one))) {
    const at = left.indexOf(text);
    if (at < 0) throw new Error(`loses the comment \`${text}\``);
    left.splice(at, 1);
  }
}

/** Every value that no edit touches is still there, under the same names. */
function expectOthersKept(before: Doc, after: Doc, fix: Fix): void {
  const left = new Map<string, number>();
  for (const { said } of values(after.root)) left.set(said, (left.get(said) ?? 0) + 1);
  for (const { said, ranges } of values(before.root)) {
    if (ranges.some((range) => fix.edits.some((edit) => edit.start <= range.end && edit.end >= range.start))) continue;
    const count = left.get(said) ?? 0;
    if (count === 0) throw new Error(`changes \`${said}\``);
    left.set(said, count - 1);
  }
}

interface Value {
  /** Names on the way and the text. */
  readonly said: string;
  /** The value, and the names on the way to it. */
  readonly ranges: readonly Range[];
}

function* values(
  node: Node | undefined,
  names: readonly string[] = [],
  ranges: readonly Range[] = [],
): Generator<Value> {
  if (!node) return;
  if (node.alias !== undefined || node.kind === 'scalar')
    yield {
      said: [...names, node.alias === undefined && node.kind === 'scalar' ? node.text : '*'].join(' > '),
      ranges: [...ranges, node],
    };
  else if (node.kind === 'list') for (const item of node.items) yield* values(item, [...names, '-'], ranges);
  else for (const { key, value } of node.pairs) yield* values(value, [...names, key.text], [...ranges, key]);
}

/** What a fix writes is as the format wants it: no new finding about the form stands where it wrote. */
function expectReadable(before: CheckResult, after: CheckResult, fix: Fix): void {
  const count = (rule: string, { findings }: CheckResult) => findings.filter((one) => one.rule === rule).length;
  const wrote = writtenBy(fix.edits);
  for (const { rule, message, start, end } of after.findings) {
    if (!ofSchema.has(rule) || !wrote.some((range) => range.start < end && range.end > start)) continue;
    if (count(rule, after) > count(rule, before)) throw new Error(`writes what can't be read: ${message}`);
  }
}
