/** What stands at a place of the text. */
import type { Node, Pair, Range } from '../core/document/node.ts';

export interface FoundNode {
  /** Keys and list positions from the top to what is here. */
  readonly path: readonly (string | number)[];
  /** The innermost key and value that the place belongs to. */
  readonly pair?: Pair;
  /** The characters of the key or the value that the place touches. */
  readonly range: Range;
  readonly onKey: boolean;
}

/** Undefined between things: on blank lines, comments and punctuation. */
export function nodeAt(root: Node | undefined, offset: number): FoundNode | undefined {
  return root && find(root, [], undefined, offset);
}

function find(
  node: Node,
  path: readonly (string | number)[],
  pair: Pair | undefined,
  offset: number,
): FoundNode | undefined {
  if (node.kind === 'scalar') {
    return touches(node, offset) && node.end > node.start ? { path, pair, range: node, onKey: false } : undefined;
  }
  if (node.alias !== undefined && touches(node, offset)) return { path, pair, range: node, onKey: false };
  if (node.kind === 'list') {
    for (const [index, item] of node.items.entries()) {
      const found = spans(item, offset) ? find(item, [...path, index], pair, offset) : undefined;
      if (found) return found;
    }
    return undefined;
  }
  for (const one of node.pairs) {
    const inside = [...path, one.key.text];
    if (touches(one.key, offset)) return { path: inside, pair: one, range: one.key, onKey: true };
    const found = spans(one.value, offset) ? find(one.value, inside, one, offset) : undefined;
    if (found) return found;
  }
  return undefined;
}

function touches(range: Range, offset: number): boolean {
  return range.start <= offset && offset <= range.end;
}

/** An aliased value is written elsewhere; only its `*name` is here, and that is its range. */
function spans(node: Node, offset: number): boolean {
  return touches(node, offset);
}
