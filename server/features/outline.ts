/** The outline of a file: its blocks, the names in them, and the lines of its lists, each with what matters most. */
import { isMerge, type MapNode, type Node, type Pair, type Range } from '../core/document/node.ts';
import { gearKinds } from '../core/resolve/kit.ts';

export interface OutlineEntry {
  readonly name: string;
  readonly detail: string;
  readonly kind: 'block' | 'name' | 'value' | 'line';
  /** Key and value. */
  readonly range: Range;
  /** The key alone. */
  readonly at: Range;
  readonly children: readonly OutlineEntry[];
}

/** Blocks whose keys are names that the user gave. */
const namedBlocks = new Set<string>([...gearKinds, 'deliver', 'set-ups', 'shots', 'rights', 'parts', 'rules']);

export function outline(root: Node | undefined): OutlineEntry[] {
  return root?.kind === 'map' ? root.pairs.map((pair) => entry(pair, 'block')) : [];
}

function entry(pair: Pair, kind: 'block' | 'name'): OutlineEntry {
  const { key, value } = pair;
  const named = value.kind === 'map' && namedBlocks.has(key.text) && kind === 'block';
  return {
    name: key.text || '(no name)',
    detail: named || value.kind === 'list' ? `${size(value)}` : brief(value),
    kind: value.kind === 'scalar' ? 'value' : kind,
    range: { start: key.start, end: Math.max(key.end, value.end) },
    at: { start: key.start, end: key.end },
    children: children(key.text, value, named),
  };
}

function children(key: string, value: Node, named: boolean): OutlineEntry[] {
  if (value.kind === 'list') return value.items.map((item, index) => line(key, item, index));
  if (value.kind !== 'map') return [];
  const inside = named
    ? value.pairs.filter((pair) => !isMerge(pair))
    : value.pairs.filter((pair) => namedBlocks.has(pair.key.text));
  return inside.map((pair) => entry(pair, named ? 'name' : 'block'));
}

function line(key: string, item: Node, index: number): OutlineEntry {
  const range = { start: item.start, end: item.end };
  return { name: `${key} ${index + 1}`, detail: brief(item), kind: 'line', range, at: range, children: [] };
}

function size(value: Node): number {
  return value.kind === 'map' ? value.pairs.length : value.kind === 'list' ? value.items.length : 0;
}

/** The plain values of a block, as far as they fit. */
function brief(value: Node): string {
  if (value.kind === 'scalar') return shorten(value.text);
  if (value.kind === 'list') return shorten(value.items.map(brief).join(', '));
  return shorten(values(value).join(', '));
}

function values(map: MapNode): string[] {
  return map.pairs.flatMap(({ value }) => (value.kind === 'scalar' && value.text ? [value.text] : []));
}

function shorten(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > 60 ? `${line.slice(0, 59)}…` : line;
}
