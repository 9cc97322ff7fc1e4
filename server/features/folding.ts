/** What can be folded: blocks and lists by their indentation, and runs of comment lines. Told by the text, so broken files fold too. */
import type { LineMap } from '../core/document/lines.ts';

/** Lines count from 0; both are inside. */
export interface Fold {
  readonly startLine: number;
  readonly endLine: number;
  readonly isComment: boolean;
}

interface Open {
  readonly line: number;
  readonly indent: number;
}

export function foldsOf(text: string, lines: LineMap): Fold[] {
  const folds: Fold[] = [];
  const open: Open[] = [];
  let last = -1;
  let comment: { start: number; end: number } | undefined;
  const close = (indent: number) => {
    while (open.length > 0 && open.at(-1)!.indent >= indent) {
      const { line } = open.pop()!;
      if (last > line) folds.push({ startLine: line, endLine: last, isComment: false });
    }
  };
  const endComment = () => {
    if (comment && comment.end > comment.start)
      folds.push({ startLine: comment.start, endLine: comment.end, isComment: true });
    comment = undefined;
  };
  for (let line = 0; line < lines.count; line++) {
    const start = lines.start(line);
    const end = lines.end(line);
    const first = firstCharacter(text, start, end);
    if (text[first] === '#' && first < end) {
      comment = comment ? { start: comment.start, end: line } : { start: line, end: line };
      continue;
    }
    endComment();
    if (first >= end) continue;
    // The items of a list may stand as far left as the key that they are under.
    const isItem = text[first] === '-' && (first + 1 === end || text[first + 1] === ' ');
    close(isItem ? first - start + 0.5 : first - start);
    open.push({ line, indent: isItem ? first - start + 0.5 : first - start });
    last = line;
  }
  endComment();
  close(-1);
  return folds.sort((a, b) => a.startLine - b.startLine || b.endLine - a.endLine);
}

function firstCharacter(text: string, start: number, end: number): number {
  let at = start;
  while (at < end && (text[at] === ' ' || text[at] === '\t' || text[at] === '\ufeff')) at++;
  return at;
}
