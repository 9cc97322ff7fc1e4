/** The names that a file may use, each with what it is. */
import { kindOf } from '../../core/paths.ts';
import type { FileKind, Field } from '../../core/schema/fields.ts';
import type { Node } from '../../core/document/node.ts';
import { at, child } from '../../core/document/node.ts';
import type { Rule } from '../../core/rule.ts';
import type { Here } from '../navigation.ts';
import { gearKinds, type Id, type Places, sameKind } from '../places.ts';

export interface KnownName {
  readonly name: string;
  readonly what: string;
}

/** What the key of each kind is called. */
const kindWords: Readonly<Record<string, string>> = {
  'kit-lamp': 'lamp',
  'lamp-place': 'lamp',
  'shown-thing': 'thing that is shown',
};

export function kindWord(kind: string): string {
  return kindWords[kind] ?? kind;
}

/** Names that a field may refer to. */
export function namesFor(field: Field, here: Here): KnownName[] {
  const found = new Map<string, KnownName>();
  const add = (name: string, what: string) => {
    if (!found.has(name)) found.set(name, { name, what });
  };
  if (field.names.includes('part')) add('product', 'the whole product');
  for (const { places, root } of sources(field.names, here)) {
    for (const id of places.ids) {
      if (id.defines && refersTo(field, id)) add(id.name, whatOf(root, id));
    }
  }
  if (field.names.includes('shown-thing')) {
    for (const id of here.places.ids) if (id.kinds.includes('shown-thing')) add(id.name, 'named in this film');
  }
  return [...found.values()];
}

function sources(kinds: readonly string[], here: Here): { places: Places; root: Node | undefined }[] {
  const own = { places: here.places, root: here.doc.root };
  if (here.kind === 'kit' || !kinds.some((kind) => gearKinds.has(kind))) return [own];
  return here.files.kitsOf(here).map(({ places, doc }) => ({ places, root: doc.root }));
}

/** Things that are shown may be parts; a track may not. */
function refersTo({ names }: Field, id: Id): boolean {
  return names.some(
    (name) =>
      id.kinds.includes(name) || (name === 'shown-thing' && sameKind(name, id.kinds[0]!) && id.kinds[0] !== 'right'),
  );
}

/** `focal 25 mm · aperture f/1.7 to f/22`: the first plain values of the block that the name stands over. */
function whatOf(root: Node | undefined, id: Id): string {
  const block = at(root, [...(parents[id.kinds[0]!] ?? [id.key]), id.name]);
  if (block?.kind !== 'map') return kindWord(id.kinds[0]!);
  const plain = block.pairs.filter(
    ({ key, value }) => value.kind === 'scalar' && value.text !== '' && !unsaying.has(key.text),
  );
  const facts = plain.slice(0, 3).map(({ key, value }) => `${key.text} ${value.kind === 'scalar' ? value.text : ''}`);
  return facts.length > 0 ? facts.join(' · ') : kindWord(id.kinds[0]!);
}

const parents: Readonly<Record<string, readonly string[]>> = { part: ['product', 'parts'] };
const unsaying: ReadonlySet<string> = new Set(['fits', 'count', 'notes']);

/** Names that are used and defined nowhere yet: what may be written as the next block of a kind. */
export function missingNames(field: Field, here: Here): KnownName[] {
  const kind = field.defines;
  if (!kind) return [];
  const defined = new Set(here.places.ids.filter((id) => id.defines && id.kinds.includes(kind)).map((id) => id.name));
  const used = here.places.ids.filter((id) => !id.defines && !id.place && isUseOf(id, kind) && !defined.has(id.name));
  const wanted = new Map(used.map((id) => [id.name, { name: id.name, what: `named under \`${id.key}\`` }]));
  return [...wanted.values()];
}

function isUseOf(id: Id, kind: string): boolean {
  if (kind === 'right') return id.kinds.includes('right') || id.key === 'needs-rights';
  return id.kinds.includes(kind);
}

/** Kits, or papers, by their path. */
export function pathsFor(field: Field, here: Here): KnownName[] {
  const isKit = field.key === 'kit';
  const paths = here.files.paths((path) => (isKit ? kindOf(path) === 'kit' : kindOf(path) === undefined));
  return paths.slice(0, mostPaths).map((path) => ({ name: path, what: isKit ? titleOf(here, path) : 'file' }));
}

const mostPaths = 200;

function titleOf(here: Here, path: string): string {
  const title = child(here.files.file(path)?.doc.root, 'title');
  return title?.kind === 'scalar' && title.text !== '' ? title.text : 'kit';
}

/** Checks that settings can change. */
export function ruleNames(kind: FileKind, rules: readonly Rule[]): KnownName[] {
  return kind === 'config' ? rules.map(({ id, summary }) => ({ name: id, what: summary })) : [];
}
