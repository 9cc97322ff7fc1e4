/**
 * The folder that clips or masters lie in. Nothing outside it is opened: no path that climbs out or starts elsewhere, no
 * link that leads out, nothing but ordinary files; and only to be read.
 */
import { type Dirent, lstatSync, readdirSync, realpathSync, type Stats, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import type { ClipEntry } from '../core/footage.ts';
import { pathFault } from '../core/paths.ts';

/** One file as it was when it was found: another in its place is not opened. */
export interface FoundFile {
  readonly file: string;
  readonly bytes: number;
  readonly changedMs: number;
  readonly device: number;
  readonly inode: number;
}

export type Located = FoundFile | { readonly problem: 'missing' | 'outside' | 'not-a-file' };

/** Beyond these nobody keeps clips in one folder: it is a whole disk. */
const mostEntries = 20_000;
const deepest = 12;
/** Small copies for drafts: they are never judged. */
export const proxies = 'proxies';
const endings = new Set(['mp4', 'mov', 'm4v', 'webm', 'mkv', 'wav', 'mts', 'm2ts', 'avi', 'mxf', '3gp']);

export class FootageFolder {
  readonly #realRoot: string;

  /** @param root must be there */
  constructor(readonly root: string) {
    this.#realRoot = realpathSync(root);
  }

  /** The folder at a path, where it is one. */
  static at(root: string): FootageFolder | undefined {
    try {
      return statSync(root).isDirectory() ? new FootageFolder(root) : undefined;
    } catch {
      return undefined;
    }
  }

  /** @param path below the folder, with forward slashes */
  locate(path: string): Located {
    if (pathFault(path)) return { problem: 'outside' };
    try {
      const file = realpathSync(join(this.#realRoot, path));
      if (!this.#isInside(file)) return { problem: 'outside' };
      const stat = statSync(file);
      return stat.isFile() ? found(file, stat) : { problem: 'not-a-file' };
    } catch {
      return { problem: this.#isLink(path) ? 'outside' : 'missing' };
    }
  }

  /** All clips, by path. Folders that are links are not walked, so that no walk goes round in a circle. */
  list(): ClipEntry[] {
    const all: ClipEntry[] = [];
    this.#walk('', 0, all);
    return all.sort((a, b) => (a.path < b.path ? -1 : 1));
  }

  #walk(folder: string, depth: number, all: ClipEntry[]): void {
    if (depth > deepest) return;
    for (const entry of entriesOf(join(this.#realRoot, folder))) {
      if (all.length >= mostEntries) return;
      if (entry.name.startsWith('.') || (folder === '' && entry.name === proxies)) continue;
      const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
      if (entry.isDirectory()) this.#walk(path, depth + 1, all);
      else if (isClip(entry.name)) this.#add(path, all);
    }
  }

  #add(path: string, all: ClipEntry[]): void {
    const at = this.locate(path);
    if (!('problem' in at)) all.push({ path, bytes: at.bytes, changedMs: at.changedMs });
  }

  #isInside(file: string): boolean {
    return file.startsWith(this.#realRoot.endsWith(sep) ? this.#realRoot : this.#realRoot + sep);
  }

  /** A link whose end is not there may be meant to lead anywhere. */
  #isLink(path: string): boolean {
    try {
      return lstatSync(join(this.#realRoot, path)).isSymbolicLink();
    } catch {
      return false;
    }
  }
}

function found(file: string, { size, mtimeMs, dev, ino }: Stats): FoundFile {
  return { file, bytes: size, changedMs: mtimeMs, device: dev, inode: ino };
}

export function isClip(name: string): boolean {
  return endings.has(name.slice(name.lastIndexOf('.') + 1).toLowerCase());
}

function entriesOf(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}
