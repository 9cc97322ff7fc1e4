/** The repos behind the open files: one checker for each root, reading open files before the disk. */
import { join, sep } from 'node:path';
import { URI } from 'vscode-uri';
import { filePath } from './address.ts';
import { Checker } from './core/checker.ts';
import type { Footage } from './core/footage.ts';
import type { Host } from './core/host.ts';
import { type FileKind, kindOf, settingsPath } from './core/paths.ts';
import type { OpenFiles } from './open-files.ts';
import { RepoFiles } from './features/repo-files.ts';
import { NodeHost, pathFrom, rootFor } from './node-host.ts';
import { rules } from './rules/index.ts';
import { inLanguage } from './rules/language.ts';
import { textsFor } from './translations.ts';

export interface RepoPlace {
  readonly checker: Checker;
  readonly kind: FileKind;
  /** From the root; undefined for a file that is not saved anywhere. */
  readonly path?: string;
  readonly root: string;
  /** All files of the repo. */
  readonly files: RepoFiles;
}

interface Repo {
  readonly root: string;
  readonly checker: Checker;
  readonly files: RepoFiles;
}

const kindOfLanguage: ReadonlyMap<string, FileKind> = new Map([
  ['shoot-spec', 'shoot'],
  ['shoot-takes', 'takes'],
  ['shoot-kit', 'kit'],
  ['shoot-settings', 'config'],
]);

export class Repos {
  readonly #repos = new Map<string, Repo>();
  #folders: string[] = [];
  #rules = rules;

  /** @param footage what is known of the clips of a sheet, by its full path */
  constructor(
    private readonly files: OpenFiles,
    private readonly footage: (sheet: string) => Footage | undefined,
  ) {}

  /** The folders that are open. Checkers of roots that are gone are dropped with what they know. */
  setFolders(uris: readonly string[]): void {
    this.#folders = uris.flatMap((uri) => filePath(uri) ?? []);
    this.#repos.clear();
  }

  /** Findings are said in the language of a locale, where somebody has translated them. */
  speak(locale: string): void {
    this.#rules = inLanguage(rules, textsFor(locale));
    this.#repos.clear();
  }

  /** Where a file belongs; undefined for one that is none of ours or lies where no file can be read. */
  placeOf(uri: string, languageId: string): RepoPlace | undefined {
    const file = filePath(uri);
    const kind =
      (file === undefined ? undefined : kindOf(file.replaceAll('\\', '/'))) ?? kindOfLanguage.get(languageId);
    if (!kind) return undefined;
    if (file === undefined) {
      const root = uri.startsWith('untitled:') ? (this.#folders[0] ?? process.cwd()) : undefined;
      return root === undefined ? undefined : { ...this.#repo(root), kind };
    }
    const root = this.#rootOf(file);
    return { ...this.#repo(root), kind, path: pathFrom(root, file) };
  }

  /** The repo of any file on disk, and the file's path in it. */
  repoOf(file: string): Repo & { readonly path: string } {
    const root = this.#rootOf(file);
    return { ...this.#repo(root), path: pathFrom(root, file) };
  }

  /** A file's path from a root; it climbs out where the file lies elsewhere. */
  pathIn(root: string, file: string): string {
    return pathFrom(root, file);
  }

  /** The repos of the folders that are open, and those of the files that are. */
  all(): Repo[] {
    const files = this.files.all().flatMap(({ uri }) => filePath(uri) ?? []);
    const roots = [...this.#folders, ...files.map((file) => this.#rootOf(file))];
    return [...new Set(roots)].map((root) => this.#repo(root));
  }

  /** The innermost of the open folders that a file lies in. */
  folderAround(file: string): string | undefined {
    const around = this.#folders.filter((one) => file.startsWith(one.endsWith(sep) ? one : one + sep));
    return around.sort((a, b) => b.length - a.length)[0];
  }

  #rootOf(file: string): string {
    const folder = this.folderAround(file);
    return rootFor(file, folder, folder);
  }

  #repo(root: string): Repo {
    let repo = this.#repos.get(root);
    if (!repo) {
      const checker = new Checker(this.#host(root), this.#rules, {
        footage: (sheet) => this.footage(join(root, sheet)),
        today,
      });
      const files = new RepoFiles(checker.host, (path) => checker.settings(path));
      this.#repos.set(root, (repo = { root, checker, files }));
    }
    return repo;
  }

  /** Files on disk, with the text of those that are open in the editor in its place. */
  #host(root: string): Host {
    const disk = new NodeHost(root);
    const open = (path: string) => this.files.get(URI.file(join(root, path)).toString());
    return {
      name: disk.name,
      read: (path) => {
        const onDisk = disk.read(path);
        const file = 'problem' in onDisk && onDisk.problem !== 'missing' ? undefined : open(path);
        if (file) return { text: file.text };
        // Editors take a byte order mark for no character of the text, so places and edits are counted without it.
        return 'text' in onDisk ? { text: onDisk.text.replace(/^\ufeff/, '') } : onDisk;
      },
      exists: (path) => disk.exists(path),
      photograph: (path) => disk.photograph(path),
      list: (folder) => {
        const entries = disk.list(folder);
        return this.#isOpen(root) || disk.exists(settingsPath) ? entries : entries.filter((one) => !one.isFolder);
      },
    };
  }

  /** Round a file that was opened alone there may be a whole home, in which nobody asked us to look about. */
  #isOpen(root: string): boolean {
    return this.#folders.includes(root) || this.folderAround(root) !== undefined;
  }
}

/** The day that it is where somebody types, in days since 1970-01-01. */
function today(): number {
  const now = new Date();
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86_400_000;
}
