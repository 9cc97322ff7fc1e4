/** All specs, kits and settings of a repo, read when somebody asks for them and parsed once for each text. */
import { type Doc, parseDocument } from '../core/document/parse.ts';
import { child, type ScalarNode } from '../core/document/node.ts';
import type { Host } from '../core/host.ts';
import { type FileKind, kindOf, pathFault } from '../core/paths.ts';
import type { Settings } from '../core/settings.ts';
import { specOf } from '../core/sheets.ts';
import { type Places, placesOf } from './places.ts';

export interface RepoFile {
  readonly path: string;
  readonly kind: FileKind;
  readonly doc: Doc;
  readonly places: Places;
}

/** No more folders, and files that are looked for, than this are found in one repo. Stills beside them cost next to nothing. */
const mostFound = 5000;

/** What is said where a repo has more. */
export const notAll = `This repo has more than ${mostFound} folders, specs, kits and settings, so not all of them were looked at.`;

export class RepoFiles {
  readonly #known = new Map<string, Doc>();

  constructor(
    readonly host: Host,
    readonly settings: (path: string | undefined) => Settings,
  ) {}

  /** Spares a second reading of a file that is open and parsed. */
  keep(path: string, doc: Doc): void {
    this.#known.set(path, doc);
  }

  /** What is not asked for again soon need not be held. */
  forget(path: string): void {
    this.#known.delete(path);
  }

  file(path: string): RepoFile | undefined {
    const kind = kindOf(path);
    const read = kind && this.host.read(path);
    if (!kind || !read || 'problem' in read) {
      this.forget(path);
      return undefined;
    }
    const before = this.#known.get(path);
    const doc = before?.text === read.text ? before : parseDocument(read.text);
    this.#known.set(path, doc);
    return { path, kind, doc, places: placesOf(kind, doc.root) };
  }

  /** Of one kind, or of all, by path; only those that hold a text, where one is given. */
  files(kind?: FileKind, holding?: string): RepoFile[] {
    return this.paths((path) => kindOf(path) !== undefined && (kind === undefined || kindOf(path) === kind)).flatMap(
      (path) => (holding === undefined || this.#holds(path, holding) ? (this.file(path) ?? []) : []),
    );
  }

  #holds(path: string, text: string): boolean {
    const read = this.host.read(path);
    return 'text' in read && read.text.includes(text);
  }

  /** Paths of files that are wanted, from the root down. */
  paths(wanted: (path: string) => boolean): string[] {
    return this.#walk(wanted).found;
  }

  /** False where the repo has so much that `files` may not have them all. */
  areAll(): boolean {
    return this.#walk((path) => kindOf(path) !== undefined).left >= 0;
  }

  #walk(wanted: (path: string) => boolean): { found: string[]; left: number } {
    const found: string[] = [];
    let left = mostFound;
    const walk = (folder: string) => {
      for (const { name, isFolder } of this.host.list(folder)) {
        const path = folder === '' ? name : `${folder}/${name}`;
        if (!isFolder && !wanted(path)) continue;
        if (--left < 0) return;
        if (isFolder) walk(path);
        else found.push(path);
      }
    };
    walk('');
    return { found, left };
  }

  /** The spec of a take sheet, which lies beside it. */
  specOf(sheet: Pick<RepoFile, 'doc'> & { readonly path?: string }): RepoFile | undefined {
    const name = specOf(sheet.doc.root);
    if (sheet.path === undefined || name === undefined || pathFault(name) || kindOf(name) !== 'shoot') return undefined;
    return this.file(besides(sheet.path, name));
  }

  /** The take sheets of a spec. */
  sheetsOf(spec: { readonly path?: string }): RepoFile[] {
    const { path } = spec;
    if (path === undefined) return [];
    const folder = besides(path, '').replace(/\/$/, '');
    return this.host.list(folder).flatMap(({ name, isFolder }) => {
      const sheet = !isFolder && kindOf(name) === 'takes' ? this.file(besides(path, name)) : undefined;
      return sheet && specOf(sheet.doc.root) === path.slice(path.lastIndexOf('/') + 1) ? [sheet] : [];
    });
  }

  /** The kits of a spec, in their order: those that it names, else those of the settings. */
  kitsOf(file: Pick<RepoFile, 'doc' | 'kind'> & { readonly path?: string }): RepoFile[] {
    const spec = file.kind === 'takes' ? this.specOf(file) : file;
    if (!spec) return [];
    const said = child(spec.doc.root, 'kit');
    const paths = said ? scalars(said.kind === 'list' ? said.items : [said]) : this.settings(spec.path).kits;
    return [...new Set(paths)].flatMap((path) => this.file(path) ?? []).filter((file) => file.kind === 'kit');
  }
}

function scalars(nodes: readonly { readonly kind: string }[]): string[] {
  return nodes.flatMap((node) => (node.kind === 'scalar' ? (node as ScalarNode).text : []));
}

/** The path of a file in the folder of another. */
function besides(path: string, name: string): string {
  return path.slice(0, path.lastIndexOf('/') + 1) + name;
}
