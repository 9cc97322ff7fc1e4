/** The tree as later steps read it: slips as the texts that they mean, and values that the format refuses marked so. */
import { changed, type Node, type Pair, type ScalarNode } from './node.ts';

export interface Readings {
  /** Keys and values of which it is plain what they mean, or which another text stands in for. */
  readonly meant: ReadonlyMap<Node, string>;
  /** Values such as a distance of nothing: they are told of once, and nothing is computed from them. */
  readonly refused: ReadonlySet<Node>;
}

/** Shares all of the tree that is read as it is written. */
export function asRead(node: Node, readings: Readings): Node {
  if (readings.meant.size === 0 && readings.refused.size === 0) return node;
  if (node.kind === 'scalar') return scalarAsRead(node, readings);
  if (node.kind === 'list') {
    const items = changed(node.items, (item) => asRead(item, readings));
    return items === node.items ? node : { ...node, items };
  }
  const pairs = changed(node.pairs, (pair) => pairAsRead(pair, readings));
  return pairs === node.pairs ? node : { ...node, pairs };
}

function pairAsRead(pair: Pair, readings: Readings): Pair {
  const key = scalarAsRead(pair.key, readings);
  const value = asRead(pair.value, readings);
  return key === pair.key && value === pair.value ? pair : { key, value };
}

function scalarAsRead(node: ScalarNode, { meant, refused }: Readings): ScalarNode {
  const text = meant.get(node);
  if (text !== undefined) return { ...node, text, value: text };
  return refused.has(node) ? { ...node, refused: true } : node;
}
