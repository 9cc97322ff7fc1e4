/** What a file names: ids of things, paths of files and colours, each at its characters. Told by the schemas, in one walk. */
import { isMerge, type MapNode, type Node, pairOf, type Range, type ScalarNode } from '../core/document/node.ts';
import { onceAt } from '../core/memo.ts';
import { below, type FileKind, oneOf, type RawField, rootOf, shapeOf } from '../core/schema/fields.ts';

/** A name where it is defined or used. Its range leaves quotes out. */
export interface Id extends Range {
  /** What it may be the name of: `shot`, `kit-lamp`… */
  readonly kinds: readonly string[];
  readonly name: string;
  readonly defines: boolean;
  /** The key that it stands under. */
  readonly key: string;
  /** Set on a lamp place that says no `use` and so takes the lamp of its own name: the place's block. */
  readonly place?: Node;
}

export interface ColourPlace extends Range {
  readonly quantity: 'colour' | 'kelvin';
  readonly text: string;
}

export interface Places {
  readonly ids: readonly Id[];
  readonly paths: readonly ScalarNode[];
  readonly colours: readonly ColourPlace[];
}

const nothing: Places = { ids: [], paths: [], colours: [] };

/** In the order of the text. */
export function placesOf(kind: FileKind, root: Node | undefined): Places {
  return root ? placesIn(root, kind) : nothing;
}

const placesIn = onceAt((root: Node, kind: FileKind) => new Walk(kind).run(root));

class Walk {
  readonly #ids: Id[] = [];
  readonly #paths: ScalarNode[] = [];
  readonly #colours: ColourPlace[] = [];

  constructor(readonly kind: FileKind) {}

  run(root: Node): Places {
    this.#visit(root, rootOf(this.kind), '');
    return { ids: this.#ids, paths: this.#paths, colours: this.#colours };
  }

  /** What is reached through `*name` stands somewhere else, and is met there. */
  #visit(node: Node, field: RawField, key: string): void {
    if (node.alias !== undefined) return;
    if (node.kind === 'map') this.#map(node, field, key);
    else if (node.kind === 'list') this.#list(node.items, field, key);
    else this.#scalar(node, shapeOf(field) === 'values' ? oneOf(field) : field, key);
  }

  #list(items: readonly Node[], field: RawField, key: string): void {
    const one = shapeOf(field) === 'values' ? oneOf(field) : below(this.kind, field, 0);
    if (one) for (const item of items) this.#visit(item, one, key);
  }

  #map(map: MapNode, field: RawField, key: string): void {
    const defines = field['x-defines'];
    const named = defines ?? (typeof field.additionalProperties === 'object' ? field['x-names'] : undefined);
    for (const pair of map.pairs) {
      if (isMerge(pair)) continue;
      if (named) this.#id(pair.key, named, key, defines !== undefined);
      if (defines === 'lamp-place') this.#unsaidLamp(pair.key, pair.value);
      if (key === '' && pair.key.text === 'product') this.#id(pair.key, 'product', key, true);
      const inner = below(this.kind, field, pair.key.text);
      if (inner) this.#visit(pair.value, inner, pair.key.text);
    }
  }

  #scalar(node: ScalarNode, field: RawField, key: string): void {
    if (node.text === '') return;
    const names = field['x-names'];
    if (names !== undefined) this.#id(node, node.text === 'product' ? 'product' : names, key, false);
    const quantity = field['x-quantity'];
    if (quantity === 'path') this.#paths.push(node);
    if (quantity === 'colour') this.#colours.push({ ...inside(node), quantity, text: node.text });
    // A white balance is a setting and looks like nothing; a light of its temperature does.
    if (quantity === 'kelvin' && key === 'temperature')
      this.#colours.push({ ...inside(node), quantity, text: node.text });
  }

  #id(node: ScalarNode, kinds: string | readonly string[], key: string, defines: boolean): void {
    if (node.text === '' || node.text === 'none') return;
    const { start, end } = inside(node);
    // With escapes in it, the characters are not the name's own.
    if (end - start !== node.text.length) return;
    this.#ids.push({ kinds: typeof kinds === 'string' ? [kinds] : kinds, name: node.text, defines, key, start, end });
  }

  #unsaidLamp(key: ScalarNode, place: Node): void {
    if (place.alias !== undefined || pairOf(place, 'use') || pairOf(place, 'moved-from')) return;
    const { start, end } = inside(key);
    this.#ids.push({ kinds: ['kit-lamp'], name: key.text, defines: false, key: 'use', place, start, end });
  }
}

/** The characters of a scalar without its quotes. */
function inside({ start, end, quoted, text }: ScalarNode): Range {
  return quoted && end - start === text.length + 2 ? { start: start + 1, end: end - 1 } : { start, end };
}

/** The names that touch a place, a definition first. */
export function idsAt({ ids }: Places, offset: number): Id[] {
  return ids
    .filter(({ start, end }) => start <= offset && offset <= end)
    .sort((a, b) => Number(b.defines) - Number(a.defines));
}

/** Kinds that are defined in kits. */
export const gearKinds: ReadonlySet<string> = new Set([
  'camera',
  'lens',
  'filter',
  'support',
  'kit-lamp',
  'modifier',
  'screen',
  'turntable',
  'microphone',
  'card',
  'battery',
  'reel',
]);

/** Parts, things that are shown and rights share their names: a right covers what has its name. */
const things: ReadonlySet<string> = new Set(['part', 'shown-thing', 'right']);

/** May two kinds of name mean the same thing? */
export function sameKind(a: string, b: string): boolean {
  return a === b || (things.has(a) && things.has(b));
}

export function alike(a: Id, b: Id): boolean {
  return a.name === b.name && a.kinds.some((one) => b.kinds.some((other) => sameKind(one, other)));
}
