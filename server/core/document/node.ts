/**
 * The tree that every later step walks: what the file says, and at which characters.
 *
 * It is ours and not the YAML library's, so that one module knows that library and so that values are read from
 * the text as written (`007` stays `007`). Offsets are UTF-16 code units from the start of the file.
 */

/** Characters from `start` up to, not including, `end`. */
export interface Range {
  readonly start: number;
  readonly end: number;
}

export type Node = ScalarNode | MapNode | ListNode;

export interface ScalarNode extends Range {
  readonly kind: 'scalar';
  /** The value as a reader sees it: quotes and folds taken away. Empty for an empty value. */
  readonly text: string;
  /** What YAML 1.2 makes of it. */
  readonly value: string | number | boolean | null;
  /** False for plain text; true inside quotes or as a `|` or `>` block. */
  readonly quoted: boolean;
  /** Set where this value was reached through `*name`: the range is then that of the `*name`. */
  readonly alias?: string;
}

export interface MapNode extends Range {
  readonly kind: 'map';
  /** True for `{ a: 1 }`. */
  readonly flow: boolean;
  readonly pairs: readonly Pair[];
  readonly alias?: string;
}

export interface ListNode extends Range {
  readonly kind: 'list';
  /** True for `[a, b]`. */
  readonly flow: boolean;
  readonly items: readonly Node[];
  readonly alias?: string;
}

export interface Pair {
  readonly key: ScalarNode;
  /** An empty value is a scalar of zero width with the value `null`. */
  readonly value: Node;
}

/** A `#` comment. */
export interface Comment extends Range {
  /** The text after `#`, trimmed. */
  readonly text: string;
  /** True when nothing but blanks stands before it on its line. */
  readonly alone: boolean;
}

/** The value under a key, or undefined. A key that stands twice counts where it stands first. */
export function child(node: Node | undefined, key: string): Node | undefined {
  return pairOf(node, key)?.value;
}

/** The key and value under a name, or undefined. */
export function pairOf(node: Node | undefined, key: string): Pair | undefined {
  if (node?.kind !== 'map') return undefined;
  if (node.pairs.length <= fewPairs) return node.pairs.find((pair) => pair.key.text === key);
  let index = indexes.get(node.pairs);
  if (!index) indexes.set(node.pairs, (index = indexOf(node.pairs)));
  return index.get(key);
}

/** Up to so many pairs are searched one by one. */
const fewPairs = 32;

/** The pairs of large maps by name, so that asking for each of 70,000 names does not take 70,000 searches. */
const indexes = new WeakMap<readonly Pair[], Map<string, Pair>>();

function indexOf(pairs: readonly Pair[]): Map<string, Pair> {
  // Written backwards, so that of two equal names the first one stays.
  return new Map(pairs.map((pair): [string, Pair] => [pair.key.text, pair]).reverse());
}

/** The node at a path of keys and list positions, or undefined. */
export function at(node: Node | undefined, path: readonly (string | number)[]): Node | undefined {
  let here = node;
  for (const step of path) {
    here = typeof step === 'number' ? (here?.kind === 'list' ? here.items[step] : undefined) : child(here, step);
  }
  return here;
}
