/** Music that a repo names: looked for below its root, links included, and listened to where it is not known yet. */
import type { MusicHeard } from '../core/decoded.ts';
import type { Listener } from './decode/listener.ts';
import { FootageFolder, type FoundFile } from './footage-folder.ts';

export class RepoMusic {
  readonly #folders = new Map<string, FootageFolder | undefined>();

  constructor(private readonly listener: Listener) {}

  known(root: string, path: string): MusicHeard | undefined {
    const at = this.#locate(root, path);
    return at && this.listener.known(at);
  }

  isThere(root: string, path: string): boolean {
    return this.#locate(root, path) !== undefined;
  }

  /** Whether it is there and nobody has tried to listen to it. */
  isNew(root: string, path: string): boolean {
    const at = this.#locate(root, path);
    return at !== undefined && !this.listener.hasTried(at);
  }

  async listen(root: string, path: string): Promise<void> {
    const at = this.#locate(root, path);
    if (at) await this.listener.listen(at);
  }

  #locate(root: string, path: string): FoundFile | undefined {
    if (!this.#folders.has(root)) this.#folders.set(root, FootageFolder.at(root));
    const at = this.#folders.get(root)?.locate(path);
    return at === undefined || 'problem' in at ? undefined : at;
  }
}
