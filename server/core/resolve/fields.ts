/** Reads the fields of a block through the blocks that it takes over: nearest wins, field by field. */
import {
  child,
  type ListNode,
  type MapNode,
  type Node,
  type Pair,
  pairOf,
  pairsOf,
  type Range,
  type ScalarNode,
} from '../document/node.ts';
import type { Reader } from '../units.ts';
import type { Val } from '../value.ts';

const nothing: Range = { start: 0, end: 0 };

/** Where a block comes from. */
interface Origin {
  /** The kit that it is in; absent for the spec itself. */
  readonly file?: string;
  /** The block itself where it is written in this file, so that a fix can add to it. */
  readonly own?: MapNode;
  /** Where the block would have to be written if it is not. */
  readonly parent?: { readonly fields: Fields; readonly key: string };
  /** What the block takes over. */
  readonly base?: Fields;
}

/** A named block and where its name stands. */
export interface Entry {
  readonly name: string;
  readonly at: Range;
  readonly fields: Fields;
}

export class Fields {
  /** What was read here for blocks that take it over, so that each value is read once and not once a shot. */
  #read: Map<string, { reader: Reader<unknown>; val: Val<unknown> | undefined }> | undefined;
  #blocks: Map<string, Fields> | undefined;

  readonly file?: string;
  readonly own?: MapNode;
  readonly parent?: Origin['parent'];
  readonly base?: Fields;

  /** @param written the block itself; empty where nothing is written */
  constructor(
    readonly written: readonly MapNode[],
    readonly range: Range,
    origin: Origin = {},
  ) {
    this.file = origin.file;
    this.own = origin.own;
    this.parent = origin.parent;
    this.base = origin.base;
  }

  static empty(range: Range = nothing): Fields {
    return new Fields([], range);
  }

  /** The block itself, then what it takes over, nearest first. */
  get layers(): readonly MapNode[] {
    return this.base ? [...this.written, ...this.base.layers] : this.written;
  }

  /** How many layers away the key is said; `Infinity` where it is not. */
  layerOf(key: string): number {
    const index = this.written.findIndex((layer) => pairOf(layer, key) !== undefined);
    return index >= 0 ? index : this.written.length + (this.base?.layerOf(key) ?? Infinity);
  }

  /** The nearest layer's value of the key. */
  node(key: string): Node | undefined {
    return this.#writtenNode(key) ?? this.base?.node(key);
  }

  said(key: string): boolean {
    return this.node(key) !== undefined;
  }

  /** Is the key there, and nothing behind it yet, or a list where names should be, which has its finding? */
  isNoBlock(key: string): boolean {
    const node = this.node(key);
    return node?.kind === 'list' || (node?.kind === 'scalar' && node.text === '');
  }

  /** The range of the key in the nearest layer. */
  keyRange(key: string): Range | undefined {
    for (const layer of this.written) {
      const pair = pairOf(layer, key);
      if (pair) return pair.key;
    }
    return this.base?.keyRange(key);
  }

  read<T>(key: string, reader: Reader<T>): Val<T> | undefined {
    const node = this.#writtenNode(key);
    return node || !this.base ? this.val(scalar(node), reader) : this.base.#readOnce(key, reader);
  }

  #readOnce<T>(key: string, reader: Reader<T>): Val<T> | undefined {
    const known = this.#read?.get(key);
    if (known?.reader === reader) return known.val as Val<T> | undefined;
    const val = this.read(key, reader);
    this.#read ??= new Map();
    this.#read.set(key, { reader, val });
    return val;
  }

  #writtenNode(key: string): Node | undefined {
    for (const layer of this.written) {
      const found = child(layer, key);
      if (found) return found;
    }
    return undefined;
  }

  text(key: string): Val<string> | undefined {
    return this.read(key, nonEmpty);
  }

  word(key: string, fallback: string): string {
    return this.text(key)?.value ?? fallback;
  }

  number<T extends number | undefined>(key: string, reader: Reader<number>, fallback: T): number | T {
    return this.read(key, reader)?.value ?? fallback;
  }

  /** A value or a list of values; what can't be read is left out. Undefined when the key is not there. */
  list<T>(key: string, reader: Reader<T>): Val<T>[] | undefined {
    const node = this.#writtenNode(key);
    if (!node) return this.base?.list(key, reader);
    const items = node.kind === 'list' ? node.items : [node];
    return items.flatMap((item) => this.val(scalar(item), reader) ?? []);
  }

  names(key: string): Val<string>[] {
    return this.list(key, nonEmpty) ?? [];
  }

  words(key: string): string[] {
    return this.names(key).map((val) => val.value);
  }

  /** A block inside this one, on top of the same block of what this one takes over. */
  block(key: string): Fields {
    const written = this.written.map((layer) => child(layer, key)).filter(isMap);
    const own = this.own && asMap(child(this.own, key));
    const at = this.keyRange(key) ?? this.range;
    const parent = { fields: this, key };
    // What is laid on a `none` starts anew.
    const base = isNone(key, this.#writtenNode(key)) ? undefined : this.base && this.base.#blockOnce(key);
    return new Fields(written, at, { file: this.file, own, parent, base });
  }

  /** A block as `block` has it; undefined where it is not said, or the nearest word of it is `none`. */
  blockUnlessNone(key: string): Fields | undefined {
    const node = this.node(key);
    return node && !isNone(key, node) ? this.block(key) : undefined;
  }

  #blockOnce(key: string): Fields {
    let block = this.#blocks?.get(key);
    if (!block) (this.#blocks ??= new Map()).set(key, (block = this.block(key)));
    return block;
  }

  /** Named blocks: each name's own block, without layers. A name that stands twice counts where it stands first. */
  named(key: string): Entry[] {
    const seen = new Set<string>();
    const map = asMap(this.node(key));
    return (map ? pairsOf(map) : []).flatMap((pair) => {
      if (seen.has(pair.key.text)) return [];
      seen.add(pair.key.text);
      return [this.entry(pair)];
    });
  }

  /** One named block of this file. */
  entry({ key: name, value }: Pair): Entry {
    const block = asMap(value);
    return {
      name: name.text,
      at: name,
      fields: new Fields(block ? [block] : [], name, { file: this.file, own: block }),
    };
  }

  /** The blocks of a list. */
  items(key: string): Fields[] {
    const list = asList(this.node(key));
    return (list?.items ?? []).map((item) => this.item(item));
  }

  /** One line of a list of this file. */
  item(item: Node): Fields {
    const block = asMap(item);
    return new Fields(block ? [block] : [], firstKey(item), { file: this.file, own: block });
  }

  /** This block on top of another: what it does not say itself is taken from there. */
  over(base: Fields): Fields {
    const below = this.base ? this.base.over(base) : base;
    return new Fields(this.written, this.range, { file: this.file, own: this.own, parent: this.parent, base: below });
  }

  /** What the block says itself, without what it takes over. */
  alone(): Fields {
    return new Fields(this.written, this.range, { file: this.file, own: this.own, parent: this.parent });
  }

  private val<T>(node: ScalarNode | undefined, reader: Reader<T>): Val<T> | undefined {
    if (!node || node.refused) return undefined;
    const value = reader(node.text);
    if (value === undefined) return undefined;
    return { value, text: node.text, start: node.start, end: node.end, file: this.file };
  }
}

/** Blocks that a word takes away. */
const mayBeNone: ReadonlySet<string> = new Set(['backdrop', 'surface']);

function isNone(key: string, node: Node | undefined): boolean {
  return node?.kind === 'scalar' && node.text === 'none' && mayBeNone.has(key);
}

const nonEmpty: Reader<string> = (text) => (text === '' ? undefined : text);

function scalar(node: Node | undefined): ScalarNode | undefined {
  return node?.kind === 'scalar' && (node.quoted || node.value !== null || node.text !== '') ? node : undefined;
}

function asMap(node: Node | undefined): MapNode | undefined {
  return node?.kind === 'map' ? node : undefined;
}

function asList(node: Node | undefined): ListNode | undefined {
  return node?.kind === 'list' ? node : undefined;
}

function isMap(node: Node | undefined): node is MapNode {
  return node?.kind === 'map';
}

/** A line of a list is pointed at by its first key and value, so that the mark stays on one short stretch. */
function firstKey(item: Node): Range {
  const first = item.kind === 'map' ? item.pairs[0] : undefined;
  if (!first) return item;
  return {
    start: first.key.start,
    end: first.value.kind === 'scalar' ? Math.max(first.key.end, first.value.end) : first.key.end,
  };
}
