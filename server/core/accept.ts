/** `# accept rule-id: reason` takes one finding away, in the open: with a reason, on one line, listed in every output. */
import type { Silenced } from './check.ts';
import { lineEndOf } from './document/edits.ts';
import type { Doc } from './document/parse.ts';
import type { Comment, Range } from './document/node.ts';
import type { Edit, Finding } from './finding.ts';

interface Acceptance extends Comment {
  readonly rule: string;
  readonly reason: string;
  /** The line whose findings it takes, from 0. */
  readonly line: number;
}

/** What *Accept* writes where a reason belongs: to be overwritten, and no reason itself. */
export const noReason = 'say why here';

const form = /^accept\b\s*([a-z0-9-]*)\s*:?\s*(.*)$/;

/** Splits findings into those that stay and those that a comment accepts, and reports comments that do nothing. */
export function applyAcceptances(doc: Doc, findings: readonly Finding[], known: (rule: string) => boolean) {
  const acceptances = read(doc);
  if (acceptances.length === 0) return { findings: [...findings], silenced: [] as Silenced[] };
  const used = new Set<Acceptance>();
  const byPlace = new Map<string, Acceptance>();
  const place = (rule: string, line: number) => `${rule} ${line}`;
  for (const one of acceptances) {
    const key = place(one.rule, one.line);
    if (one.reason !== '' && !byPlace.has(key)) byPlace.set(key, one);
  }
  const kept: Finding[] = [];
  const silenced: Silenced[] = [];
  for (const finding of findings) {
    const by = byPlace.get(place(finding.rule, doc.lines.line(finding.start)));
    if (by) {
      used.add(by);
      silenced.push({ finding, by: { kind: 'accepted', reason: by.reason } });
    } else {
      kept.push(finding);
    }
  }
  for (const one of acceptances) {
    const message = fault(one, used.has(one), known);
    if (message) kept.push({ ...message, start: one.start, end: one.end, related: [], fixes: [removal(doc, one)] });
  }
  return { findings: kept, silenced };
}

function fault(
  one: Acceptance,
  used: boolean,
  known: (rule: string) => boolean,
): Pick<Finding, 'rule' | 'severity' | 'message' | 'isUnused'> | undefined {
  if (one.rule === '' || !known(one.rule)) {
    const message =
      one.rule === ''
        ? 'This says `accept` but no rule: write `# accept rule-id: reason`.'
        : `There is no rule \`${one.rule}\` to accept.`;
    return { rule: 'accept-unknown', severity: 'warning', message };
  }
  if (one.reason === '') {
    return {
      rule: 'accept-without-reason',
      severity: 'warning',
      message: `Say why \`${one.rule}\` is accepted: \`# accept ${one.rule}: reason\`. Until then the finding stays.`,
    };
  }
  if (used) return undefined;
  return {
    rule: 'accept-unused',
    severity: 'info',
    message: `No finding of \`${one.rule}\` on the line that this comment covers: it can go.`,
    isUnused: true,
  };
}

function removal(doc: Doc, one: Acceptance) {
  const line = doc.lines.line(one.start);
  const whole = one.alone && line + 1 < doc.lines.count;
  const before = doc.text.slice(doc.lines.start(line), one.start);
  const start = one.alone ? doc.lines.start(line) : one.start - (before.length - before.trimEnd().length);
  const end = whole ? doc.lines.start(line + 1) : one.end;
  return { title: 'Remove this comment', edits: [{ start, end, text: '' }], safe: false };
}

function read(doc: Doc): Acceptance[] {
  const lines = doc.comments.map((comment) => doc.lines.line(comment.start));
  // What stands alone is about the first line below that is no such comment: told from the last to the first.
  const about = [...lines];
  for (let index = lines.length - 1; index >= 0; index--) {
    if (!doc.comments[index]!.alone) continue;
    const next = lines[index]! + 1;
    const isAlone = lines[index + 1] === next && doc.comments[index + 1]!.alone;
    about[index] = isAlone ? about[index + 1]! : next;
  }
  return doc.comments.flatMap((comment, index) => {
    const match = form.exec(comment.text);
    if (!match) return [];
    const reason = (match[2] ?? '').trim();
    return [{ ...comment, rule: match[1] ?? '', reason: reason === noReason ? '' : reason, line: about[index]! }];
  });
}

/** Where the comment near a line that accepts a rule still wants its reason. */
export function unsaidReason(doc: Doc, rule: string, line: number): Range | undefined {
  const unsaid = read(doc).filter((one) => one.rule === rule && one.reason === '' && one.text.endsWith(noReason));
  const [nearest] = unsaid.sort((a, b) => Math.abs(a.line - line) - Math.abs(b.line - line));
  return nearest && { start: nearest.end - noReason.length, end: nearest.end };
}

/**
 * The edits of which each may accept a finding in place, with the reason to fill in: a comment of its own on the line
 * before, and one at the end of the line, where the line starts inside a value that goes on over several lines.
 */
export function acceptHere(doc: Doc, finding: Finding, reason = noReason): Edit[] {
  const { text, lines } = doc;
  const line = lines.line(finding.start);
  const start = lines.start(line) + (text.startsWith('\ufeff') && line === 0 ? 1 : 0);
  const indent = /^[ \t]*(?:- )?/.exec(text.slice(start, lines.end(line)))?.[0].replace('- ', '') ?? '';
  const comment = `# accept ${finding.rule}: ${reason}`;
  return [
    { start, end: start, text: `${indent}${comment}${lineEndOf(text)}` },
    { start: lines.end(line), end: lines.end(line), text: ` ${comment}` },
  ];
}
