/** What is said of a plan, beside what a practitioner thought of it: each finding gets the verdicts that it stands for. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { parse } from 'yaml';
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import type { Finding } from '../../server/core/finding.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { sheetText } from '../../server/views/sheet.ts';

/** As `verdicts.yaml` has it; README.md says what each key is for. */
interface Verdict {
  readonly rule: string;
  readonly line: string;
  readonly shots?: readonly string[];
  readonly says?: string;
  /** It is no finding any more: `says` stands on the sheet for the set, where one looks for it. */
  readonly told?: 'sheet';
  readonly verdict: 'useful' | 'noise' | 'wrong';
  readonly why: string;
}

interface Judged {
  readonly finding: Finding;
  /** The line of the spec that it stands on. */
  readonly line: string;
  /** `unjudged` where nobody has said anything of it yet. */
  readonly verdict: Verdict['verdict'] | 'unjudged';
}

export interface JudgedPlan {
  readonly name: string;
  readonly findings: readonly Judged[];
  /** What was useful to know and is said no more, neither alone nor in a finding that stands for several. */
  readonly lost: readonly Verdict[];
}

const file = 'film.shoot.yaml';

export function judgedPlan(name: string): JudgedPlan {
  const root = path.join(import.meta.dirname, name);
  const text = readFileSync(path.join(root, file), 'utf8');
  const lines = text.split('\n').map((line) => line.trim());
  const lineOf = (offset: number) => lines[text.slice(0, offset).split('\n').length - 1]!;
  const verdicts = (parse(readFileSync(path.join(root, 'verdicts.yaml'), 'utf8')) as { findings: Verdict[] }).findings;
  const result = new Checker(new NodeHost(root), rules).check(file, text)!;
  const { findings } = result;

  const said = findings.map((finding) => ({ finding, lines: linesOf(finding, lineOf) }));
  const standsFor = ({ finding, lines }: (typeof said)[0], verdict: Verdict): boolean => {
    if (!isOf(verdict, finding)) return false;
    // What is still said on the line is meant, of all that the rule says of the shot.
    return lines.has(verdict.line) || (!!verdict.shots && !said.some((one) => one.lines.has(verdict.line) && isOf(verdict, one.finding)));
  };
  const judged = said.map((one): Judged => {
    return { finding: one.finding, line: lineOf(one.finding.start), verdict: best(verdicts.filter((it) => standsFor(one, it))) };
  });
  const forSet = (result.forSet ?? []).map((finding) => ({ finding, lines: linesOf(finding, lineOf) }));
  const isTold = (it: Verdict) => [...said, ...forSet].some((one) => standsFor(one, it)) || isOnSheet(it, result);
  const lost = verdicts.filter((it) => it.verdict === 'useful' && !isTold(it));
  return { name, findings: judged, lost };
}

function isOnSheet({ told, says }: Verdict, result: CheckResult): boolean {
  return told === 'sheet' && says !== undefined && (sheetText(result) ?? '').replaceAll('\u00a0', ' ').includes(says);
}

/** The lines of a finding and of the places in the spec that it names. */
function linesOf(finding: Finding, lineOf: (offset: number) => string): ReadonlySet<string> {
  const places = [finding, ...finding.related.filter((one) => one.file === undefined)];
  return new Set(places.map(({ start }) => lineOf(start)));
}

function isOf({ rule, shots, says }: Verdict, finding: Finding): boolean {
  if (rule !== finding.rule || (says !== undefined && !finding.message.includes(says))) return false;
  return !shots || !finding.shots || finding.shots.some((shot) => shots.includes(shot));
}

/** A finding that stands for several is worth what the best of them is. */
function best(verdicts: readonly Verdict[]): Judged['verdict'] {
  const order = ['useful', 'noise', 'wrong'] as const;
  return order.find((one) => verdicts.some(({ verdict }) => verdict === one)) ?? 'unjudged';
}
