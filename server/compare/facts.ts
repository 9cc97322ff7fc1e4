/** Everything that a block says, whatever its fields are called: a flat list, so that no field can be forgotten. */
import { type MapNode, type Node, pairsOf } from '../core/document/node.ts';
import { quoted } from '../core/say.ts';
import { Fields } from '../core/resolve/fields.ts';
import { type FieldPath, type FileKind, fieldAt } from '../core/schema/fields.ts';
import { sameQuantity } from './quantity.ts';
import type { FieldChange } from './comparison.ts';

export interface Fact {
  readonly name: string;
  /** As it is shown. */
  readonly text: string;
  /** As it was written. */
  readonly raw: string;
  readonly quantity?: string;
}

/** Facts by their names, in the order in which they stand. */
export type Facts = ReadonlyMap<string, Fact>;

/** Longer texts are cut where they are shown. */
const longest = 80;

/**
 * What the block says itself or takes over, blocks inside it included.
 * @param at where the block stands, for what the schema knows of its fields
 * @param without keys that somebody else compares
 */
export function factsOf(
  fields: Fields,
  kind: FileKind,
  at: FieldPath,
  without: readonly string[] = [],
): Map<string, Fact> {
  const facts = new Map<string, Fact>();
  const visit = (block: Fields, path: FieldPath, name: readonly string[]) => {
    for (const key of keysOf(block)) {
      if (path.length === at.length && without.includes(key)) continue;
      const node = block.node(key);
      if (node?.kind === 'map') visit(block.block(key), [...path, key], [...name, key]);
      else if (node?.kind === 'list' && node.items.some((item) => item.kind === 'map')) {
        for (const [index, item] of node.items.entries()) {
          const inner = item.kind === 'map' ? new Fields([item], item) : Fields.empty(item);
          visit(inner, [...path, key, index], [...name, key, `${index + 1}`]);
        }
      } else if (node) add(facts, [...name, key], node, kind, [...path, key]);
    }
  };
  visit(fields, at, []);
  return facts;
}

/** A fact that is not a field as written: what a default or a set-up comes to. */
export function fact(name: string, text: string | undefined): [string, Fact][] {
  return text === undefined || text === '' ? [] : [[name, { name, text: cut(text), raw: text }]];
}

/** The whole file as one block. */
export function topOf(root: Node | undefined): Fields {
  const map: MapNode | undefined = root?.kind === 'map' ? root : undefined;
  return new Fields(map ? [map] : [], root ?? { start: 0, end: 0 }, { own: map });
}

function add(facts: Map<string, Fact>, names: readonly string[], node: Node, kind: FileKind, path: FieldPath): void {
  const raw = rawText(node);
  if (raw === '') return;
  const field = fieldAt(kind, path);
  const isPlain = field?.quantity !== undefined || (field?.words.length ?? 0) > 0 || /^[a-z0-9, -]*$/.test(raw);
  const name = names.join(' ');
  facts.set(name, { name, text: isPlain ? cut(raw) : quoted(cut(raw)), raw, quantity: field?.quantity });
}

function keysOf(block: Fields): string[] {
  return [...new Set(block.layers.flatMap((layer) => pairsOf(layer).map((pair) => pair.key.text)))];
}

function rawText(node: Node): string {
  if (node.kind === 'scalar') return node.text;
  return node.kind === 'list' ? node.items.map(rawText).join(', ') : '';
}

function cut(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  const letters = [...line];
  return letters.length <= longest ? line : `${letters.slice(0, longest - 1).join('')}…`;
}

/** Fields that say something else. `50 cm` and `500 mm` say the same. */
export function changesBetween(before: Facts, after: Facts): FieldChange[] {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  return names.flatMap((name): FieldChange[] => {
    const [a, b] = [before.get(name), after.get(name)];
    if (a?.raw === b?.raw || (a && b && sameQuantity(a.quantity, a.raw, b.raw))) return [];
    if (a && b && a.text === b.text) return [{ name, before: a.text, after: `${b.text} (further on)` }];
    return [{ name, before: a?.text, after: b?.text }];
  });
}
