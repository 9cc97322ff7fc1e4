/** A text as a formatter sees it: on each line what stands there, and the gaps between. */
import type { LineMap } from '../../core/document/lines.ts';
import type { Node, Range } from '../../core/document/node.ts';
import type { Doc } from '../../core/document/parse.ts';

/** text: a name, a value, or the part of one on this line · mark: a sign or a word of YAML's own. */
export interface Piece extends Range {
  readonly kind: 'text' | 'mark' | 'comment';
  /** Of a text that began on a line before. */
  readonly goesOn?: 'plain' | 'quoted' | 'block';
}

/** The pieces of each line, in order; a blank line has none. */
export type PieceLines = readonly (readonly Piece[])[];

export function piecesOf(doc: Doc): PieceLines {
  const { lines, text } = doc;
  const byLine: Piece[][] = Array.from({ length: lines.count }, () => []);
  let done = text.startsWith('\ufeff') ? 1 : 0;
  for (const solid of solidsOf(doc)) {
    if (solid.start < done) continue;
    marksIn(text, { start: done, end: solid.start }, lines, byLine);
    for (const part of partsOf(solid, text, lines)) byLine[lines.line(part.start)]!.push(part);
    done = solid.end;
  }
  marksIn(text, { start: done, end: text.length }, lines, byLine);
  return byLine;
}

type Solid = Range & { readonly kind: 'text' | 'comment'; readonly style: 'plain' | 'quoted' | 'block' };

/** Names, values and comments: no blank in them is touched, but at the start of a line. */
function solidsOf({ root, comments, text }: Doc): Solid[] {
  const found: Solid[] = comments.map(({ start, end }) => ({ start, end, kind: 'comment', style: 'plain' }));
  const meet = (node: Node): void => {
    if (node.alias !== undefined || node.kind === 'scalar') {
      if (node.end > node.start)
        found.push({ start: node.start, end: node.end, kind: 'text', style: styleOf(node, text) });
    } else if (node.kind === 'list') node.items.forEach(meet);
    else for (const { key, value } of node.pairs) [key, value].forEach(meet);
  };
  if (root) meet(root);
  return found.sort((a, b) => a.start - b.start || b.end - a.end);
}

function styleOf(node: Node, text: string): Solid['style'] {
  if (node.alias !== undefined || node.kind !== 'scalar' || !node.quoted) return 'plain';
  return /[|>]/.test(text[node.start]!) ? 'block' : 'quoted';
}

function partsOf(solid: Solid, text: string, lines: LineMap): Piece[] {
  const { start, end, kind, style } = solid;
  const [first, last] = [lines.line(start), lines.line(end)];
  const parts: Piece[] = [];
  for (let line = first; line <= last; line++) {
    const from = line === first ? start : firstInk(text, lines.start(line), lines.end(line));
    const to = Math.min(end, lines.end(line));
    if (line === first) parts.push({ start: from, end: to, kind });
    else if (to > from) parts.push({ start: from, end: to, kind, goesOn: style });
  }
  return parts;
}

function firstInk(text: string, start: number, end: number): number {
  let at = start;
  while (at < end && (text[at] === ' ' || text[at] === '\t')) at++;
  return at;
}

/** What is neither name nor value nor comment: brackets, commas, colons and dashes each by itself, others as words. */
function marksIn(text: string, { start, end }: Range, lines: LineMap, byLine: Piece[][]): void {
  for (const match of text.slice(start, end).matchAll(/[{}[\],:]|-(?=\s|$)|[^\s{}[\],:]+/g)) {
    const at = start + match.index;
    byLine[lines.line(at)]!.push({ start: at, end: at + match[0].length, kind: 'mark' });
  }
}
