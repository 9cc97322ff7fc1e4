/** A git repo at one of its revisions, read through git itself: no shell, no hooks, nothing is checked out. */
import { execFileSync } from 'node:child_process';
import { posix } from 'node:path';
import { largestFileBytes } from '../core/document/parse.ts';
import type { Entry, Host, ReadResult } from '../core/host.ts';
import { pathFault } from '../core/paths.ts';
import { UsageError } from './usage.ts';

/** Links in a row that are followed. */
const mostLinks = 8;

interface TreeEntry {
  readonly mode: string;
  readonly id: string;
  readonly size: number;
}

function git(folder: string, args: readonly string[]): string {
  return execFileSync('git', [...args], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 30,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, LC_ALL: 'C', GIT_OPTIONAL_LOCKS: '0' },
  });
}

/** The top folder of the checkout that a folder lies in. */
export function topOf(folder: string): string {
  try {
    return git(folder, ['rev-parse', '--show-toplevel']).replace(/\r?\n$/, '');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      throw new UsageError('This needs git, and it is not there.');
    throw new UsageError('This folder is in no git repo, so there are no revisions to compare with.');
  }
}

/** The commit that a name means; undefined for a name that means none. */
export function commitOf(top: string, name: string): string | undefined {
  try {
    return git(top, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]).trim();
  } catch {
    return undefined;
  }
}

export interface Renamed {
  /** New name to old name, of files that git takes for the same. */
  readonly names: ReadonlyMap<string, string>;
  /** All that differ, by their name now, else before. */
  readonly changed: ReadonlySet<string>;
}

/** What differs between a commit and another, or the working tree where none is given, new files included. */
export function differences(top: string, from: string, to?: string): Renamed {
  const said = git(top, [
    'diff',
    '--name-status',
    '--find-renames',
    '-z',
    '--no-ext-diff',
    from,
    ...(to ? [to] : []),
    '--',
  ]);
  const parts = said.split('\0');
  const names = new Map<string, string>();
  const changed = new Set<string>();
  while (parts.length > 1) {
    const status = parts.shift()!;
    const first = parts.shift()!;
    const isRename = status.startsWith('R');
    const now = isRename ? parts.shift()! : first;
    if (isRename) names.set(now, first);
    changed.add(now);
  }
  const fresh = to ? '' : git(top, ['ls-files', '--others', '--exclude-standard', '-z']);
  for (const file of fresh.split('\0')) if (file) changed.add(file);
  return { names, changed };
}

/** All files of a commit. */
export class Revision {
  readonly #entries = new Map<string, TreeEntry>();
  readonly #texts = new Map<string, string>();

  constructor(
    readonly top: string,
    readonly commit: string,
  ) {
    for (const line of git(top, ['ls-tree', '-r', '-l', '-z', '--full-tree', commit]).split('\0')) {
      const match = /^(\d+) (\w+) (\w+) +(\d+|-)\t(.*)$/s.exec(line);
      if (match && match[2] === 'blob')
        this.#entries.set(match[5]!, { mode: match[1]!, id: match[3]!, size: Number(match[4]) });
    }
  }

  get files(): readonly string[] {
    return [...this.#entries.keys()];
  }

  /** The repo's root for a file, as `rootFor` has it on the disk: by the topmost settings file, else the given folder. */
  rootFor(file: string, open: string): string {
    const folders = file.split('/').slice(0, -1);
    const above = ['', ...folders.map((_, index) => folders.slice(0, index + 1).join('/'))];
    const root = above.find((folder) => this.#entries.has(join(folder, 'shootspec.yaml')));
    if (root !== undefined) return root;
    return open === '' || file.startsWith(`${open}/`) ? open : folders.join('/');
  }

  /** The files below a folder as the checker sees them. */
  host(root: string): Host {
    return {
      read: (path) => this.read(path, root),
      exists: (path) => !('problem' in this.#find(path, root)),
      list: (folder) => this.#list(folder, root),
    };
  }

  read(path: string, root: string): ReadResult {
    const found = this.#find(path, root);
    if ('problem' in found) return found;
    if (found.size > largestFileBytes) return { problem: 'too-big' };
    return { text: this.#text(found.id) };
  }

  #find(path: string, root: string): TreeEntry | { problem: 'missing' | 'outside' | 'not-a-file' } {
    if (pathFault(path)) return { problem: 'outside' };
    let here = join(root, path);
    for (let links = 0; links < mostLinks; links++) {
      const entry = this.#entries.get(here);
      if (!entry) return { problem: 'missing' };
      if (entry.mode !== '120000') return entry;
      const target = this.#text(entry.id);
      here = posix.isAbsolute(target) ? target : posix.join(posix.dirname(here), target);
      if (here.startsWith('..') || here.startsWith('/') || (root !== '' && !here.startsWith(`${root}/`)))
        return { problem: 'outside' };
    }
    return { problem: 'missing' };
  }

  #text(id: string): string {
    let text = this.#texts.get(id);
    if (text === undefined) this.#texts.set(id, (text = git(this.top, ['cat-file', 'blob', id])));
    return text;
  }

  #list(folder: string, root: string): Entry[] {
    const inside = join(root, folder);
    const start = inside === '' ? '' : `${inside}/`;
    const entries = new Map<string, boolean>();
    for (const file of this.files) {
      if (!file.startsWith(start)) continue;
      const [name, ...rest] = file.slice(start.length).split('/');
      entries.set(name!, rest.length > 0);
    }
    return [...entries]
      .filter(([name, isFolder]) => !isFolder || (!name.startsWith('.') && name !== 'node_modules'))
      .map(([name, isFolder]) => ({ name, isFolder }))
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }
}

function join(folder: string, name: string): string {
  return [folder, name].filter(Boolean).join('/');
}
