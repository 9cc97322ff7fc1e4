/** The same things further on in the text, as they are when something was written before them. */
import type { Finding } from '../finding.ts';
import type { Node, Pair, Range } from './node.ts';
import { isRefused, refuse } from './refused.ts';

/** A copy of a tree; the tree itself where it stays. */
export function shiftNode<N extends Node>(node: N, by: number): N {
  if (by === 0) return node;
  const moved = copy(node, by) as N;
  if (isRefused(node)) refuse(moved);
  return moved;
}

// Written out without spreads: whole files pass through here while somebody types.
function copy(node: Node, by: number): Node {
  const [start, end] = [node.start + by, node.end + by];
  switch (node.kind) {
    case 'scalar':
      return { kind: 'scalar', start, end, text: node.text, value: node.value, quoted: node.quoted };
    case 'map':
      return { kind: 'map', start, end, flow: node.flow, pairs: node.pairs.map((pair) => shiftPair(pair, by)) };
    case 'list':
      return { kind: 'list', start, end, flow: node.flow, items: node.items.map((item) => shiftNode(item, by)) };
  }
}

export function shiftPair({ key, value }: Pair, by: number): Pair {
  return { key: shiftNode(key, by), value: shiftNode(value, by) };
}

export function shiftRange<R extends Range>(range: R, by: number): R {
  return { ...range, start: range.start + by, end: range.end + by };
}

export function shiftFinding(finding: Finding, by: number): Finding {
  return {
    ...shiftRange(finding, by),
    related: finding.related.map((one) => (one.file === undefined ? shiftRange(one, by) : one)),
    fixes: finding.fixes.map((fix) => ({ ...fix, edits: fix.edits.map((edit) => shiftRange(edit, by)) })),
  };
}
