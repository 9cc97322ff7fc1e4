/**
 * The tree that every later step walks: what the file says, and at which characters.
 *
 * It is ours and not the YAML library's, so that one module knows that library and so that values are read from
 * the text as written (`007` stays `007`). Offsets are UTF-16 code units from the start of the file.
 */
import { once } from '../memo.ts';

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
  /** Set by the check of the format where nothing may be computed from the value. */
  readonly refused?: true;
  /** Set where this value was reached through `*name`: the range is then that of the `*name`. */
  readonly alias?: string;
}

export interface MapNode extends Range {
  readonly kind: 'map';
  /** True for `{ a: 1 }`. */
  readonly flow: boolean;
  /** As they are written, `<<: *name` among them. */
  readonly pairs: readonly Pair[];
  readonly alias?: string;
  /** Set where one of them is `<<: *name`, which takes over what that block says and this one does not. */
  readonly merges?: true;
  /** Set where only the value of its one key is written: that key has no characters. */
  readonly short?: true;
}

export interface ListNode extends Range {
  readonly kind: 'list';
  /** True for `[a, b]`. */
  readonly flow: boolean;
  readonly items: readonly Node[];
  readonly alias?: string;
  /** Set where its one line is written without the list. */
  readonly short?: true;
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
  const written = writtenPair(node.pairs, key);
  if (written || !node.merges) return written;
  for (const block of mergedBy(node)) {
    const pair = pairOf(block, key);
    if (pair) return pair;
  }
  return undefined;
}

/** All that a block says: what is written in it, then what it takes over with `<<`. */
export function pairsOf(map: MapNode): readonly Pair[] {
  if (!map.merges) return map.pairs;
  const own = map.pairs.filter((pair) => !isMerge(pair));
  const names = new Set(own.map(({ key }) => key.text));
  const more = mergedBy(map).flatMap(pairsOf);
  // Of two blocks that are taken over the first one counts.
  return [...own, ...more.filter(({ key }) => !names.has(key.text) && names.add(key.text))];
}

/** Does this take over another block, as `<<: *name` does? */
export function isMerge({ key, value }: Pair): boolean {
  return key.text === '<<' && !key.quoted && value.kind !== 'scalar';
}

/** The blocks that one takes over with `<<`, as `*name` or as a list of such names. */
function mergedBy(map: MapNode): MapNode[] {
  const values = map.pairs.filter(isMerge).flatMap(({ value }) => (value.kind === 'list' ? value.items : [value]));
  return values.filter((value) => value.kind === 'map');
}

function writtenPair(pairs: readonly Pair[], key: string): Pair | undefined {
  return pairs.length <= fewPairs ? pairs.find((pair) => pair.key.text === key) : indexOf(pairs).get(key);
}

/** Up to so many pairs are searched one by one. */
const fewPairs = 32;

/** The pairs of large maps by name, so that asking for each of 70,000 names does not take 70,000 searches. */
const indexOf = once(
  // Written backwards, so that of two equal names the first one stays.
  (pairs: readonly Pair[]) => new Map(pairs.map((pair): [string, Pair] => [pair.key.text, pair]).reverse()),
);

/** The same list where nothing in it changes. */
export function changed<T>(all: readonly T[], change: (one: T) => T): readonly T[] {
  let result: T[] | undefined;
  for (let index = 0; index < all.length; index++) {
    const before = all[index]!;
    const after = change(before);
    if (after === before && !result) continue;
    result ??= all.slice(0, index);
    result.push(after);
  }
  return result ?? all;
}

/** The node at a path of keys and list positions, or undefined. */
export function at(node: Node | undefined, path: readonly (string | number)[]): Node | undefined {
  let here = node;
  for (const step of path) {
    here = typeof step === 'number' ? (here?.kind === 'list' ? here.items[step] : undefined) : child(here, step);
  }
  return here;
}
