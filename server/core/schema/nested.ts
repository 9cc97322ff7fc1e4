/**
 * Blocks whose lines stand at their key's own column: `camera:`, and below it `distance: 75 cm` no further in. YAML takes
 * `camera` for empty there and each line for a neighbour. Where such a line means nothing beside the key and something
 * below it, the file is read as it is meant, and one finding says so.
 */
import { startOfLine } from '../document/edits.ts';
import { changed, type MapNode, type Node, type Pair, type Range } from '../document/node.ts';
import type { Doc } from '../document/parse.ts';
import { problem } from '../document/problem.ts';
import type { Edit, Finding } from '../finding.ts';
import { below, type FileKind, type RawField, rootOf, shapeOf } from './fields.ts';

/** A key with nothing below it, which may be what the lines after it belong to. */
interface Opener {
  readonly field: RawField;
  /** The names that were put below it. */
  readonly inside: Set<string>;
}

/** A line that is to stand further in, and by how many steps. */
interface Moved {
  readonly pair: Pair;
  readonly steps: number;
}

/** The document as it is meant; the same where nothing stands at the wrong column. */
export function readNested(doc: Doc, kind: FileKind): Doc {
  if (!doc.root || doc.broken) return doc;
  const nesting = new Nesting(doc.text, kind);
  const root = nesting.read(doc.root, rootOf(kind));
  if (root === doc.root) return doc;
  const isMoved = ({ rule, start }: Range & Pick<Finding, 'rule'>) => rule === 'name-twice' && nesting.moved.has(start);
  const problems = [...doc.problems.filter((one) => !isMoved(one)), ...nesting.findings];
  return { ...doc, root, problems: problems.sort((a, b) => a.start - b.start || a.end - b.end) };
}

class Nesting {
  readonly findings: Finding[] = [];
  /** Where the keys start that now stand in another block. */
  readonly moved = new Set<number>();

  constructor(
    private readonly text: string,
    private readonly kind: FileKind,
  ) {}

  /** Answers the node itself where nothing in it changes. */
  read(node: Node, field: RawField | undefined): Node {
    if (!field || node.kind === 'scalar' || node.flow || node.alias !== undefined) return node;
    if (node.kind === 'list') {
      const items = changed(node.items, (item) => this.read(item, below(this.kind, field, 0)));
      return items === node.items ? node : { ...node, items };
    }
    const pairs = changed(this.#nested(node, field), (pair) => {
      const value = this.read(pair.value, below(this.kind, field, pair.key.text));
      return value === pair.value ? pair : { key: pair.key, value };
    });
    return pairs === node.pairs ? node : { ...node, pairs };
  }

  /** The pairs of a block, those that belong below another one put there. */
  #nested(map: MapNode, field: RawField): readonly Pair[] {
    if (!map.pairs.some(({ value }, index) => isNothing(value) && index < map.pairs.length - 1)) return map.pairs;
    const result: Pair[] = [];
    const there = new Set<string>();
    for (let index = 0; index < map.pairs.length;) {
      const pair = map.pairs[index]!;
      const run = this.#runAfter(map, index, field, there);
      there.add(pair.key.text);
      result.push(run.length > 0 ? this.#opened(pair, run, field) : pair);
      index += 1 + run.length;
    }
    return result.length < map.pairs.length ? result : map.pairs;
  }

  /** The pairs behind one that belong below it; none where they are as well where they stand. */
  #runAfter(map: MapNode, at: number, field: RawField, there: ReadonlySet<string>): Moved[] {
    const first = openerOf(this.kind, map.pairs[at]!, field);
    if (!first) return [];
    const open = [first];
    const run: Moved[] = [];
    let isPlain = false;
    for (const pair of map.pairs.slice(at + 1)) {
      const fits = suits(this.kind, field, pair) && !there.has(pair.key.text);
      if (fits && field.properties) break;
      let steps = open.findLastIndex(({ field: block, inside }) => takes(this.kind, block, inside, pair)) + 1;
      // What means nothing anywhere goes on where the line before it stands.
      if (steps === 0 && !fits && run.length > 0) steps = run.at(-1)!.steps;
      if (steps === 0) break;
      isPlain ||= !fits;
      run.push({ pair, steps });
      open.splice(steps);
      const block = open.at(-1)!;
      block.inside.add(pair.key.text);
      const inner = openerOf(this.kind, pair, block.field);
      if (inner) open.push(inner);
    }
    return isPlain ? run : [];
  }

  #opened(pair: Pair, run: readonly Moved[], field: RawField): Pair {
    for (const { pair: one } of run) this.moved.add(one.key.start);
    const inner = below(this.kind, field, pair.key.text);
    this.findings.push(this.#finding(pair, run));
    return inner ? nest(pair, run, 1) : pair;
  }

  #finding({ key }: Pair, run: readonly Moved[]): Finding {
    const edits = run.flatMap(({ pair, steps }, index) => {
      const from = index === 0 ? pair.key.start : endOf(run[index - 1]!.pair);
      return this.#indented(from, endOf(pair), steps);
    });
    const many = edits.length === 1 ? 'this line' : `these ${edits.length} lines`;
    const line = edits.length === 1 ? 'The line' : `The ${edits.length} lines`;
    const verb = edits.length === 1 ? 'starts' : 'start';
    const message = `${line} below \`${key.text}\` ${verb} at its own column, so nothing stands in \`${key.text}\`. Indent ${many}.`;
    const fixes = [{ title: `Indent ${many} below \`${key.text}\``, edits, safe: true }];
    return problem('wrong-shape', key, message, { fixes });
  }

  /** The lines that start or go on between two places, but for the one that the first place is behind the start of. */
  #indented(from: number, to: number, steps: number): Edit[] {
    const edits: Edit[] = [];
    const first = startOfLine(this.text, from);
    const lines = /[^\r\n]*(?:\r\n|\n|\r|$)/gy;
    lines.lastIndex = /^[^\S\r\n]*$/.test(this.text.slice(first, from))
      ? first
      : first + lineAt(this.text, first).length;
    while (lines.lastIndex < to) {
      const start = lines.lastIndex;
      const [line] = lines.exec(this.text) ?? [''];
      if (line === '') break;
      if (line.trim() !== '') edits.push({ start, end: start, text: '  '.repeat(steps) });
    }
    return edits;
  }
}

function lineAt(text: string, start: number): string {
  const lines = /[^\r\n]*(?:\r\n|\n|\r|$)/y;
  lines.lastIndex = start;
  return lines.exec(text)![0];
}

/** Where the last character of a pair stands; a text over several lines ends before the break behind it. */
function endOf({ key, value }: Pair): number {
  return Math.max(key.end, value.end - 1);
}

/** A key with all that follows it, the pairs of a deeper step below the last one of the step before. */
function nest(pair: Pair, run: readonly Moved[], step: number): Pair {
  if (run.length === 0) return pair;
  const pairs: Pair[] = [];
  for (let index = 0; index < run.length;) {
    const next = run.findIndex(({ steps }, at) => at > index && steps <= step);
    const end = next < 0 ? run.length : next;
    pairs.push(nest(run[index]!.pair, run.slice(index + 1, end), step + 1));
    index = end;
  }
  const value: MapNode = { kind: 'map', flow: false, start: pairs[0]!.key.start, end: pairs.at(-1)!.value.end, pairs };
  return { ...pair, value };
}

function isNothing(value: Node): boolean {
  return value.kind === 'scalar' && value.start === value.end && value.alias === undefined && !value.quoted;
}

function openerOf(kind: FileKind, pair: Pair, around: RawField): Opener | undefined {
  const field = below(kind, around, pair.key.text);
  if (!field || !isNothing(pair.value)) return undefined;
  return ['block', 'named'].includes(shapeOf(field)) ? { field, inside: new Set() } : undefined;
}

function takes(kind: FileKind, block: RawField, inside: ReadonlySet<string>, pair: Pair): boolean {
  return suits(kind, block, pair) && !inside.has(pair.key.text);
}

/** A field of the block; or, under names of one's own, a name over what may stand there. */
function suits(kind: FileKind, block: RawField, { key, value }: Pair): boolean {
  const field = below(kind, block, key.text);
  if (!field || block.properties) return field !== undefined;
  const shape = shapeOf(field);
  return isNothing(value) || (value.kind === 'scalar') === (shape === 'value' || shape === 'values');
}
