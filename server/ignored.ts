/** What the ignore files of a checkout take out. */
import { existsSync, statSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { readBytes } from './bytes.ts';
import { IgnoredPaths } from './ignored-paths.ts';
import { pathFrom } from './node-host.ts';

/** No ignore file that somebody wrote is larger. */
const largestBytes = 1 << 16;

export function isBelow(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '..' && !path.startsWith(`..${sep}`) && !/^[A-Za-z]:/.test(path);
}

/** What the ignore files take out, from the top of the checkout (else the folder that is searched) down to the file. */
export class Ignored {
  readonly #top: string;
  readonly #paths: IgnoredPaths;

  constructor(folder: string) {
    this.#top = checkoutOf(folder) ?? folder;
    this.#paths = new IgnoredPaths((path) => textOf(join(this.#top, path)));
  }

  has(file: string): boolean {
    return isBelow(this.#top, file) && this.#paths.has(pathFrom(this.#top, file));
  }

  hasFolder(folder: string): boolean {
    return isBelow(this.#top, folder) && this.#paths.hasFolder(pathFrom(this.#top, folder));
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
