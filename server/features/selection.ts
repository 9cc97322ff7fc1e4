/** What is selected step by step outwards from a place: the value, its key with it, the block, and so on to the whole file. */
import type { Node, Range } from '../core/document/node.ts';

/** From the smallest to the whole file, each larger than the one before. */
export function selectionsAt(root: Node | undefined, length: number, offset: number): Range[] {
  const found: Range[] = [{ start: 0, end: length }];
  if (root) descend(root, offset, found);
  const growing = found.filter((one, index) => {
    const outer = found[index - 1];
    return !outer || one.start !== outer.start || one.end !== outer.end;
  });
  const inside = growing.filter(({ start, end }) => start <= offset && offset <= end);
  return inside.length > 0 ? inside.reverse() : [{ start: 0, end: length }];
}

function descend(node: Node, offset: number, found: Range[]): void {
  if (node.start > offset || node.end < offset) return;
  found.push({ start: node.start, end: node.end });
  if (node.alias !== undefined) return;
  if (node.kind === 'scalar') {
    if (node.quoted && node.end - node.start === node.text.length + 2)
      found.push({ start: node.start + 1, end: node.end - 1 });
    return;
  }
  if (node.kind === 'list') {
    const item = node.items.find(({ start, end }) => start <= offset && offset <= end);
    if (item) descend(item, offset, found);
    return;
  }
  for (const { key, value } of node.pairs) {
    const whole = { start: key.start, end: Math.max(key.end, value.end) };
    if (whole.start > offset || whole.end < offset) continue;
    found.push(whole);
    descend(offset <= key.end ? key : value, offset, found);
    return;
  }
}
