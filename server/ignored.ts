/** What the ignore files of a checkout take out. */
import { existsSync, statSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { readBytes } from './bytes.ts';
import { type IgnoreLines, ignoreLines } from './ignore-lines.ts';
import { pathFrom } from './node-host.ts';

export const ignoreFiles: readonly string[] = ['.gitignore', '.shootspecignore'];
/** No ignore file that somebody wrote is larger. */
const largestBytes = 1 << 16;

export function isBelow(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '..' && !path.startsWith(`..${sep}`) && !/^[A-Za-z]:/.test(path);
}

/** What the ignore files take out, from the top of the checkout (else the folder that is searched) down to the file. */
export class Ignored {
  readonly #top: string;
  readonly #lines = new Map<string, IgnoreLines | undefined>();
  readonly #folders = new Map<string, boolean>();

  constructor(folder: string) {
    this.#top = checkoutOf(folder) ?? folder;
  }

  has(file: string): boolean {
    return this.#has(file, false);
  }

  hasFolder(folder: string): boolean {
    if (folder === this.#top || !isBelow(this.#top, folder)) return false;
    let known = this.#folders.get(folder);
    if (known === undefined) this.#folders.set(folder, (known = this.#has(folder, true)));
    return known;
  }

  /** As git has it: nothing in a folder that is ignored can be taken back, and the nearest file that says anything decides. */
  #has(path: string, isFolder: boolean): boolean {
    if (!isBelow(this.#top, path)) return false;
    if (this.hasFolder(dirname(path))) return true;
    const names = pathFrom(this.#top, path).split('/');
    for (let depth = names.length - 1; depth >= 0; depth--) {
      const lines = this.#linesOf(join(this.#top, ...names.slice(0, depth)));
      const answer = lines?.(names.slice(depth), isFolder);
      if (answer !== undefined) return answer;
    }
    return false;
  }

  #linesOf(folder: string): IgnoreLines | undefined {
    if (this.#lines.has(folder)) return this.#lines.get(folder);
    const text = ignoreFiles.map((name) => textOf(join(folder, name))).join('\n');
    const lines = text.trim() === '' ? undefined : ignoreLines(text);
    this.#lines.set(folder, lines);
    return lines;
  }
}

function textOf(file: string): string {
  const stat = statSync(file, { throwIfNoEntry: false });
  return stat?.isFile()
    ? readBytes(file, largestBytes)
        .toString('utf8')
        .replace(/^\ufeff/, '')
    : '';
}

/** The top of the git checkout that a folder lies in. */
function checkoutOf(folder: string): string | undefined {
  for (let here = folder; ; here = dirname(here)) {
    if (existsSync(join(here, '.git'))) return here;
    if (here === dirname(here)) return undefined;
  }
}
