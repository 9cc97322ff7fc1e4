/**
 * Values that the format refuses, such as a distance of nothing or `-0 K`: they are told of once, and nothing is
 * computed from them, as if they could not be read.
 */
import type { Node } from './node.ts';

const refused = new WeakSet<Node>();

export function refuse(node: Node): void {
  refused.add(node);
}

export function isRefused(node: Node): boolean {
  return refused.has(node);
}
