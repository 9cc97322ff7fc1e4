/** A card, or a drive that cards are copied to: every file on it, and what is in each, byte for byte. Only read. */
import { createHash } from 'node:crypto';
import { createReadStream, lstatSync, readdirSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { FileOn, Volume } from '../core/cards.ts';

/** Beyond this it is a whole disk. */
const mostFiles = 100_000;
const deepest = 16;

/** What systems keep for themselves on any drive. */
const systems = new Set(['system volume information', '$recycle.bin', 'thumbs.db', 'desktop.ini', 'lost.dir']);
const isSystems = (name: string) => name.startsWith('.') || systems.has(name.toLowerCase());

/** The volume at a folder; undefined where there is none. Links are not followed: what lies elsewhere is no copy. */
export function volumeAt(folder: string, name = folder): Volume | undefined {
  const stat = statSync(folder, { throwIfNoEntry: false });
  if (!stat?.isDirectory()) return undefined;
  const root = realpathSync(folder);
  const { files, unread } = filesIn(root);
  const known = new Map<string, Promise<string | undefined>>();
  return {
    name,
    root,
    drive: String(stat.dev),
    files,
    unread,
    hash(file) {
      if (!known.has(file.path)) known.set(file.path, hashOf(join(root, file.path), file));
      return known.get(file.path)!;
    },
  };
}

function filesIn(root: string): { files: FileOn[]; unread: string[] } {
  const [files, unread]: [FileOn[], string[]] = [[], []];
  const walk = (folder: string, depth: number): void => {
    if (depth > deepest || files.length > mostFiles) return void unread.push(folder);
    try {
      for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
        if (isSystems(entry.name)) continue;
        const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
        if (entry.isDirectory()) walk(path, depth + 1);
        else if (entry.isFile()) files.push({ path, ...sizeOf(join(root, path)) });
        // A link or a device: what it holds is not known.
        else unread.push(path);
      }
    } catch {
      unread.push(folder);
    }
  };
  walk('', 0);
  return { files: files.sort((a, b) => (a.path < b.path ? -1 : 1)), unread };
}

function sizeOf(file: string): { bytes: number; changedMs: number } {
  const { size, mtimeMs } = lstatSync(file);
  return { bytes: size, changedMs: mtimeMs };
}

/** SHA-256 (FIPS 180-4) of a whole file; undefined where it can't be read or changes meanwhile. */
async function hashOf(file: string, { bytes, changedMs }: FileOn): Promise<string | undefined> {
  try {
    const hash = createHash('sha256');
    await pipeline(createReadStream(file, { highWaterMark: 1 << 20 }), hash);
    const now = sizeOf(file);
    return now.bytes === bytes && now.changedMs === changedMs ? hash.digest('hex') : undefined;
  } catch {
    return undefined;
  }
}
