/** Where each line begins: two blanks for each step inwards, as deep as what stands there lies in the plan. */
import { lastUpTo, type LineMap } from '../../core/document/lines.ts';
import type { Node } from '../../core/document/node.ts';
import type { Doc } from '../../core/document/parse.ts';
import type { Piece, PieceLines } from './pieces.ts';

const step = 2;

/** The blanks at the start of each line; undefined where a line keeps those that it has. */
export function indentsOf(doc: Doc, pieces: PieceLines): (number | undefined)[] {
  const indents = new Indents(doc, pieces);
  if (doc.root) indents.place(doc.root, 0, 0);
  indents.placeComments();
  return indents.of;
}

class Indents {
  readonly of: (number | undefined)[];
  readonly #text: string;
  readonly #lines: LineMap;
  readonly #dashes: readonly number[];

  constructor(
    { text, lines }: Doc,
    private readonly pieces: PieceLines,
  ) {
    this.#text = text;
    this.#lines = lines;
    this.of = Array.from({ length: pieces.length }, () => undefined);
    this.#dashes = pieces.flat().flatMap((one) => (this.#isMark(one, '-') ? one.start : []));
  }

  /**
   * @param indent of its names or dashes, where it is a block
   * @param owner of the line that it belongs to, from which it is counted where it goes on over lines
   */
  place(node: Node, indent: number, owner: number): void {
    if (node.alias !== undefined) return;
    if (node.kind === 'scalar') this.#placeText(node, owner);
    else if (node.flow) this.#placeBrackets(node, owner);
    else if (node.kind === 'map') {
      for (const { key, value } of node.pairs) {
        this.#placeFirst(key.start, indent);
        this.place(value, indent + step, indent);
      }
    } else {
      let dash = node.start;
      for (const [index, item] of node.items.entries()) {
        if (index > 0) dash = this.#dashBefore(item);
        this.#placeFirst(dash, indent);
        this.place(item, indent + step, indent);
      }
    }
  }

  /** The last dash before an item: a list in it begins with a dash of its own. */
  #dashBefore({ start }: Node): number {
    return this.#dashes[lastUpTo(this.#dashes.length, (index) => this.#dashes[index]! < start)] ?? start;
  }

  /** Only what stands first on its line says where the line begins. */
  #placeFirst(start: number, indent: number): void {
    const line = this.#lines.line(start);
    if (this.pieces[line]![0]?.start === start) this.of[line] = indent;
  }

  /** A block of text moves as a whole; other texts go on one step further in than the line that they belong to. */
  #placeText({ start, end }: Node, owner: number): void {
    const [first, last] = [this.#lines.line(start), this.#lines.line(end)];
    if (first === last) return;
    const rest = Array.from({ length: last - first }, (_, index) => first + 1 + index);
    const own = rest.find((line) => this.pieces[line]!.length > 0);
    if (own === undefined) return;
    const isBlock = this.pieces[own]![0]!.goesOn === 'block';
    // A block that says how far in its lines begin says so from what it belongs to.
    const isCounted = isBlock && /^[|>][-+]?[1-9]/.test(this.#text.slice(start, start + 3));
    const by = isCounted ? owner - this.#written(first) : owner + step - this.#written(own);
    for (const line of rest) {
      if (this.pieces[line]!.length === 0) continue;
      this.of[line] = isBlock ? Math.max(0, this.#written(line) + by) : owner + step;
    }
  }

  /** One step further in for each bracket that is open; no line begins where the owner does, which YAML forbids. */
  #placeBrackets({ start, end }: Node, owner: number): void {
    const [first, last] = [this.#lines.line(start), this.#lines.line(end)];
    let open = 0;
    for (let line = first; line <= last; line++) {
      const here = this.pieces[line]!.filter((one) => one.start >= start && one.end <= end);
      const closing = here.findIndex((one) => !this.#isMark(one, '}', ']'));
      const atStart = open - (closing < 0 ? here.length : closing);
      if (line > first && here[0]) this.of[line] = owner + step * Math.max(1, atStart + (here[0].goesOn ? 1 : 0));
      for (const one of here) open += this.#isMark(one, '{', '[') ? 1 : this.#isMark(one, '}', ']') ? -1 : 0;
    }
  }

  /** A comment on a line of its own goes with what follows, or with what stands before it where it stood in line with that. */
  placeComments(): void {
    const isAlone = (line: number) => this.pieces[line]![0]?.kind === 'comment';
    const isEntry = (line: number) => this.of[line] !== undefined && !isAlone(line) && !this.pieces[line]![0]?.goesOn;
    let next: number | undefined;
    const following = this.pieces.map((): number | undefined => undefined);
    for (let line = this.pieces.length - 1; line >= 0; line--) {
      following[line] = next;
      if (isEntry(line)) next = line;
    }
    // The entries that a line may still belong to, the innermost last.
    const around: number[] = [];
    for (let line = 0; line < this.pieces.length; line++) {
      const stood = this.#written(line);
      if (isEntry(line)) {
        while (around.length > 0 && this.#written(around.at(-1)!) >= stood) around.pop();
        around.push(line);
      }
      if (!isAlone(line)) continue;
      const after = following[line];
      const beside = around.findLast((one) => this.#written(one) <= stood);
      const isBeside = beside !== undefined && this.#written(beside) === stood;
      if (isBeside && (after === undefined || stood !== this.#written(after))) this.of[line] = this.of[beside];
      else this.of[line] = after === undefined ? 0 : this.of[after];
    }
  }

  #written(line: number): number {
    const first = this.pieces[line]![0];
    return first ? first.start - this.#lines.start(line) : 0;
  }

  #isMark(piece: Piece, ...signs: readonly string[]): boolean {
    return piece.kind === 'mark' && signs.includes(this.#text.slice(piece.start, piece.end));
  }
}
