/** `# accept rule-id: reason` takes one finding away, in the open: with a reason, on one line, listed in every output. */
import type { Silenced } from './check.ts';
import { lineEndOf } from './document/edits.ts';
import type { Doc } from './document/parse.ts';
import type { Comment } from './document/node.ts';
import type { Edit, Finding } from './finding.ts';

interface Acceptance extends Comment {
  readonly rule: string;
  readonly reason: string;
  /** The line whose findings it takes, from 0. */
  readonly line: number;
}

/** Does a comment say `accept`, rightly or wrongly? */
export function saysAccept(comments: readonly Comment[]): boolean {
  return comments.some(({ text }) => text.startsWith('accept'));
}

const form = /^accept\b\s*([a-z0-9-]*)\s*:?\s*(.*)$/;

/** Splits findings into those that stay and those that a comment accepts, and reports comments that do nothing. */
export function applyAcceptances(doc: Doc, findings: readonly Finding[], known: (rule: string) => boolean) {
  const acceptances = read(doc);
  if (acceptances.length === 0) return { findings: [...findings], silenced: [] as Silenced[] };
  const used = new Set<Acceptance>();
  const kept: Finding[] = [];
  const silenced: Silenced[] = [];
  for (const finding of findings) {
    const line = doc.lines.line(finding.start);
    const by = acceptances.find((one) => one.reason !== '' && one.rule === finding.rule && one.line === line);
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
): Pick<Finding, 'rule' | 'severity' | 'message'> | undefined {
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
  const alone = new Set(
    doc.comments.filter((comment) => comment.alone).map((comment) => doc.lines.line(comment.start)),
  );
  return doc.comments.flatMap((comment) => {
    const match = form.exec(comment.text);
    if (!match) return [];
    let line = doc.lines.line(comment.start);
    if (comment.alone)
      do line++;
      while (alone.has(line));
    return [{ ...comment, rule: match[1] ?? '', reason: (match[2] ?? '').trim(), line }];
  });
}

/**
 * The edits of which each may accept a finding in place, with the reason to fill in: a comment of its own on the line
 * before, and one at the end of the line, where the line starts inside a value that goes on over several lines.
 */
export function acceptHere(doc: Doc, finding: Finding, reason: string): Edit[] {
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
