/** The repo's files on disk. Nothing outside the root is read, links included, and nothing but ordinary files is opened. */
import { type Dirent, type Stats, lstatSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, sep } from 'node:path';
import { largestFileBytes } from './core/document/parse.ts';
import type { Entry, Host, ReadResult } from './core/host.ts';
import { pathFault, settingsPath } from './core/paths.ts';
import type { Photograph } from './core/photograph.ts';
import { kitsFolder, rootAmong } from './core/root.ts';
import type { Sketch } from './core/sketch.ts';
import { Sketches } from './photograph/sketches.ts';
import { type PhotographFile, Photographs } from './photograph/photographs.ts';

export class NodeHost implements Host {
  readonly name: string;
  readonly #realRoot: string;
  readonly #photographs = new Photographs();
  readonly #sketches = new Sketches();

  constructor(readonly root: string) {
    this.name = basename(root);
    this.#realRoot = realOr(root);
  }

  read(path: string): ReadResult {
    const found = this.#locate(path);
    if ('problem' in found) return found;
    if (found.bytes > largestFileBytes) return { problem: 'too-big' };
    try {
      return { text: readFileSync(found.file, 'utf8') };
    } catch {
      return { problem: 'missing' };
    }
  }

  exists(path: string): boolean {
    return !('problem' in this.#locate(path));
  }

  photograph(path: string): Photograph | string | undefined {
    const found = this.#locate(path);
    return 'problem' in found ? undefined : this.#photographs.of(found);
  }

  sketch(path: string): Sketch | string | undefined {
    const found = this.#locate(path);
    return 'problem' in found ? undefined : this.#sketches.of(found);
  }

  /** Folders that are links are left out, so that no walk goes round in a circle; so are those that git and npm keep. */
  list(folder: string): readonly Entry[] {
    if (folder !== '' && pathFault(folder)) return [];
    try {
      const real = realpathSync.native(join(this.root, folder));
      if (real !== this.#realRoot && !this.#isInside(real)) return [];
      return readdirSync(real, { withFileTypes: true })
        .filter((one) => this.#isListed(folder, one))
        .map((one) => ({ name: one.name, isFolder: one.isDirectory() }))
        .sort((a, b) => (a.name < b.name ? -1 : 1));
    } catch {
      return [];
    }
  }

  #isListed(folder: string, one: Dirent): boolean {
    if (one.isDirectory()) return !one.name.startsWith('.') && one.name !== 'node_modules';
    return one.isFile() || (one.isSymbolicLink() && this.exists(folder === '' ? one.name : `${folder}/${one.name}`));
  }

  #isInside(file: string): boolean {
    return file.startsWith(this.#realRoot === sep ? sep : this.#realRoot + sep);
  }

  /** The real file behind a path, once it is known to be an ordinary one inside the root. */
  #locate(path: string): PhotographFile | { problem: 'missing' | 'outside' | 'not-a-file' } {
    if (pathFault(path)) return { problem: 'outside' };
    try {
      const file = realpathSync.native(join(this.root, path));
      if (!this.#isInside(file)) return { problem: 'outside' };
      const stat = statSync(file);
      return stat.isFile() ? { file, bytes: stat.size, changedMs: stat.mtimeMs } : { problem: 'not-a-file' };
    } catch {
      return { problem: 'missing' };
    }
  }
}

/** A host that is asked for each thing once, for a run in which no file changes. */
export function remembering(host: Host): Host {
  return {
    name: host.name,
    read: remembered((path) => host.read(path)),
    exists: remembered((path) => host.exists(path)),
    photograph: (path) => host.photograph?.(path),
    sketch: (path) => host.sketch?.(path),
    list: remembered((folder) => host.list(folder)),
  };
}

/** What was found for each path, found once. */
export function remembered<T>(find: (path: string) => T): (path: string) => T {
  const known = new Map<string, T>();
  return (path) => {
    if (!known.has(path)) known.set(path, find(path));
    return known.get(path) as T;
  };
}

function realOr(path: string): string {
  try {
    return realpathSync.native(path);
  } catch {
    return path;
  }
}

/**
 * The repo's root for a file, as `rootAmong` chooses it: settings are looked for no higher than `top` or the top of the git
 * checkout.
 *
 * @param open the folder that is open, or the current one
 */
export function rootFor(file: string, open: string | undefined, top?: string): string {
  return rootAmong({
    folders: above(dirname(file), top).folders,
    open: open !== undefined && isInside(open, file) ? open : undefined,
    hasSettings,
    hasKits: (folder) => statOf(join(folder, kitsFolder))?.isDirectory() ?? false,
  });
}

/** The repo that a folder lies in, itself included: the git checkout, else as far up as there are settings. */
export function repoAround(folder: string): string | undefined {
  const { folders, checkout } = above(folder);
  return checkout ?? folders.findLast(hasSettings);
}

/** The top of the git checkout that a folder lies in. */
export function checkoutAround(folder: string): string | undefined {
  return above(folder).checkout;
}

/** A folder and those around it, up to `top` or the top of the git checkout. */
function above(from: string, top?: string): { folders: readonly string[]; checkout?: string } {
  const folders = [];
  for (let folder = from; ; folder = dirname(folder)) {
    folders.push(folder);
    if (isThere(join(folder, '.git'))) return { folders, checkout: folder };
    if (folder === top || folder === dirname(folder)) return { folders };
  }
}

function hasSettings(folder: string): boolean {
  return statOf(join(folder, settingsPath))?.isFile() ?? false;
}

function isInside(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '' && path !== '..' && !path.startsWith(`..${sep}`) && !/^[A-Za-z]:/.test(path);
}

/** The path of a file from the root, with forward slashes. */
export function pathFrom(root: string, file: string): string {
  return relative(root, file).split(sep).join('/');
}

function statOf(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch {
    return undefined;
  }
}

function isThere(path: string): boolean {
  try {
    lstatSync(path);
    return true;
  } catch {
    return false;
  }
}
