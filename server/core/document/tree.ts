/** From the YAML library's nodes to ours: ranges trimmed, aliases looked up, nothing followed blindly. */
import { Alias, Scalar, YAMLMap, YAMLSeq } from 'yaml';
import type { Fix } from '../finding.ts';
import { removePairAt } from './edits.ts';
import { isMerge, type ListNode, type MapNode, type Node, type Pair, type Range, type ScalarNode } from './node.ts';
import { cutByComma, isNameAfterNumber, looseLine, looseName, oddEscape } from './oddities.ts';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';
import { quoted, shown } from '../say.ts';
import { deepest } from './tokens.ts';

/** How many nodes aliases may add before they are taken for an attack. */
const mostAdded = 100_000;

interface Target {
  readonly node: Node;
  /** Nodes in it, with all aliases followed. */
  readonly size: number;
  /** Levels of maps and lists in it, with all aliases followed. */
  readonly height: number;
}

export interface Tree {
  readonly root: Node;
  readonly problems: readonly Problem[];
  /** False when an alias could not be followed, so that a value is missing from the tree. */
  readonly whole: boolean;
}

/** Turns the contents of a composed document, read from `text`, into a tree. */
export function buildTree(contents: unknown, text: string): Tree {
  const builder = new Builder(text, true);
  const { node, size } = builder.build(contents, 0, text.length);
  const problems = builder.problems;
  if (size - builder.written <= mostAdded) return { root: node, problems, whole: builder.whole };
  const bomb = problem(
    'alias-bomb',
    builder.firstAlias,
    `The \`*\` names in this file repeat each other into more than ${mostAdded} values, so none of them is read. Write the values out where they are needed.`,
  );
  const plain = new Builder(text, false);
  const root = plain.build(contents, 0, text.length).node;
  return { root, problems: [...plain.problems, bomb], whole: false };
}

class Builder {
  readonly problems: Problem[] = [];
  whole = true;
  /** Nodes met, with aliases counted as one. */
  written = 0;
  firstAlias: Range = { start: 0, end: 0 };
  readonly #text: string;
  readonly #follow: boolean;
  readonly #targets = new Map<string, Target>();
  /** Anchors whose value is not finished yet: an alias to one of them would be a circle. */
  readonly #open = new Map<string, number>();

  constructor(text: string, follow: boolean) {
    this.#text = text;
    this.#follow = follow;
  }

  /** `depth` counts the maps and lists around the node; `at` is where an empty value stands. */
  build(source: unknown, depth: number, at: number): Target {
    if (source instanceof Alias) return this.#alias(source, depth);
    this.written++;
    const anchor = source instanceof Scalar || isCollection(source) ? source.anchor : undefined;
    if (!anchor) return this.#value(source, depth, at);
    this.#open.set(anchor, (this.#open.get(anchor) ?? 0) + 1);
    const target = this.#value(source, depth, at);
    const left = (this.#open.get(anchor) ?? 1) - 1;
    if (left > 0) this.#open.set(anchor, left);
    else this.#open.delete(anchor);
    this.#targets.set(anchor, target);
    return target;
  }

  #value(source: unknown, depth: number, at: number): Target {
    if (source instanceof Scalar) return { node: this.#scalar(source), size: 1, height: 0 };
    if (source instanceof YAMLMap) return this.#map(source, depth);
    if (source instanceof YAMLSeq) return this.#list(source, depth);
    return { node: emptyAt(at), size: 1, height: 0 };
  }

  #scalar(source: Scalar): ScalarNode {
    const { value } = source;
    let start = source.range?.[0] ?? 0;
    let end = source.range?.[1] ?? 0;
    const raw = source.source ?? '';
    const quoted = source.type !== undefined && source.type !== 'PLAIN';
    if (start === end) start = end = this.#skipBlanksBack(start);
    else if (source.type === 'BLOCK_LITERAL' || source.type === 'BLOCK_FOLDED') end = this.#trimEnd(start, end);
    const node: ScalarNode = { kind: 'scalar', start, end, text: raw, value: plainValue(value, raw), quoted };
    const odd = source.type === 'QUOTE_DOUBLE' ? oddEscape(this.#text, node) : undefined;
    if (odd) this.problems.push(odd);
    return node;
  }

  #map(source: YAMLMap, depth: number): Target {
    const flow = source.flow === true;
    const [start, valueEnd] = source.range ?? [0, 0];
    const pairs: Pair[] = [];
    const seen = new Map<string, number>();
    const twice: [number, number][] = [];
    const cut = new Map<ScalarNode, ScalarNode[]>();
    let end = start;
    let size = 1;
    let height = 0;
    for (const { key, value } of source.items) {
      const builtKey = this.#key(key, depth, end);
      const builtValue = this.build(value, depth + 1, builtKey.end);
      end = Math.max(builtKey.end, builtValue.node.end);
      size += builtValue.size + 1;
      height = Math.max(height, builtValue.height);
      const node = builtKey.node;
      if (!node || this.#mergesNothing(node, builtValue.node)) continue;
      if (flow && value === null && this.#isLoose(node, pairs.at(-1)?.value, cut)) continue;
      if (!flow) this.#fault(looseLine(this.#text, node, builtValue.node));
      const first = seen.get(node.text);
      if (first === undefined) seen.set(node.text, pairs.length);
      else twice.push([first, pairs.length]);
      pairs.push({ key: node, value: builtValue.node });
    }
    for (const [value, rest] of cut) this.#joinCut(pairs, value, rest);
    const merges = pairs.some(isMerge) && ({ merges: true } as const);
    const node: MapNode = { kind: 'map', start, end: flow ? valueEnd : end, flow, pairs, ...merges };
    for (const [first, second] of twice) this.problems.push(nameTwice(this.#text, node, first, second));
    return { node, size, height: height + 1 };
  }

  /** `node` is undefined for a key that is not plain text; it has then been reported. */
  #key(key: unknown, depth: number, at: number): { node: ScalarNode | undefined; end: number } {
    const built = this.build(key, depth + 1, at).node;
    if (built.kind !== 'scalar' || built.alias !== undefined) {
      const what = built.alias === undefined ? 'a list or a block' : `\`*${shown(built.alias)}\``;
      this.problems.push(
        problem(
          'complex-key',
          built,
          `A name stands before this colon as ${what}; write the name itself as plain words.`,
        ),
      );
      return { node: undefined, end: built.end };
    }
    if (built.text === '') {
      const place = { start: built.start, end: Math.min(built.end + 1, this.#text.length) };
      this.problems.push(
        problem('complex-key', place, 'There is no name before this colon; write one, or delete the line.'),
      );
      return { node: undefined, end: built.end };
    }
    return { node: built, end: built.end };
  }

  /** Whether a name without a colon in braces has been reported; `cut` collects those that belong to a text. */
  #isLoose(name: ScalarNode, before: Node | undefined, cut: Map<ScalarNode, ScalarNode[]>): boolean {
    const noSpace = looseName(name);
    this.#fault(noSpace);
    if (noSpace) return true;
    if (before?.kind !== 'scalar' || before.quoted || before.text === '' || before.alias !== undefined) return false;
    if (!cut.has(before) && isNameAfterNumber(before, name)) return false;
    const names = cut.get(before);
    if (names) names.push(name);
    else cut.set(before, [name]);
    return true;
  }

  /** Reports a value that a comma in braces cut, and reads it as it is meant where that is plain. */
  #joinCut(pairs: Pair[], value: ScalarNode, rest: readonly ScalarNode[]): void {
    const { problem: found, meant } = cutByComma(this.#text, value, rest);
    this.problems.push(found);
    const index = pairs.findIndex((pair) => pair.value === value);
    const pair = pairs[index];
    if (meant && pair) pairs[index] = { key: pair.key, value: meant };
  }

  /** Takes down what makes the rest of the tree doubtful. */
  #fault(found: Problem | undefined): void {
    if (!found) return;
    this.problems.push(found);
    this.whole = false;
  }

  /** Whether `<<` stands here without a block that it could take over, which is then reported. */
  #mergesNothing(key: ScalarNode, value: Node): boolean {
    if (key.quoted || key.text !== '<<') return false;
    if (!this.#follow) return true;
    const blocks = value.kind === 'list' && value.alias === undefined ? value.items : [value];
    const wrong = blocks.find((one) => one.alias === undefined || one.kind !== 'map');
    if (!wrong && blocks.length > 0) return false;
    // A name that is marked nowhere is reported where it stands.
    if (wrong?.alias !== undefined && !this.#targets.has(wrong.alias)) return true;
    const found = wrong?.alias === undefined ? '' : ` \`*${shown(wrong.alias)}\` stands for no block.`;
    const message = `\`<<\` takes over a block that is marked with \`&name\` above: \`<<: *name\`.${found} Name one, or write its lines out here.`;
    this.problems.push(problem('merge-key', key, message));
    return true;
  }

  #list(source: YAMLSeq, depth: number): Target {
    const flow = source.flow === true;
    const [start, valueEnd] = source.range ?? [0, 0];
    const items: Node[] = [];
    let end = start;
    let size = 1;
    let height = 0;
    for (const item of source.items) {
      const built = this.build(item, depth + 1, end);
      items.push(built.node);
      end = built.node.end;
      size += built.size;
      height = Math.max(height, built.height);
    }
    const node: ListNode = { kind: 'list', start, end: flow ? valueEnd : end, flow, items };
    return { node, size, height: height + 1 };
  }

  #alias(source: Alias, depth: number): Target {
    const [start, end] = source.range ?? [0, 0];
    const use = { start, end };
    const name = source.source;
    if (this.firstAlias.end === 0) this.firstAlias = use;
    this.written++;
    const nothing: Target = { node: { ...emptyAt(start), end, alias: name }, size: 1, height: 0 };
    if (!this.#follow) return nothing;
    const fault = this.#faultOf(name, depth);
    if (fault) {
      this.#fault(problem(fault.rule, use, fault.message));
      return nothing;
    }
    const target = this.#targets.get(name);
    if (!target) return nothing;
    return { ...target, node: { ...target.node, start, end, alias: name } };
  }

  #faultOf(name: string, depth: number): { rule: string; message: string } | undefined {
    if (this.#open.has(name)) {
      const message = `\`*${shown(name)}\` stands inside \`&${shown(name)}\`, so it would hold itself without end. Write the value out here.`;
      return { rule: 'alias-circle', message };
    }
    const target = this.#targets.get(name);
    if (!target) {
      const message = `\`*${shown(name)}\` repeats a value marked \`&${shown(name)}\`, and there is none above this line. Mark the value, or put quotes round text that starts with \`*\`.`;
      return { rule: 'unknown-alias', message };
    }
    if (depth + target.height <= deepest) return undefined;
    const message = `With what \`*${shown(name)}\` stands for, this is nested more than ${deepest} levels deep, which is the most that is read.`;
    return { rule: 'nested-too-deep', message };
  }

  /** Right after the colon or dash: blanks between it and an empty value do not belong to the value. */
  #skipBlanksBack(offset: number): number {
    let at = offset;
    while (at > 0 && isBlank(this.#text.charCodeAt(at - 1))) at--;
    return at;
  }

  #trimEnd(start: number, end: number): number {
    let at = end;
    while (at > start && isBlank(this.#text.charCodeAt(at - 1))) at--;
    return at;
  }
}

function isCollection(source: unknown): source is YAMLMap | YAMLSeq {
  return source instanceof YAMLMap || source instanceof YAMLSeq;
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9 || code === 10 || code === 13;
}

function emptyAt(at: number): ScalarNode {
  return { kind: 'scalar', start: at, end: at, text: '', value: null, quoted: false };
}

/** Numbers beyond what a computer counts with (`1e400`, `.inf`) stay text, so that nobody computes with infinity. */
function plainValue(value: unknown, raw: string): ScalarNode['value'] {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value;
  return typeof value === 'number' && Number.isFinite(value) ? value : raw;
}

function nameTwice(text: string, map: MapNode, first: number, second: number): Problem {
  const [before, key] = [map.pairs[first]!.key, map.pairs[second]!.key];
  const name = shown(key.text);
  const related = [{ start: before.start, end: before.end, message: `${quoted(name)} stands here first.` }];
  const message = `${quoted(name)} stands twice in this block, and the first one counts. Delete one of them, or give this one another name where it is a thing of its own.`;
  const fixes = [
    ...deletion(text, map, second, `Delete this ${quoted(name)}, which is not read`),
    ...deletion(text, map, first, `Delete the first ${quoted(name)}, so that this one counts`),
  ];
  return problem('name-twice', key, message, { related, fixes });
}

/** None for what is marked with `&`, as it may be repeated elsewhere, and none where a comment would go with it. */
function deletion(text: string, map: MapNode, index: number, title: string): Fix[] {
  const { key, value } = map.pairs[index]!;
  if (/&|\s#/.test(text.slice(key.start, value.end))) return [];
  return [{ title, edits: removePairAt(text, map, index), safe: false }];
}
