/** Where a name is defined and used: in this file, and for gear in the kits and in the specs that use them. */
import type { Range } from '../core/document/node.ts';
import { at, child } from '../core/document/node.ts';
import { pathFault } from '../core/paths.ts';
import { alike, gearKinds, type Id, idsAt, type Places } from './places.ts';
import type { RepoFile, RepoFiles } from './repo-files.ts';

/** The file that is asked about. */
export interface FileContext extends Omit<RepoFile, 'path'> {
  /** From the repo's root; undefined for a file that is saved nowhere. */
  readonly path?: string;
  readonly files: RepoFiles;
}

/** Characters of a file; without a path, of the file that is asked about. */
export interface FilePlace extends Range {
  readonly path?: string;
}

export const isGear = (id: Id): boolean => id.kinds.some((kind) => gearKinds.has(kind));

/** Where the name at a place is defined; several where several things of that name are meant. */
export function definitionsAt(here: FileContext, offset: number): FilePlace[] {
  const ids = idsAt(here.places, offset);
  const found = ids.flatMap((id) => definitionsOf(here, id));
  // A lamp place without `use` leads to the lamp of its name rather than to itself.
  const elsewhere = found.filter((place) => place.path !== undefined);
  return ids[0]?.defines && elsewhere.length > 0 ? elsewhere : unique(found);
}

function definitionsOf(here: FileContext, id: Id): FilePlace[] {
  if (id.defines) return [place(id)];
  if (isGear(id)) return gearDefinitions(here, id);
  if (here.kind === 'takes') return inSpec(here, id);
  const all = here.places.ids.filter((one) => alike(one, id));
  const defined = all.filter((one) => one.defines && meantBy(id, one));
  // What only shots name has no other home than the first shot that shows it.
  const first = all.find((one) => one.key === 'shows' && id.kinds.includes('shown-thing'));
  return defined.length > 0 ? defined.map(place) : first ? [place(first)] : [];
}

/** What a take sheet names is defined in its spec. */
function inSpec(here: FileContext, id: Id): FilePlace[] {
  const spec = here.files.specOf(here);
  const found = spec?.places.ids.filter((one) => one.defines && alike(one, id)) ?? [];
  return found.map(({ start, end }) => ({ path: spec!.path, start, end }));
}

/** A thing that is shown may be a part or be what a right covers; a part is nothing but a part. */
function meantBy(use: Id, definition: Id): boolean {
  return use.kinds.some((kind) => kind === 'shown-thing' || definition.kinds.includes(kind));
}

/** The first kit that has it counts. */
function gearDefinitions(here: FileContext, id: Id): FilePlace[] {
  const kits = here.kind === 'kit' ? [undefined] : here.files.kitsOf(here);
  for (const kit of kits) {
    const places = kit ? kit.places : here.places;
    const found = places.ids.filter((one) => one.defines && alike(one, id));
    if (found.length > 0) return found.map(({ start, end }) => ({ path: kit?.path, start, end }));
  }
  return [];
}

/** Everywhere that the name at a place stands. */
export function referencesAt(here: FileContext, offset: number, withDefinitions: boolean): FilePlace[] {
  const [id] = idsAt(here.places, offset);
  if (!id) return [];
  const wanted = (one: Id) => alike(one, id) && (withDefinitions || !one.defines);
  const own = here.places.ids.filter(wanted).map(place);
  const others = relatives(here, id).flatMap(({ path, places }) =>
    places.ids.filter(wanted).map(({ start, end }) => ({ path, start, end })),
  );
  return unique([...own, ...others]);
}

/** The other files in which a name means the same: of gear those that use the kit that defines it, else spec and take sheets. */
export function relatives(here: FileContext, id: Id): RepoFile[] {
  return isGear(id) ? gearRelatives(here, id) : onSheets(here);
}

/** A spec and its take sheets, but for the file that is asked about. */
function onSheets(here: FileContext): RepoFile[] {
  if (here.kind !== 'shoot' && here.kind !== 'takes') return [];
  const spec = here.kind === 'takes' ? here.files.specOf(here) : here;
  const sheets = spec ? here.files.sheetsOf(spec) : [];
  const all = here.kind === 'takes' && spec ? [spec as RepoFile, ...sheets] : sheets;
  return all.filter(({ path }) => path !== here.path);
}

function gearRelatives(here: FileContext, id: Id): RepoFile[] {
  const kit = here.kind === 'kit' ? here.path : gearDefinitions(here, id)[0]?.path;
  if (kit === undefined) return [];
  const users = usersOf(here, kit, id);
  // A kit may say what its gear fits in another kit, where both are used together.
  const beside = users.flatMap((spec) => here.files.kitsOf(spec)).filter((file) => !defines(file.places, id));
  const own = here.kind === 'kit' ? [] : [here.files.file(kit) ?? []].flat();
  const sheets = [...users, here].flatMap((spec) => (spec.kind === 'shoot' ? here.files.sheetsOf(spec) : []));
  const all = new Map([...own, ...users, ...beside, ...sheets].map((file) => [file.path, file]));
  if (here.path !== undefined) all.delete(here.path);
  return [...all.values()];
}

/** Specs for which the kit is the first that defines the name. */
function usersOf(here: FileContext, kit: string, id: Id): RepoFile[] {
  return here.files.files('shoot', id.name).filter((spec) => {
    const first = here.files
      .kitsOf(spec)
      .find((one) => one.path === kit || (one.path !== here.path && defines(one.places, id)));
    return first?.path === kit;
  });
}

export function defines({ ids }: Places, id: Id): boolean {
  return ids.some((one) => one.defines && alike(one, id));
}

export interface Highlight extends Range {
  readonly defines: boolean;
}

/** Every place of this file where the name at a place stands. */
export function highlightsAt({ places }: Pick<FileContext, 'places'>, offset: number): Highlight[] {
  const [id] = idsAt(places, offset);
  if (!id) return [];
  const all = places.ids.filter((one) => alike(one, id)).map((one) => ({ ...place(one), defines: one.defines }));
  return uniqueBy(all);
}

export interface Link extends Range {
  /** From the repo's root. */
  readonly path: string;
}

/** Kits and proofs that are there. */
export function linksOf({
  places,
  files,
  ...here
}: Pick<FileContext, 'places' | 'files' | 'doc' | 'kind' | 'path'>): Link[] {
  const spec = here.kind === 'takes' ? files.specOf(here) : undefined;
  const said = child(here.doc.root, 'spec');
  const beside = spec && said ? [{ start: said.start, end: said.end, path: spec.path }] : [];
  const paths = places.paths.flatMap(({ start, end, text: path }) =>
    pathFault(path) === undefined && files.host.exists(path) ? [{ start, end, path }] : [],
  );
  return [...beside, ...paths];
}

export interface WorkspaceSymbol extends Range {
  readonly file: RepoFile;
  readonly name: string;
  readonly kind: string;
  /** What it stands under: the film's title or the kit's. */
  readonly within: string;
}

const mostSymbols = 400;

/** What is defined in all files of a repo and has the letters of the query in its name, in their order. */
export function workspaceSymbols(files: RepoFiles, query: string): WorkspaceSymbol[] {
  const wanted = letters(query);
  return files
    .files()
    .flatMap((file) => {
      const { path, doc, places } = file;
      const title = at(doc.root, ['title']);
      const within = title?.kind === 'scalar' && title.text ? title.text : path;
      return places.ids
        .filter((id) => id.defines && id.kinds[0] !== 'product' && wanted.test(id.name))
        .map(({ start, end, name, kinds }) => ({ file, start, end, name, kind: kinds[0]!, within }));
    })
    .slice(0, mostSymbols);
}

function letters(query: string): RegExp {
  const each = [...query.replace(/\s+/g, '').slice(0, 40)].map((one) => one.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&'));
  return new RegExp(each.join('.*?'), 'i');
}

function place({ start, end }: Range): FilePlace {
  return { start, end };
}

function unique(places: readonly FilePlace[]): FilePlace[] {
  return [...new Map(places.map((one) => [`${one.path ?? ''}:${one.start}`, one])).values()];
}

function uniqueBy(all: readonly Highlight[]): Highlight[] {
  const found = new Map<number, Highlight>();
  for (const one of all) if (!found.has(one.start) || one.defines) found.set(one.start, one);
  return [...found.values()];
}
