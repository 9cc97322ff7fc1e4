/**
 * Lays a file out: indentation, blanks between what stands on a line, none at its end. Words, their order, comments and line
 * breaks stay. What stands in columns stays in columns. Nothing is done to a text that can't be read, or that would be
 * read otherwise afterwards.
 */
import { applyEdits, lineEndOf } from '../../core/document/edits.ts';
import type { Node } from '../../core/document/node.ts';
import { type Doc, parseDocument } from '../../core/document/parse.ts';
import type { Edit } from '../../core/finding.ts';
import { inColumns, type Row } from './columns.ts';
import { gapsOf } from './gaps.ts';
import { indentsOf } from './indents.ts';
import { type PieceLines, piecesOf } from './pieces.ts';

/** Lines of the text, counted from 0; both are meant. */
export interface Lines {
  readonly first: number;
  readonly last: number;
}

/** @param only these lines, where not all are asked for */
export function formatEdits(doc: Doc, only?: Lines): Edit[] {
  if (!canLayOut(doc)) return [];
  const all = editsOf(doc);
  const within = ({ first, last }: Lines) =>
    all.filter(({ start }) => doc.lines.line(start) >= first && doc.lines.line(start) <= last);
  const ways = only ? [() => within(only), () => within(blockAround(doc, only))] : [() => all];
  for (const way of ways) {
    const edits = way();
    if (readsTheSame(doc, edits)) return edits;
  }
  return [];
}

/** Of a line that was just left: its indentation stays, as what is typed next may be meant to change it. */
export function lineEdits(doc: Doc, line: number): Edit[] {
  if (!canLayOut(doc)) return [];
  const [from, to] = [doc.lines.start(line), doc.lines.end(line)];
  const edits = editsOf(doc).filter(({ start, end }) => start > from && end <= to);
  return readsTheSame(doc, edits) ? edits : [];
}

/** What may be wrong with a text that is laid out all the same. */
const harmless: ReadonlySet<string> = new Set(['name-twice', 'text-cut-by-hash', 'odd-character']);

function canLayOut({ broken, root, problems }: Doc): boolean {
  return !broken && root?.kind === 'map' && problems.every(({ rule }) => harmless.has(rule));
}

/** The lines of all that stands at the top of the file and touches these: it moves as a whole. */
function blockAround({ root, lines }: Doc, { first, last }: Lines): Lines {
  const pairs = root?.kind === 'map' ? root.pairs : [];
  const touched = pairs
    .map(({ key, value }) => ({ first: lines.line(key.start), last: lines.line(Math.max(key.end, value.end)) }))
    .filter((one) => one.first <= last && one.last >= first);
  return {
    first: Math.min(first, ...touched.map((one) => one.first)),
    last: Math.max(last, ...touched.map((one) => one.last)),
  };
}

// -- all lines -------------------------------------------------------------------------------------------------------

function editsOf(doc: Doc): Edit[] {
  const { text, lines } = doc;
  const pieces = piecesOf(doc);
  const indents = indentsOf(doc, pieces);
  const rows = pieces.map((here, line): Row => ({
    line,
    indent: indents[line] ?? (here[0]?.start ?? 0) - lines.start(line),
    gaps: here[0]?.goesOn === 'block' ? [] : gapsOf(here, text, lines.start(line)),
    widths: here.map(({ start, end }) => end - start),
  }));
  const table = inColumns(rows.filter(({ line }) => isComplete(pieces, line, text)));
  for (const row of table) rows[row.line] = row;
  const atEnd = endEdits(doc, pieces);
  const ended = atEnd[0]?.start ?? Infinity;
  const own = ownBlanks(pieces, text);
  return [
    ...rows.flatMap((row) => rowEdits(row, pieces, indents, doc, own)).filter(({ start }) => start < ended),
    ...atEnd,
  ];
}

/** Does all that begins on a line end there, and nothing that began before? Only such lines stand in columns. */
function isComplete(pieces: PieceLines, line: number, text: string): boolean {
  const here = pieces[line]!;
  const [first] = here;
  if (!first || first.goesOn || pieces[line + 1]?.[0]?.goesOn) return false;
  let open = 0;
  for (const { kind, start, end } of here) {
    const sign = kind === 'mark' ? text.slice(start, end) : '';
    open += sign === '{' || sign === '[' ? 1 : sign === '}' || sign === ']' ? -1 : 0;
    if (open < 0) return false;
  }
  return open === 0 && (first.kind === 'text' || text[first.start] === '-');
}

/** Blank lines in and behind a block of text: their blanks may be its own. */
function ownBlanks(pieces: PieceLines, text: string): ReadonlySet<number> {
  const own = new Set<number>();
  let isIn = false;
  for (const [line, here] of pieces.entries()) {
    if (here.length === 0 && isIn) own.add(line);
    const last = here.at(-1);
    if (last) isIn = last.goesOn === 'block' || (last.kind === 'text' && /[|>]/.test(text[last.start]!));
  }
  return own;
}

function rowEdits(
  row: Row,
  pieces: PieceLines,
  indents: readonly (number | undefined)[],
  { text, lines }: Doc,
  own: ReadonlySet<number>,
): Edit[] {
  const { line, gaps } = row;
  const start = lines.start(line) + (line === 0 && text.startsWith('\ufeff') ? 1 : 0);
  const end = lines.end(line);
  const [first, last] = [pieces[line]![0], pieces[line]!.at(-1)];
  if (!first || !last) return own.has(line) ? [] : edit(text, start, end, '');
  return [
    ...(indents[line] === undefined ? [] : edit(text, start, first.start, ' '.repeat(indents[line]))),
    ...gaps.flatMap((gap) => edit(text, gap.start, gap.end, ' '.repeat(gap.width))),
    ...edit(text, last.end, end, ''),
  ];
}

function edit(text: string, start: number, end: number, to: string): Edit[] {
  return text.slice(start, end) === to ? [] : [{ start, end, text: to }];
}

/** The file ends with one line end, unless a block of text ends it: its line ends are its own. */
function endEdits({ text }: Doc, pieces: PieceLines): Edit[] {
  const last = pieces.flat().at(-1);
  if (!last || last.goesOn === 'block' || (last.kind === 'text' && /[|>]/.test(text[last.start]!))) return [];
  return edit(text, last.end, text.length, lineEndOf(text));
}

// -- the same afterwards ---------------------------------------------------------------------------------------------

function readsTheSame(before: Doc, edits: readonly Edit[]): boolean {
  if (edits.length === 0) return true;
  const text = applyEdits(before.text, edits);
  const after = text === undefined ? undefined : parseDocument(text);
  if (!after || after.broken) return false;
  return said(after) === said(before);
}

/** All that a text says: values under their names, comments, and what is wrong with it. */
function said({ root, comments, problems }: Doc): string {
  return JSON.stringify([
    root && plainly(root),
    comments.map(({ text, alone }) => [text, alone]),
    problems.map(({ rule }) => rule).sort(),
  ]);
}

function plainly(node: Node): unknown {
  if (node.alias !== undefined) return ['*', node.alias];
  if (node.kind === 'scalar') return [node.text, node.value, node.quoted];
  if (node.kind === 'list') return [node.flow, node.items.map(plainly)];
  return [node.flow, node.pairs.map(({ key, value }) => [key.text, plainly(value)])];
}
