/** Which files are meant: those named, those that patterns fit, and ours in the folders named, without what is ignored. */
import { type Dirent, readdir, realpathSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { isNameless, kindOf, settingsPath } from '../core/paths.ts';
import { Ignored, isBelow } from '../ignored.ts';
import { pathFrom, repoAround, rootFor } from '../node-host.ts';
import { Refused, UsageError } from './usage.ts';

const kinds = '{shoot,takes,kit}.yaml';
const ours = [`**/*.${kinds}`, `**/${kinds}`, `**/${settingsPath}`];
/** No folder of this name is ever looked into. */
const never = ['**/node_modules/**', '**/.git/**'];

/** Is told of a folder that can't be looked into, and of a name that can't be opened. */
type Say = (why: UsageError) => void;

/**
 * Full paths without doubles, in the order of the arguments, those of one argument by name. `passOver` is told of each file
 * in a folder that only lacks a name to be one of ours.
 */
export async function expand(paths: readonly string[], say: Say, passOver: PassOver = () => {}): Promise<string[]> {
  const files = new Set<string>();
  for (const path of paths) for (const file of await meant(path, say, passOver)) files.add(file);
  return [...files];
}

type PassOver = (file: string) => void;

async function meant(path: string, say: Say, passOver: PassOver): Promise<string[]> {
  if (path === '') throw new UsageError('A path is empty. `.` is the folder that one stands in.');
  const full = resolve(path);
  const stat = statSync(full, { throwIfNoEntry: false });
  if (!stat && isPattern(path)) return fitting(path, say);
  if (!stat) throw new UsageError(`There is no file or folder \`${path}\`.`);
  assertAtHome(path, full, stat.isDirectory());
  if (stat.isDirectory()) return search(ours, full, say, passOver);
  if (!stat.isFile()) throw new UsageError(`\`${path}\` is no ordinary file.`);
  assertOurs(path, full);
  return [full];
}

/** Are there marks in a path that stand for more than themselves? */
export function isPattern(path: string): boolean {
  return /[*?[{]/.test(path);
}

/** A pattern that fits nothing is more likely a slip than meant, and would pass unseen. */
async function fitting(pattern: string, say: Say): Promise<string[]> {
  const files = await search(pattern, process.cwd(), say, () => {});
  if (files.length === 0) throw new UsageError(`No spec, kit or settings file fits \`${pattern}\`.`);
  return files;
}

export function assertOurs(path: string, full: string): void {
  const name = pathFrom(dirname(full), full);
  if (kindOf(name)) return;
  const endings = 'the names end in `.shoot.yaml`, `.takes.yaml` or `.kit.yaml`';
  const mend = isNameless(name) ? ` Rename it to \`NAME.${name}\`, with a name of yours.` : '';
  throw new UsageError(`\`${path}\` is none of ours: ${endings}, or are \`${settingsPath}\`.${mend}`);
}

/** A link in a repo may lead anywhere: what is behind it is neither read nor written. */
export function assertAtHome(path: string, full: string, isFolder = false): void {
  const folder = isFolder ? full : dirname(full);
  const homes = [repoAround(folder), ...(isFolder ? [] : [rootFor(full, process.cwd())])];
  if (homes.some((home) => home !== undefined && leadsOut(home, full))) throw leftAlone(path);
}

/** Does a path of a folder lead elsewhere, by itself or by a folder on its way? */
export function leadsOut(folder: string, full: string): boolean {
  return !isBelow(realpathSync(folder), realpathSync(full));
}

export function leftAlone(path: string): UsageError {
  return new UsageError(`\`${path}\` is a link that leads out of its repo, so it is left alone.`);
}

async function search(patterns: string | string[], folder: string, say: Say, passOver: PassOver): Promise<string[]> {
  const { glob } = await import('tinyglobby');
  const ignored = new Ignored(folder);
  const fs = { readdir: telling((path, why) => ignored.hasFolder(path) || say(why)) };
  const found = await glob(patterns, { cwd: folder, absolute: true, followSymbolicLinks: false, ignore: never, fs });
  const real = realpathSync(folder);
  const files = found
    .map((file) => resolve(file))
    .filter((file) => !ignored.has(file) && isAtHome(file, folder, real))
    .sort((a, b) => (a < b ? -1 : 1));
  const named = (file: string) => pathFrom(dirname(file), file);
  files.filter((file) => isNameless(named(file))).forEach(passOver);
  return files.filter((file) => kindOf(named(file)));
}

/** Reads folders as the system does, and says what it passes over in silence. */
function telling(say: (folder: string, why: UsageError) => void): typeof readdir {
  const read = (path: string, options: { withFileTypes: true }, done: (error: unknown, entries?: Dirent[]) => void) =>
    readdir(path, options, (error, entries = []) => {
      const folder = resolve(path);
      const named = pathFrom(process.cwd(), folder) || '.';
      // What a pattern starts with may not be there.
      if (error && error.code !== 'ENOENT') say(folder, new Refused(named, 'read', error));
      for (const { name } of entries)
        if (name.includes('\ufffd') && !statSync(join(folder, name), { throwIfNoEntry: false }))
          say(folder, new UsageError(`In \`${named}\` the name \`${name}\` is not in UTF-8, so it was not looked at.`));
      done(error, entries);
    });
  return read as typeof readdir;
}

/** A link that leads out of the folder that is searched is not followed. */
function isAtHome(file: string, folder: string, real: string): boolean {
  if (!isBelow(folder, file)) return true;
  try {
    return isBelow(real, realpathSync(file));
  } catch {
    return false;
  }
}
