/** The blanks between what stands on a line. */
import type { Range } from '../../core/document/node.ts';
import type { Piece } from './pieces.ts';

export interface Gap extends Range {
  /** How many blanks it is to have. */
  readonly width: number;
  /** Where lines may stand in columns: what begins behind the gap. */
  readonly column?: string;
  /** Where what is behind it begins now, on its line. */
  readonly at: number;
}

/** Between the pieces of one line. What stands before a comment at the end of a line is left alone. */
export function gapsOf(pieces: readonly Piece[], text: string, lineStart: number): Gap[] {
  const said = pieces.map(({ kind, start, end }) => (kind === 'mark' ? text.slice(start, end) : ''));
  let depth = 0;
  return pieces.slice(1).map((piece, index): Gap => {
    const [before, sign, next] = [said[index]!, said[index + 1]!, said[index + 2]];
    if (before === '{' || before === '[') depth++;
    if (before === '}' || before === ']') depth--;
    const [start, end] = [pieces[index]!.end, piece.start];
    const at = end - lineStart;
    if (piece.kind === 'comment') return { start, end, width: end - start, at };
    const width = widthOf(before, sign);
    if (width === 1 && depth === 0 && before === ':') return { start, end, width, at, column: ':' };
    const isName = width === 1 && depth === 1 && before === ',' && next === ':';
    return { start, end, width, at, ...(isName && { column: text.slice(piece.start, piece.end) }) };
  });
}

/** `{ a: [b, c] }`, `[]`, `- a`. */
function widthOf(before: string, sign: string): number {
  if (before === '{' && sign === '}') return 0;
  if (sign === ',' || sign === ':' || sign === ']' || before === '[') return 0;
  return 1;
}
