/**
 * The files that the extension told of. A file's name here is a path made of its whole address, `/memory/@/films/a.shoot.yaml`
 * for `memory:/films/a.shoot.yaml`, so that files of several origins lie apart.
 */
import { URI } from 'vscode-uri';
import type { Entry, Host, ReadResult } from '../core/host.ts';
import { pathFault, settingsPath } from '../core/paths.ts';
import { kitsFolder, rootAmong } from '../core/root.ts';
import type { Disk } from '../disk.ts';
import { IgnoredPaths } from '../ignored-paths.ts';
import type { ToldFile, ToldFiles } from './told.ts';

/** Text of which there is no file. */
const nowhere: ReadonlySet<string> = new Set(['untitled', 'git']);

export class Store implements Disk {
  readonly here = '/';
  readonly #files = new Map<string, Omit<ToldFile, 'uri'>>();
  readonly #folders = new Map<string, Map<string, Entry>>();

  tell({ files, gone = [] }: ToldFiles): void {
    for (const uri of gone) this.#remove(this.fileOf(uri));
    for (const { uri, ...file } of files) this.#add(this.fileOf(uri), file);
  }

  fileOf(uri: string): string | undefined {
    const parsed = parse(uri);
    if (!parsed || nowhere.has(parsed.scheme)) return undefined;
    return `/${parsed.scheme}/@${encodeURIComponent(parsed.authority)}${parsed.path}`.replace(/\/$/, '');
  }

  uriOf(root: string, path = ''): string {
    const [, scheme = 'file', authority = '@', ...names] = (path === '' ? root : `${root}/${path}`).split('/');
    const from = { scheme, authority: decodeURIComponent(authority.slice(1)), path: `/${names.join('/')}` };
    return URI.from(from).toString();
  }

  pathFrom(root: string, file: string): string {
    const [from, to] = [root.split('/'), file.split('/')];
    const shared = from.findIndex((name, index) => name !== to[index]);
    const common = shared < 0 ? from.length : shared;
    return [...from.slice(common).map(() => '..'), ...to.slice(common)].join('/');
  }

  isInside(folder: string, file: string): boolean {
    return file.startsWith(`${folder}/`);
  }

  rootFor(file: string, openFolder: string | undefined): string {
    const own = file.slice(0, file.lastIndexOf('/'));
    return rootAmong({
      folders: openFolder === undefined ? [own] : foldersUp(own, openFolder),
      open: openFolder,
      hasSettings: (folder) => this.#files.has(`${folder}/${settingsPath}`),
      hasKits: (folder) => this.#folders.has(`${folder}/${kitsFolder}`),
    });
  }

  host(root: string): Host {
    const at = (path: string) => (pathFault(path) ? undefined : this.#files.get(`${root}/${path}`));
    return {
      name: root.slice(root.lastIndexOf('/') + 1),
      read: (path): ReadResult => {
        if (pathFault(path)) return { problem: 'outside' };
        const file = at(path);
        if (file?.isTooBig) return { problem: 'too-big' };
        if (file?.text !== undefined) return { text: file.text };
        return { problem: this.#folders.has(`${root}/${path}`) ? 'not-a-file' : 'missing' };
      },
      exists: (path) => at(path) !== undefined,
      list: (folder) => {
        if (folder !== '' && pathFault(folder)) return [];
        const entries = this.#folders.get(folder === '' ? root : `${root}/${folder}`);
        return [...(entries?.values() ?? [])].sort((a, b) => (a.name < b.name ? -1 : 1));
      },
    };
  }

  ignoredBelow(root: string): (path: string) => boolean {
    const ignored = new IgnoredPaths((path) => this.#files.get(`${root}/${path}`)?.text ?? '');
    return (path) => ignored.has(path);
  }

  #add(path: string | undefined, file: Omit<ToldFile, 'uri'>): void {
    if (path === undefined) return;
    this.#files.set(path, file);
    this.#list(path, false);
  }

  /** In its folder, with the folders above. */
  #list(path: string, isFolder: boolean): void {
    const cut = path.lastIndexOf('/');
    if (cut <= 0) return;
    const [folder, name] = [path.slice(0, cut), path.slice(cut + 1)];
    const entries = this.#folders.get(folder);
    if (entries) entries.set(name, { name, isFolder });
    else {
      this.#folders.set(folder, new Map([[name, { name, isFolder }]]));
      this.#list(folder, true);
    }
  }

  #remove(path: string | undefined): void {
    if (path === undefined) return;
    for (const { name } of this.#folders.get(path)?.values() ?? []) this.#remove(`${path}/${name}`);
    this.#folders.delete(path);
    this.#files.delete(path);
    const cut = path.lastIndexOf('/');
    this.#folders.get(path.slice(0, cut))?.delete(path.slice(cut + 1));
  }
}

/** A folder and those around it, up to the last. */
function foldersUp(from: string, last: string): string[] {
  const folders = [from];
  for (let folder = from; folder.length > last.length;) {
    folder = folder.slice(0, folder.lastIndexOf('/'));
    folders.push(folder);
  }
  return folders;
}

function parse(uri: string): URI | undefined {
  try {
    return URI.parse(uri);
  } catch {
    return undefined;
  }
}
