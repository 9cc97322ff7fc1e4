/** What ignore files take out, by paths from the folder that they all lie in. */
import { type IgnoreLines, ignoreLines } from './ignore-lines.ts';

export const ignoreFiles: readonly string[] = ['.gitignore', '.shootspecignore'];

export class IgnoredPaths {
  readonly #lines = new Map<string, IgnoreLines | undefined>();
  readonly #folders = new Map<string, boolean>();

  /** @param textOf what an ignore file says, by its path; empty where there is none */
  constructor(private readonly textOf: (path: string) => string) {}

  has(path: string): boolean {
    return this.#has(path.split('/'), false);
  }

  hasFolder(path: string): boolean {
    return path !== '' && this.#hasFolder(path.split('/'));
  }

  #hasFolder(names: readonly string[]): boolean {
    if (names.length === 0) return false;
    const path = names.join('/');
    let known = this.#folders.get(path);
    if (known === undefined) this.#folders.set(path, (known = this.#has(names, true)));
    return known;
  }

  /** As git has it: nothing in a folder that is ignored can be taken back, and the nearest file that says anything decides. */
  #has(names: readonly string[], isFolder: boolean): boolean {
    if (this.#hasFolder(names.slice(0, -1))) return true;
    for (let depth = names.length - 1; depth >= 0; depth--) {
      const lines = this.#linesOf(names.slice(0, depth).join('/'));
      const answer = lines?.(names.slice(depth), isFolder);
      if (answer !== undefined) return answer;
    }
    return false;
  }

  #linesOf(folder: string): IgnoreLines | undefined {
    if (this.#lines.has(folder)) return this.#lines.get(folder);
    const text = ignoreFiles.map((name) => this.textOf(folder === '' ? name : `${folder}/${name}`)).join('\n');
    const lines = text.trim() === '' ? undefined : ignoreLines(text);
    this.#lines.set(folder, lines);
    return lines;
  }
}
