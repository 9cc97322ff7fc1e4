/** A tree in which keys that can only be slips read as what they mean, so that one slip makes one finding and not five. */
import type { Node, Pair, ScalarNode } from './node.ts';

export function asMeant(node: Node, meant: ReadonlyMap<ScalarNode, string>): Node {
  if (meant.size === 0 || node.kind === 'scalar') return node;
  if (node.kind === 'list') return { ...node, items: node.items.map((item) => asMeant(item, meant)) };
  return { ...node, pairs: node.pairs.map((pair) => pairAsMeant(pair, meant)) };
}

function pairAsMeant({ key, value }: Pair, meant: ReadonlyMap<ScalarNode, string>): Pair {
  const text = meant.get(key);
  return { key: text === undefined ? key : { ...key, text }, value: asMeant(value, meant) };
}
