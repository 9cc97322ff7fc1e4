/** The names that a file may use, each with what it is. */
import { kindOf } from '../../core/paths.ts';
import type { FileKind, Field } from '../../core/schema/fields.ts';
import type { Node } from '../../core/document/node.ts';
import { at, child } from '../../core/document/node.ts';
import type { Rule } from '../../core/rule.ts';
import type { FileContext } from '../navigation.ts';
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
export function namesFor(field: Field, here: FileContext): KnownName[] {
  const found = new Map<string, KnownName>();
  const add = (name: string, what: string) => {
    if (!found.has(name)) found.set(name, { name, what });
  };
  if (field.names.includes('part')) add('product', 'the whole product');
  for (const { places, root } of sources(field.names, here)) {
    for (const id of places.ids) {
      if (id.defines && refersTo(field, id, root)) add(id.name, whatOf(root, id));
    }
  }
  if (field.names.includes('shown-thing')) {
    for (const id of here.places.ids) if (id.kinds.includes('shown-thing')) add(id.name, 'named in this film');
  }
  return [...found.values()];
}

function sources(kinds: readonly string[], here: FileContext): { places: Places; root: Node | undefined }[] {
  const own = { places: here.places, root: here.doc.root };
  const ofGear = kinds.some((kind) => gearKinds.has(kind));
  if (here.kind === 'takes' && !ofGear) {
    const spec = here.files.specOf(here);
    return spec ? [{ places: spec.places, root: spec.doc.root }] : [];
  }
  if (here.kind === 'kit' || !ofGear) return [own];
  return here.files.kitsOf(here).map(({ places, doc }) => ({ places, root: doc.root }));
}

/** Things that are shown may be parts, and people those who have signed a release; a track may be neither. */
function refersTo({ key, names }: Field, id: Id, root: Node | undefined): boolean {
  if (key === 'people') return id.kinds.includes('right') && isRelease(at(root, ['rights', id.name, 'kind']));
  return names.some(
    (name) =>
      id.kinds.includes(name) || (name === 'shown-thing' && sameKind(name, id.kinds[0]!) && id.kinds[0] !== 'right'),
  );
}

function isRelease(kind: Node | undefined): boolean {
  return kind?.kind === 'scalar' && kind.text === 'release';
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
export function missingNames(field: Field, here: FileContext): KnownName[] {
  const kind = field.defines;
  if (!kind) return [];
  const defined = new Set(here.places.ids.filter((id) => id.defines && id.kinds.includes(kind)).map((id) => id.name));
  const used = here.places.ids.filter((id) => !id.defines && !id.place && isUseOf(id, kind) && !defined.has(id.name));
  const wanted = new Map(used.map((id) => [id.name, { name: id.name, what: `named under \`${id.key}\`` }]));
  return [...wanted.values()];
}

function isUseOf(id: Id, kind: string): boolean {
  if (kind === 'right') return id.kinds.includes('right') || id.key === 'needs-rights' || id.key === 'people';
  return id.kinds.includes(kind);
}

/** Kits, or papers, by their path. */
export function pathsFor(field: Field, here: FileContext): KnownName[] {
  if (field.quantity === 'beside') return specsBeside(here);
  const isKit = field.key === 'kit';
  const paths = here.files.paths((path) =>
    isKit ? kindOf(path) === 'kit' : kindOf(path) === undefined && endsAs(path, field),
  );
  return paths.slice(0, mostPaths).map((path) => ({ name: path, what: isKit ? titleOf(here, path) : 'file' }));
}

function endsAs(path: string, { endings }: Field): boolean {
  const name = path.toLowerCase();
  return endings.length === 0 || endings.some((ending) => name.endsWith(`.${ending}`));
}

/** The specs that a take sheet may be of. */
function specsBeside({ files, path }: FileContext): KnownName[] {
  const folder = path?.includes('/') ? path.slice(0, path.lastIndexOf('/')) : '';
  const names = files.host.list(folder).filter(({ name, isFolder }) => !isFolder && kindOf(name) === 'shoot');
  const prefix = folder === '' ? '' : `${folder}/`;
  return names.map(({ name }) => ({ name, what: titleOf({ files }, prefix + name) }));
}

const mostPaths = 200;

function titleOf(here: Pick<FileContext, 'files'>, path: string): string {
  const title = child(here.files.file(path)?.doc.root, 'title');
  return title?.kind === 'scalar' && title.text !== '' ? title.text : 'kit';
}

/** Checks that settings can change. */
export function ruleNames(kind: FileKind, rules: readonly Rule[]): KnownName[] {
  return kind === 'config' ? rules.map(({ id, summary }) => ({ name: id, what: summary })) : [];
}
