/** A tree in which keys and values read as other texts: what slips mean, so that one slip makes one finding and not five. */
import type { Node, Pair, ScalarNode } from './node.ts';

export function asMeant(node: Node, meant: ReadonlyMap<ScalarNode, string>): Node {
  if (meant.size === 0) return node;
  if (node.kind === 'scalar') return scalarAsMeant(node, meant);
  if (node.kind === 'list') return { ...node, items: node.items.map((item) => asMeant(item, meant)) };
  return { ...node, pairs: node.pairs.map((pair) => pairAsMeant(pair, meant)) };
}

function pairAsMeant({ key, value }: Pair, meant: ReadonlyMap<ScalarNode, string>): Pair {
  return { key: scalarAsMeant(key, meant), value: asMeant(value, meant) };
}

function scalarAsMeant(node: ScalarNode, meant: ReadonlyMap<ScalarNode, string>): ScalarNode {
  const text = meant.get(node);
  return text === undefined ? node : { ...node, text, value: text };
}
