/** Which findings are new, gone, the same, or the same in other words. */
import type { CheckResult } from '../core/checker.ts';
import type { Finding } from '../core/finding.ts';
import { nodeAt } from '../features/node-at.ts';
import type { ComparedFinding, Comparison } from './comparison.ts';

type Findings = Pick<Comparison, 'new' | 'gone' | 'changed' | 'kept' | 'accepted'>;

export function compareFindings(before: CheckResult | undefined, after: CheckResult | undefined): Findings {
  const [was, is] = [before?.findings ?? [], after?.findings ?? []];
  const same = pairUp(was, is, ({ rule, severity, message }) => JSON.stringify([rule, severity, message]));
  const moved = pairUp(same.before, same.after, (finding, side) =>
    JSON.stringify([finding.rule, pathOf(finding, side === 'before' ? before : after)]),
  );
  const told = (finding: Finding, result: CheckResult | undefined) => compared(finding, result);
  return {
    kept: same.pairs.map((pair) => told(pair.after, after)),
    changed: moved.pairs.map((pair) => ({ before: told(pair.before, before), after: told(pair.after, after) })),
    new: moved.after.map((finding) => told(finding, after)),
    gone: moved.before.map((finding) => told(finding, before)),
    accepted: acceptedNow(before, after),
  };
}

interface PairedUp {
  readonly pairs: { readonly before: Finding; readonly after: Finding }[];
  readonly before: Finding[];
  readonly after: Finding[];
}

/** Those with equal keys, each once; and what is left on both sides. */
function pairUp(
  before: readonly Finding[],
  after: readonly Finding[],
  keyOf: (finding: Finding, side: 'before' | 'after') => string,
): PairedUp {
  const waiting = new Map<string, Finding[]>();
  for (const finding of before) {
    const key = keyOf(finding, 'before');
    waiting.set(key, [...(waiting.get(key) ?? []), finding]);
  }
  const pairs: PairedUp['pairs'] = [];
  const alone: Finding[] = [];
  for (const finding of after) {
    const partner = waiting.get(keyOf(finding, 'after'))?.shift();
    if (partner) pairs.push({ before: partner, after: finding });
    else alone.push(finding);
  }
  const left = new Set([...waiting.values()].flat());
  return { pairs, before: before.filter((finding) => left.has(finding)), after: alone };
}

/** The keys and names above the place of a finding: the same in both versions, whatever the line. */
function pathOf({ start }: Finding, result: CheckResult | undefined): string {
  return nodeAt(result?.doc.root, start)?.path.join(' ') ?? '';
}

/** What is silent after, was not silent before, and why. */
function acceptedNow(before: CheckResult | undefined, after: CheckResult | undefined): Findings['accepted'] {
  const keyOf = ({ rule, message }: Finding) => JSON.stringify([rule, message]);
  const known = new Set(before?.silenced.map(({ finding }) => keyOf(finding)));
  return (after?.silenced ?? [])
    .filter(({ finding }) => !known.has(keyOf(finding)))
    .map(({ finding, by }) => ({
      ...compared(finding, after),
      by: by.kind === 'accepted' ? `accepted: ${by.reason}` : `on purpose: ${by.word}`,
    }));
}

function compared({ rule, severity, message, start }: Finding, result: CheckResult | undefined): ComparedFinding {
  return { rule, severity, message, line: (result?.doc.lines.line(start) ?? 0) + 1 };
}
