/** The repos behind the open files: one checker for each root, reading open files before those on the disk. */
import { Checker } from './core/checker.ts';
import type { MusicHeard } from './core/decoded.ts';
import type { Footage } from './core/footage.ts';
import type { Host } from './core/host.ts';
import type { Disk } from './disk.ts';
import { type FileKind, kindOf, settingsPath } from './core/paths.ts';
import type { OpenFiles } from './open-files.ts';
import { RepoFiles } from './features/repo-files.ts';
import { rules } from './rules/index.ts';
import { inLanguage } from './rules/language.ts';
import type { History } from './surroundings.ts';

export interface RepoPlace {
  readonly checker: Checker;
  readonly kind: FileKind;
  /** From the root; undefined for a file that is not saved anywhere. */
  readonly path?: string;
  readonly root: string;
  /** All files of the repo. */
  readonly files: RepoFiles;
  readonly uriOf: (path?: string) => string;
}

export type Repo = Omit<RepoPlace, 'kind' | 'path'>;

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

  /**
   * @param footage what is known of the clips of a sheet, by its path from a root
   * @param music what is heard in a file below a root
   * @param history where git can be asked
   */
  constructor(
    private readonly files: OpenFiles,
    readonly disk: Disk,
    private readonly footage: (root: string, sheet: string) => Footage | undefined,
    private readonly music: (root: string, path: string) => MusicHeard | undefined,
    private readonly history: History | undefined,
  ) {}

  /** The folders that are open. Checkers of roots that are gone are dropped with what they know. */
  setFolders(uris: readonly string[]): void {
    this.#folders = uris.flatMap((uri) => this.disk.fileOf(uri) ?? []);
    this.#repos.clear();
  }

  /** @param texts findings are said in these translations */
  speak(texts: unknown): void {
    this.#rules = inLanguage(rules, texts);
    this.#repos.clear();
  }

  /** Where a file belongs; undefined for one that is none of ours or lies where no file can be read. */
  placeOf(uri: string, languageId: string): RepoPlace | undefined {
    const file = this.disk.fileOf(uri);
    const kind =
      (file === undefined ? undefined : kindOf(file.replaceAll('\\', '/'))) ?? kindOfLanguage.get(languageId);
    if (!kind) return undefined;
    if (file === undefined) {
      const root = uri.startsWith('untitled:') ? (this.#folders[0] ?? this.disk.here) : undefined;
      return root === undefined ? undefined : { ...this.#repo(root), kind };
    }
    const root = this.#rootOf(file);
    return { ...this.#repo(root), kind, path: this.disk.pathFrom(root, file) };
  }

  /** The repo of any file on disk, and the file's path in it. */
  repoOf(file: string): Repo & { readonly path: string } {
    const root = this.#rootOf(file);
    return { ...this.#repo(root), path: this.disk.pathFrom(root, file) };
  }

  /** The repos of the folders that are open, and those of the files that are. */
  all(): Repo[] {
    const files = this.files.all().flatMap(({ uri }) => this.disk.fileOf(uri) ?? []);
    const roots = [...this.#folders, ...files.map((file) => this.#rootOf(file))];
    return [...new Set(roots)].map((root) => this.#repo(root));
  }

  /** The innermost of the open folders that a file lies in. */
  folderAround(file: string): string | undefined {
    const around = this.#folders.filter((one) => this.disk.isInside(one, file));
    return around.sort((a, b) => b.length - a.length)[0];
  }

  #rootOf(file: string): string {
    return this.disk.rootFor(file, this.folderAround(file));
  }

  #repo(root: string): Repo {
    let repo = this.#repos.get(root);
    if (!repo) {
      const checker = new Checker(this.#host(root), this.#rules, {
        footage: (sheet) => this.footage(root, sheet),
        music: (path) => this.music(root, path),
        earlier: (path, revision) => this.history?.of(root, path, revision),
        lastCommit: () => this.history?.lastCommit(root),
        today,
      });
      const files = new RepoFiles(checker.host, (path) => checker.settings(path));
      const uriOf = (path?: string) => this.disk.uriOf(root, path);
      this.#repos.set(root, (repo = { root, checker, files, uriOf }));
    }
    return repo;
  }

  /** Files on disk, with the text of those that are open in the editor in its place. */
  #host(root: string): Host {
    const disk = this.disk.host(root);
    const open = (path: string) => this.files.get(this.disk.uriOf(root, path));
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
      ...(disk.photograph && { photograph: (path) => disk.photograph?.(path) }),
      ...(disk.sketch && { sketch: (path) => disk.sketch?.(path) }),
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
