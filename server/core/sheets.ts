/** Finds the take sheets of a spec and the spec of a take sheet: they lie in one folder, so that both can be moved together. */
import { asRead } from './document/as-read.ts';
import { child, type Node } from './document/node.ts';
import { parseDocument } from './document/parse.ts';
import type { Finding } from './finding.ts';
import type { Host } from './host.ts';
import { isPlain, nearest } from './nearest.ts';
import { kindOf, pathFault } from './paths.ts';
import type { SheetSource } from './resolve/takes.ts';
import { listFirst, quoted } from './say.ts';
import { checkSchema } from './schema/check.ts';
import { readNested } from './schema/nested.ts';
import { readShort } from './schema/short.ts';

/** A sheet's text as read once for all that look at it. */
export interface SheetText {
  readonly text: string;
  readonly root: Node | undefined;
}

export function readSheet(text: string): SheetText {
  const doc = readShort(readNested(parseDocument(text), 'takes'), 'takes');
  if (doc.broken || !doc.root) return { text, root: undefined };
  const { refused } = checkSchema(doc.root, 'takes');
  return { text, root: asRead(doc.root, { meant: new Map(), refused }) };
}

/** The name of the spec that a sheet gives, as far as it is one. */
export function specOf(root: Node | undefined): string | undefined {
  const said = child(root, 'spec');
  return said?.kind === 'scalar' && said.text !== '' ? said.text : undefined;
}

export interface FoundSheets {
  readonly sources: readonly SheetSource[];
  /** Every sheet that lies beside the spec, for watching. */
  readonly paths: readonly string[];
}

/** The sheets that lie beside a spec and name it; `but` is left out. */
export function sheetsOf(
  spec: string,
  host: Host,
  read: (path: string, text: string) => SheetText,
  but?: string,
): FoundSheets {
  const { folder, name } = splitPath(spec);
  const paths = namesIn(folder, host, 'takes').map((one) => inFolder(folder, one));
  const sources = paths.flatMap((file): SheetSource[] => {
    if (file === but) return [];
    const found = host.read(file);
    // Most sheets that lie about are of other specs: those are told by their text.
    if (!('text' in found) || !found.text.includes(name)) return [];
    const { root } = read(file, found.text);
    return specOf(root) === name ? [{ file, root }] : [];
  });
  return { sources, paths };
}

/** Where the spec of a sheet lies, or what is wrong with how it is named. */
export type SpecFound =
  | { readonly path: string; readonly text: string }
  | { readonly finding: Finding; readonly path?: string }
  /** Nothing to say here: the form has its finding. */
  | undefined;

export function findSpec(root: Node | undefined, sheet: string, host: Host): SpecFound {
  const said = child(root, 'spec');
  if (said?.kind !== 'scalar' || said.text === '') return undefined;
  const { folder } = splitPath(sheet);
  const name = said.text;
  const path = inFolder(folder, name);
  const specs = namesIn(folder, host, 'shoot');
  const fault = pathFault(name);
  if (fault || name.includes('/') || kindOf(name) !== 'shoot') {
    const why = fault ?? (name.includes('/') ? 'lies in another folder' : 'is no shoot spec');
    const message = `${quoted(name)} ${why}. A take sheet names the spec that lies beside it, such as \`${specs[0] ?? 'music-box.shoot.yaml'}\`.`;
    return { finding: finding('spec-not-found', said, message, meant(name, specs)) };
  }
  const read = host.read(path);
  if ('text' in read) return { path, text: read.text };
  const why = {
    missing: 'is not in this folder',
    outside: 'leads out of the repo through a link, and nothing outside is read',
    'not-a-file': 'is no ordinary file',
    'too-big': 'is larger than 1 MiB and is not read',
  }[read.problem];
  const there = read.problem === 'missing' ? listed(specs) : '';
  return {
    path,
    finding: finding('spec-not-found', said, `The spec ${quoted(name)} ${why}.${there}`, meant(name, specs)),
  };
}

function listed(specs: readonly string[]): string {
  return specs.length === 0
    ? ' No spec is: a take sheet lies beside its spec.'
    : ` There ${specs.length === 1 ? 'is' : 'are'} ${listFirst(specs.map(quoted), 4)}.`;
}

function meant(name: string, specs: readonly string[]): string[] {
  const bare = (one: string) => one.slice(one.lastIndexOf('/') + 1).replace(/\.shoot\.yaml$|\.ya?ml$/, '');
  const byName = new Map(specs.filter(isPlain).map((one) => [bare(one), one]));
  const near = nearest(bare(name), [...byName.keys()])?.word;
  if (near !== undefined) return [byName.get(near)!];
  return byName.size === 1 ? [...byName.values()] : [];
}

/** Where the spec is there and can't be read, nothing can be said of takes. */
export function unreadable(at: Node, spec: string): Finding {
  const { name } = splitPath(spec);
  return finding(
    'spec-not-found',
    at,
    `The spec ${quoted(name)} can't be read as it is, so these takes are not held against it. Mend it first.`,
  );
}

function finding(rule: string, at: Node, message: string, instead: readonly string[] = []): Finding {
  const { start, end } = at;
  const fixes = instead.map((text) => ({ title: `Write \`${text}\``, edits: [{ start, end, text }], safe: false }));
  return { rule, severity: 'error', message, start, end, related: [], fixes };
}

function namesIn(folder: string, host: Host, kind: 'shoot' | 'takes'): string[] {
  return host.list(folder).flatMap(({ name, isFolder }) => (!isFolder && kindOf(name) === kind ? [name] : []));
}

function splitPath(path: string): { readonly folder: string; readonly name: string } {
  const slash = path.lastIndexOf('/');
  return { folder: slash < 0 ? '' : path.slice(0, slash), name: path.slice(slash + 1) };
}

function inFolder(folder: string, name: string): string {
  return folder === '' ? name : `${folder}/${name}`;
}
