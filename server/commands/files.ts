/** Which files are meant: those named, those that patterns fit, and ours in the folders named, without what is ignored. */
import { existsSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import type { Ignore } from 'ignore';
import { settingsPath } from '../core/checker.ts';
import { kindOf } from '../core/paths.ts';
import { pathFrom } from '../node-host.ts';
import { UsageError } from './usage.ts';

const ours = ['**/*.shoot.yaml', '**/*.kit.yaml', `**/${settingsPath}`];
const ignoreFiles = ['.gitignore', '.shootspecignore'];
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
  if (!stat && /[*?[{]/.test(path)) return search(path, process.cwd());
  if (!stat) throw new UsageError(`There is no file or folder \`${path}\`.`);
  if (stat.isDirectory()) return search(ours, full);
  if (!stat.isFile()) throw new UsageError(`\`${path}\` is no ordinary file.`);
  assertOurs(path, full);
  return [full];
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

function isBelow(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '..' && !path.startsWith(`..${sep}`) && !/^[A-Za-z]:/.test(path);
}

/** What the ignore files take out, from the top of the checkout (else the folder that is searched) down to the file. */
class Ignored {
  readonly #top: string;
  readonly #known = new Map<string, Ignore | undefined>();

  constructor(
    folder: string,
    private readonly read: (text: string) => Ignore,
  ) {
    this.#top = checkoutOf(folder) ?? folder;
  }

  has(file: string): boolean {
    if (!isBelow(this.#top, file)) return false;
    // As git has it: nothing in a folder that is ignored can be taken back, so folders are asked from the top.
    const steps = pathFrom(this.#top, file).split('/');
    return steps.some((_, index) => this.#ignores(steps, index + 1));
  }

  /** Does an ignore file above take out the folder or file that the first so many steps lead to? The nearest decides. */
  #ignores(steps: readonly string[], count: number): boolean {
    for (let depth = count - 1; depth >= 0; depth--) {
      const rules = this.#rules(join(this.#top, ...steps.slice(0, depth)));
      const path = steps.slice(depth, count).join('/') + (count < steps.length ? '/' : '');
      const answer = rules?.test(path);
      if (answer?.ignored) return true;
      if (answer?.unignored) return false;
    }
    return false;
  }

  #rules(folder: string): Ignore | undefined {
    if (this.#known.has(folder)) return this.#known.get(folder);
    const texts = ignoreFiles.map((name) => textOf(join(folder, name))).filter((text) => text !== '');
    const rules = texts.length > 0 ? this.read(texts.join('\n')) : undefined;
    this.#known.set(folder, rules);
    return rules;
  }
}

function textOf(file: string): string {
  const stat = statSync(file, { throwIfNoEntry: false });
  return stat?.isFile() ? readFileSync(file, 'utf8').replace(/^\ufeff/, '') : '';
}

/** The top of the git checkout that a folder lies in. */
function checkoutOf(folder: string): string | undefined {
  for (let here = folder; ; here = dirname(here)) {
    if (existsSync(join(here, '.git'))) return here;
    if (here === dirname(here)) return undefined;
  }
}
