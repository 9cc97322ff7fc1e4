/** Gives a thing another name everywhere: only the characters of the name change, so every comment stays. */
import { insertPair } from '../core/document/edits.ts';
import type { Range } from '../core/document/node.ts';
import type { Edit } from '../core/finding.ts';
import { rootOf } from '../core/schema/fields.ts';
import { defines, type FileContext, isGear, relatives } from './navigation.ts';
import { alike, type Id, idsAt, sameKind } from './places.ts';
import { notAll, type RepoFile } from './repo-files.ts';

export interface Refusal {
  readonly problem: string;
}

/** Edits for each file; without a path, those of the file that is asked about. */
export interface FileEdits {
  readonly path?: string;
  readonly edits: readonly Edit[];
}

/** What would be renamed at a place. */
export function renameRange(here: FileContext, offset: number): (Range & { readonly name: string }) | Refusal {
  const id = renamed(here, offset);
  return 'problem' in id ? id : { start: id.start, end: id.end, name: id.name };
}

export function rename(here: FileContext, offset: number, name: string): readonly FileEdits[] | Refusal {
  const id = renamed(here, offset);
  if ('problem' in id) return id;
  if (name === id.name) return [];
  if (!isName(name)) return refuse(badName(name));
  if (isGear(id) && !here.files.areAll())
    return refuse(`${notAll} Others may name \`${id.name}\` too. Open the folder of the films by itself, then rename.`);
  const others = relatives(here, id);
  const unread = others.find((file) => file.doc.broken);
  if (unread)
    return refuse(
      `\`${unread.path}\` names \`${id.name}\` too and can't be read as it is. Mend it first, then rename.`,
    );
  const files: (Pick<RepoFile, 'places' | 'doc'> & { path?: string })[] = [here, ...others];
  const taken = files.find(({ places }) => places.ids.some((one) => takes(one, id, name)));
  if (taken) {
    const where = taken === here ? 'this file' : `\`${taken.path}\``;
    return refuse(`\`${name}\` is a name already in ${where}. Two things of one kind can't have the same name.`);
  }
  const keepsLamps = id.kinds.includes('lamp-place') && isKnownGear(here, { ...id, kinds: ['kit-lamp'] });
  return files
    .map((file, index) => ({
      ...(index > 0 && { path: file.path }),
      edits: once(editsOf(file, id, name, keepsLamps)),
    }))
    .filter(({ edits }) => edits.length > 0);
}

function renamed(here: FileContext, offset: number): Id | Refusal {
  const all = idsAt(here.places, offset);
  const id = all[0];
  if (!id)
    return refuse('Only names that you gave can be renamed: of shots, lamps, deliverables, parts, rights, gear…');
  if (id.kinds[0] === 'product') return refuse('`product` is a word of the format and always means the product.');
  if (id.kinds[0] === 'rule') return refuse(`\`${id.name}\` is the name of a check and can't be changed.`);
  if (isGear(id) && here.kind !== 'kit' && !isKnownGear(here, id))
    return refuse(`No kit of this spec defines \`${id.name}\`, so there is nothing to rename.`);
  if (!isGear(id) && here.kind === 'takes' && !isInSpec(here, id))
    return refuse(`The spec of this sheet has no \`${id.name}\`, so there is nothing to rename.`);
  return id;
}

function isInSpec(here: FileContext, id: Id): boolean {
  const spec = here.files.specOf(here);
  return spec !== undefined && defines(spec.places, id);
}

function isKnownGear(here: FileContext, id: Id): boolean {
  return here.files.kitsOf(here).some((kit) => defines(kit.places, id));
}

/** The pattern that the schema has for names. */
const names = new RegExp(rootOf('shoot').properties!['shots']!.propertyNames!.pattern);

function isName(name: string): boolean {
  return name.length <= 100 && names.test(name);
}

function badName(name: string): string {
  if (name === 'product' || name === 'none') return `\`${name}\` is a word of the format. Choose another name.`;
  const shown = name.length > 40 ? `${name.slice(0, 39)}…` : name;
  return `\`${shown}\` can't be a name: names are lower-case letters, digits and hyphens, such as \`key-left\`.`;
}

/** Would the new name be taken for something that is there? */
function takes(one: Id, renamedId: Id, name: string): boolean {
  if (one.name !== name) return false;
  const same = one.kinds.some((kind) => renamedId.kinds.some((other) => sameKind(kind, other)));
  return same && !one.place;
}

/** A lamp place without `use` and the lamp of its name part company here: the place then says which lamp it was. */
function editsOf(file: Pick<FileContext, 'places' | 'doc'>, id: Id, name: string, keepsLamps: boolean): Edit[] {
  const own = file.places.ids.filter((one) => alike(one, id));
  const renamed = own.filter((one) => !one.place).map(({ start, end }): Edit => ({ start, end, text: name }));
  const lamp = id.kinds.includes('kit-lamp') ? name : keepsLamps ? id.name : undefined;
  const places = file.places.ids.filter((one) => one.place && one.name === id.name);
  return [...renamed, ...(lamp === undefined ? [] : places.flatMap((one) => sayLamp(file.doc.text, one, lamp)))];
}

function sayLamp(text: string, { place }: Id, lamp: string): Edit[] {
  const isBlock = place?.kind === 'map' || (place?.kind === 'scalar' && place.text === '');
  return isBlock ? insertPair(text, place, 'use', lamp) : [];
}

/** One place may be named by two ways of looking at it. */
function once(edits: readonly Edit[]): Edit[] {
  const found = new Map(edits.map((one) => [`${one.start}:${one.end}`, one]));
  return [...found.values()].sort((a, b) => a.start - b.start);
}

function refuse(problem: string): Refusal {
  return { problem };
}
