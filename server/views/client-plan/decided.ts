/** What was decided and why: `# why: …` comments, and the words of `on-purpose`. All other comments and notes stay with who wrote them. */
import type { CheckResult } from '../../core/checker.ts';
import type { Doc } from '../../core/document/parse.ts';
import type { Range } from '../../core/document/node.ts';
import type { Film, Shot, Val } from '../../core/film.ts';
import { blockRange } from '../picture.ts';
import { purposeWords } from './plain-words.ts';

interface Reason {
  readonly words: string;
  /** The line that it is about, from 0. */
  readonly line: number;
}

export interface Decisions {
  readonly film: readonly string[];
  readonly shots: ReadonlyMap<Shot, readonly string[]>;
}

export function decisions({ doc }: CheckResult, film: Film): Decisions {
  const reasons = reasonsIn(doc);
  const told = new Set<Reason>();
  /** The word in plain words, with the reason that stands on its line. */
  const meant = (word: Val<string>): string => {
    const reason = reasons.find(({ line }) => line === doc.lines.line(word.start));
    if (reason) told.add(reason);
    const what = purposeWords[word.value] ?? word.value;
    return sentence(reason ? `${what}: ${reason.words}` : what);
  };
  const all = film.onPurpose.map(meant);
  const shots = [...film.shots.values()];
  const own = new Map(shots.map((shot) => [shot, ownPurpose(shot, film).map(meant)]));
  for (const reason of reasons) {
    if (told.has(reason)) continue;
    const shot = shots.find((one) => placesOf(one).some((range) => isIn(reason, range, doc)));
    (shot ? own.get(shot)! : all).push(sentence(reason.words));
  }
  return { film: all, shots: own };
}

/** Those of the film hold for a shot that says none; said of the film they need not be said again. */
function ownPurpose({ onPurpose }: Shot, film: Film): readonly Val<string>[] {
  return onPurpose.filter(({ value }) => !film.onPurpose.some((one) => one.value === value));
}

function placesOf(shot: Shot): Range[] {
  return [shot, ...shot.pieces].flatMap((block) => blockRange(block) ?? []);
}

function isIn({ line }: Reason, { start, end }: Range, { lines }: Doc): boolean {
  return lines.line(start) <= line && line <= lines.line(end);
}

/** What stands alone is about the next line that holds something, and may go on over several lines. */
function reasonsIn({ comments, lines }: Doc): Reason[] {
  const reasons: Reason[] = [];
  for (let index = 0; index < comments.length; index++) {
    const comment = comments[index]!;
    const first = /^why:\s*(\S.*)$/i.exec(comment.text)?.[1];
    if (first === undefined) continue;
    const words = [first];
    let line = lines.line(comment.start);
    while (comment.alone && comments[index + 1]?.alone && lines.line(comments[index + 1]!.start) === line + 1) {
      if (/^[a-z-]+:\s|^accept\b/i.test(comments[index + 1]!.text)) break;
      words.push(comments[++index]!.text);
      line++;
    }
    reasons.push({ words: words.join(' '), line: comment.alone ? nextLine(line, comments, lines) : line });
  }
  return reasons;
}

function nextLine(line: number, comments: Doc['comments'], lines: Doc['lines']): number {
  const alone = new Set(comments.filter((one) => one.alone).map((one) => lines.line(one.start)));
  let next = line + 1;
  while (alone.has(next)) next++;
  return next;
}

function sentence(words: string): string {
  const first = words.slice(0, 1).toUpperCase() + words.slice(1);
  return /[.!?…]$/.test(first) ? first : `${first}.`;
}
