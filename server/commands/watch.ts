/** `shootspec check --watch`: again after each change of a file that the check looks at. */
import { once } from 'node:events';
import { existsSync, type FSWatcher, statSync, watch } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { kindOf } from '../core/paths.ts';
import type { FileReport } from '../formats/report.ts';
import { ignoreFiles } from '../ignored-paths.ts';
import { placeOf } from './check-file.ts';
import { expand, isPattern } from './files.ts';
import { sayWhy } from './usage.ts';

/** Editors write a file in several steps; they are waited for. */
const settleMs = 80;

/** Runs until it is stopped, or nobody reads any more what it prints. Files that are new and folders that are new are seen too. */
export async function watchPaths(
  paths: readonly string[],
  run: (looked: (reports: readonly FileReport[]) => void) => Promise<number>,
): Promise<number> {
  const unread = once(process.stdout, 'error');
  const watchers = new Map<string, FSWatcher>();
  /** Kits, settings and papers, there or not. */
  let others = new Set<string>();
  let timer: NodeJS.Timeout | undefined;
  let running = Promise.resolve();
  const again = async () => {
    // Something that is gone while it is looked at is no reason to stop, nor is any other fault.
    await run((reports) => (others = othersOf(reports))).catch(sayWhy);
    await look().catch(sayWhy);
    process.stderr.write('Watching for changes.\n');
  };
  const changed = (folder: string, name: string | null) => {
    if (name !== null && !matters(folder, name)) return;
    clearTimeout(timer);
    timer = setTimeout(() => (running = running.then(again)), settleMs);
  };
  const matters = (folder: string, name: string) =>
    kindOf(name.replaceAll('\\', '/')) !== undefined ||
    ignoreFiles.includes(name) ||
    others.has(join(folder, name)) ||
    // A folder, as far as one can tell.
    !name.includes('.');
  const look = async () => {
    const folders = await foldersOf(paths);
    for (const other of others) folders.add(folderAbove(other));
    for (const [folder, watcher] of watchers) {
      if (folders.has(folder)) continue;
      watcher.close();
      watchers.delete(folder);
    }
    for (const folder of folders) {
      if (watchers.has(folder)) continue;
      try {
        const watcher = watch(folder, (_, name) => changed(folder, name));
        watcher.on('error', () => watchers.delete(folder));
        watchers.set(folder, watcher);
      } catch (error) {
        sayWhy(error);
      }
    }
  };
  await look().catch(sayWhy);
  await again();
  await unread;
  clearTimeout(timer);
  for (const watcher of watchers.values()) watcher.close();
  return 0;
}

/** The check says it. */
const sayNothing = () => {};

function othersOf(reports: readonly FileReport[]): Set<string> {
  return new Set(reports.flatMap(({ dependsOn }) => dependsOn.map((path) => resolve(path))));
}

/** All folders of the repos that hold files of ours, and those on the way to them. */
async function foldersOf(paths: readonly string[]): Promise<Set<string>> {
  const patterns = paths.filter((path) => !existsSync(path) && isPattern(path));
  const there = paths.filter((path) => existsSync(path));
  const named = there
    .map((path) => resolve(path))
    .filter((path) => statSync(path, { throwIfNoEntry: false })?.isDirectory());
  // Kits and settings that count for a folder may lie above it.
  const roots = new Set([...named, ...(await expand(there, sayNothing)).map((file) => placeOf(file).root)]);
  // What a pattern will fit may not be there yet.
  if (patterns.length > 0) roots.add(process.cwd());
  // What is gone may come back.
  const gone = paths.filter((path) => !existsSync(path) && !isPattern(path)).map(folderAbove);
  const folders = new Set(roots.size + gone.length > 0 ? [...roots, ...gone] : [process.cwd()]);
  for (const root of roots) {
    for (const file of await expand([root], sayNothing))
      for (let folder = dirname(file); folder.length > root.length; folder = dirname(folder)) folders.add(folder);
  }
  return folders;
}

/** The nearest folder around a path that is there. */
function folderAbove(path: string): string {
  const folder = dirname(resolve(path));
  return existsSync(folder) ? folder : folderAbove(folder);
}
