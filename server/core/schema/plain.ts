/** The tree as plain data for the validators, read by what each field may hold. */
import { type ListNode, type MapNode, type Node, type Pair, pairsOf, type ScalarNode } from '../document/node.ts';
import type { FileKind, RawField } from './fields.ts';
import { below, isNumber, oneOf, shapeOf, typesOf } from './fields.ts';

/** How many values are looked at, with everything counted as often as it is repeated by `*` names. */
export const mostValues = 100_000;
/** How many unknown keys of one block are looked at: a file full of them needs no more. */
const mostUnknown = 200;

export interface Visitor {
  scalar(node: ScalarNode, field: RawField, key: Pair | undefined): void;
  map(node: MapNode, field: RawField, key: Pair | undefined): void;
}

export interface Plain {
  readonly data: unknown;
  /** How many values it holds; above `mostValues` not all of them were looked at. */
  readonly values: number;
}

interface Known {
  readonly value: unknown;
  readonly size: number;
}

/** Turns a tree into data without prototypes; every value of a known field is shown to the visitor, one that `*` names repeat twice at most. */
export function toPlain(root: Node, kind: FileKind, field: RawField, visitor: Visitor): Plain {
  const reader = new PlainReader(kind, visitor);
  const data = reader.read(root, field, undefined);
  return { data, values: reader.count };
}

class PlainReader {
  count = 0;
  readonly #kind: FileKind;
  readonly #visitor: Visitor;
  /** What an alias stands for is read once for each field that it is used as. */
  readonly #known = new WeakMap<readonly unknown[], Map<RawField, Known>>();

  constructor(kind: FileKind, visitor: Visitor) {
    this.#kind = kind;
    this.#visitor = visitor;
  }

  read(node: Node, field: RawField, key: Pair | undefined): unknown {
    this.count++;
    if (this.count > mostValues) return undefined;
    if (node.kind === 'scalar') return this.#scalar(node, field, key);
    return node.alias === undefined ? this.#parts(node, field, key) : this.#repeated(node, field, key);
  }

  #parts(node: MapNode | ListNode, field: RawField, key: Pair | undefined): unknown {
    return node.kind === 'map' ? this.#map(node, field, key) : this.#list(node, field, key);
  }

  #repeated(node: MapNode | ListNode, field: RawField, key: Pair | undefined): unknown {
    const parts = node.kind === 'map' ? node.pairs : node.items;
    const before = this.#known.get(parts)?.get(field);
    if (before) {
      this.count += before.size;
      return before.value;
    }
    const start = this.count;
    const value = this.#parts(node, field, key);
    const fields = this.#known.get(parts) ?? new Map<RawField, Known>();
    fields.set(field, { value, size: this.count - start });
    this.#known.set(parts, fields);
    return value;
  }

  #scalar(node: ScalarNode, field: RawField, key: Pair | undefined): unknown {
    this.#visitor.scalar(node, field, key);
    if (isEmpty(node)) return null;
    const types = typesOf(field);
    const wantsNumber = types.includes('number') || types.includes('integer');
    return wantsNumber && !node.quoted && isNumber(field, node.text) ? Number(node.text) : node.text;
  }

  #map(node: MapNode, field: RawField, key: Pair | undefined): unknown {
    const data = Object.create(null) as Record<string, unknown>;
    const shape = shapeOf(field);
    if (shape !== 'block' && shape !== 'named') return data;
    this.#visitor.map(node, field, key);
    let unknown = 0;
    for (const pair of pairsOf(node)) {
      const name = pair.key.text;
      if (Object.hasOwn(data, name)) continue;
      const inner = below(this.#kind, field, name);
      if (inner) {
        const value = this.read(pair.value, inner, pair);
        if (value !== undefined) data[name] = value;
      }
      if (!inner && unknown++ < mostUnknown) data[name] = null;
    }
    return data;
  }

  #list(node: ListNode, field: RawField, key: Pair | undefined): unknown {
    const inner = field.items && below(this.#kind, field, 0);
    if (!inner) return [];
    const item = shapeOf(field) === 'values' ? oneOf(field) : inner;
    const values: unknown[] = [];
    for (const each of node.items) {
      const value = this.read(each, item, key);
      // Nothing more is read from here on, so the list just ends.
      if (value === undefined) break;
      values.push(value);
    }
    return values;
  }
}

/** Nothing at all, nothing between quotes, or YAML's own words for nothing. */
export function isEmpty(node: ScalarNode): boolean {
  return node.text.trim() === '' || (!node.quoted && node.value === null);
}
