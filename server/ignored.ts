/** What the ignore files of a checkout take out. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import type { Ignore } from 'ignore';
import { pathFrom } from './node-host.ts';

const ignoreFiles = ['.gitignore', '.shootspecignore'];

export function isBelow(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '..' && !path.startsWith(`..${sep}`) && !/^[A-Za-z]:/.test(path);
}

/** What the ignore files take out, from the top of the checkout (else the folder that is searched) down to the file. */
export class Ignored {
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
