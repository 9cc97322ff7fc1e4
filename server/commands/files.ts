/** Which files are meant: those named, those that patterns fit, and ours in the folders named, without what is ignored. */
import { realpathSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { settingsPath } from '../core/checker.ts';
import { kindOf } from '../core/paths.ts';
import { Ignored, isBelow } from '../ignored.ts';
import { pathFrom } from '../node-host.ts';
import { UsageError } from './usage.ts';

const ours = ['**/*.shoot.yaml', '**/*.kit.yaml', `**/${settingsPath}`];
/** No folder of this name is ever looked into. */
const never = ['**/node_modules/**', '**/.git/**'];

/** Full paths without doubles, in the order of the arguments, those of one argument by name. */
export async function expand(paths: readonly string[]): Promise<string[]> {
  const files = new Set<string>();
  for (const path of paths) for (const file of await meant(path)) files.add(file);
  return [...files];
}

async function meant(path: string): Promise<string[]> {
  const full = resolve(path);
  const stat = statSync(full, { throwIfNoEntry: false });
  if (!stat && isPattern(path)) return fitting(path);
  if (!stat) throw new UsageError(`There is no file or folder \`${path}\`.`);
  if (stat.isDirectory()) return search(ours, full);
  if (!stat.isFile()) throw new UsageError(`\`${path}\` is no ordinary file.`);
  assertOurs(path, full);
  return [full];
}

/** Are there marks in a path that stand for more than themselves? */
export function isPattern(path: string): boolean {
  return /[*?[{]/.test(path);
}

/** A pattern that fits nothing is more likely a slip than meant, and would pass unseen. */
async function fitting(pattern: string): Promise<string[]> {
  const files = await search(pattern, process.cwd());
  if (files.length === 0) throw new UsageError(`No spec, kit or settings file fits \`${pattern}\`.`);
  return files;
}

export function assertOurs(path: string, full: string): void {
  if (kindOf(pathFrom(dirname(full), full))) return;
  throw new UsageError(
    `\`${path}\` is none of ours: the names end in \`.shoot.yaml\` or \`.kit.yaml\`, or are \`${settingsPath}\`.`,
  );
}

async function search(patterns: string | string[], folder: string): Promise<string[]> {
  const [{ glob }, { default: ignore }] = await Promise.all([import('tinyglobby'), import('ignore')]);
  const found = await glob(patterns, { cwd: folder, absolute: true, followSymbolicLinks: false, ignore: never });
  const ignored = new Ignored(folder, (text) => ignore().add(text));
  const real = realpathSync(folder);
  return found
    .map((file) => resolve(file))
    .filter((file) => kindOf(pathFrom(dirname(file), file)) && !ignored.has(file) && isAtHome(file, folder, real))
    .sort((a, b) => (a < b ? -1 : 1));
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
