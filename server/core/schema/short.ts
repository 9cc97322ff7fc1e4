/**
 * What may be written shorter than it is meant: a value alone for the block whose one key it is (`teeth: C0017.MP4` for
 * `teeth: { clip: C0017.MP4 }`), and one line alone for a list of one. The tree is as it is meant; places stay.
 */
import { changed, type MapNode, type Node, type Pair, type ScalarNode } from '../document/node.ts';
import type { Doc } from '../document/parse.ts';
import { below, type FileKind, type RawField, rootOf } from './fields.ts';
import { isEmpty } from './plain.ts';

/** The document with all that is short written out; the same where nothing is. */
export function readShort(doc: Doc, kind: FileKind): Doc {
  if (!doc.root || doc.broken || !hasShort(kind)) return doc;
  const root = written(doc.root, kind, rootOf(kind));
  return root === doc.root ? doc : { ...doc, root };
}

/** Take sheets alone have such fields. */
function hasShort(kind: FileKind): boolean {
  return kind === 'takes';
}

function written(node: Node, kind: FileKind, field: RawField | undefined): Node {
  if (!field) return node;
  if (field['x-alone'] && node.kind !== 'list' && !isNothing(node)) {
    const item = written(node, kind, below(kind, field, 0));
    return { kind: 'list', flow: true, short: true, start: node.start, end: node.end, items: [item] };
  }
  if (node.kind === 'scalar') return asBlock(node, field);
  if (node.kind === 'list') {
    const items = changed(node.items, (item) => written(item, kind, below(kind, field, 0)));
    return items === node.items ? node : { ...node, items };
  }
  const pairs = changed(node.pairs, (pair): Pair => {
    const value = written(pair.value, kind, below(kind, field, pair.key.text));
    return value === pair.value ? pair : { key: pair.key, value };
  });
  return pairs === node.pairs ? node : { ...node, pairs };
}

/** A block that is written as the value of its one key. */
function asBlock(node: ScalarNode, field: RawField): Node {
  const short = field['x-short'];
  if (short === undefined || isEmpty(node)) return node;
  const { start, end } = node;
  const key: ScalarNode = { kind: 'scalar', text: short, value: short, quoted: false, start, end: start };
  const map: MapNode = { kind: 'map', flow: true, short: true, start, end, pairs: [{ key, value: node }] };
  return node.alias === undefined ? map : { ...map, alias: node.alias };
}

function isNothing(node: Node): boolean {
  return node.kind === 'scalar' && isEmpty(node);
}
