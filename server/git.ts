/** A git repo at one of its revisions, read through git itself: no shell, no hooks, no filters, nothing is checked out. */
import { execFile, execFileSync } from 'node:child_process';
import { existsSync, realpathSync } from 'node:fs';
import { devNull } from 'node:os';
import { basename, dirname, join, posix } from 'node:path';
import { promisify } from 'node:util';
import { largestFileBytes } from './core/document/parse.ts';
import type { Entry, Host, ReadResult } from './core/host.ts';
import { pathFault, settingsPath } from './core/paths.ts';
import { kitsFolder, rootAmong } from './core/root.ts';
import { isBelow } from './ignored.ts';
import { pathFrom } from './node-host.ts';

/** Links in a row that are followed. */
const mostLinks = 8;

const execute = promisify(execFile);

/** What stands in the way, said in one line. */
export class GitFault extends Error {
  /** @param status what git itself ended with; undefined where it did not come so far */
  constructor(
    message: string,
    readonly status?: number,
  ) {
    super(message);
  }
}

export interface Manner {
  /** How long git may take for one answer. */
  readonly limitMs?: number;
  readonly env?: NodeJS.ProcessEnv;
}

/** A repo may name what never answers: a pipe to read settings from, a folder on a server that is gone. */
export const usualLimitMs = 30_000;

/** Set where a program was started by git itself, for that repo; the repo of a file may be another one. */
const ofAnotherRepo = /^GIT_(?:DIR|WORK_TREE|INDEX_FILE|COMMON_DIR|(?:ALTERNATE_)?OBJECT_DIRECTOR(?:Y|IES)|PREFIX)$/;

/** For what git is asked beside something else, which waits no longer than this. */
export const beside: Manner = {
  limitMs: 5000,
  get env() {
    return Object.fromEntries(Object.entries(process.env).filter(([name]) => !ofAnotherRepo.test(name)));
  },
};

/** What a repo has not got is not fetched: how that is done, and by which program, a repo may say itself. */
const nothingFetched = { GIT_NO_LAZY_FETCH: '1', GIT_ALLOW_PROTOCOL: 'none', GIT_TERMINAL_PROMPT: '0' };

/** Settings that win over those of the repo. */
const ours: readonly string[] = [
  // A repo may name a program that watches its files, and bring hooks; nothing that a repo names is run.
  'core.fsmonitor=false',
  `core.hooksPath=${devNull}`,
  // Files in a folder may look like a repo with settings of its own, and come with any clone.
  'safe.bareRepository=explicit',
  // Nothing is written for having looked.
  'diff.autoRefreshIndex=false',
];

/** A folder that git has in its care. No name of a file is ever among git's arguments, so none can be taken for an option. */
export class Checkout {
  private constructor(
    readonly top: string,
    private readonly manner: Manner,
  ) {}

  /** The checkout that a folder lies in. */
  static async around(folder: string, manner: Manner = {}): Promise<Checkout> {
    const top = await Checkout.#topAround(folder, manner);
    // A repo may say of any folder that its files lie there.
    if (!isBelow(realpathSync(top), realpathSync(folder)))
      throw new GitFault(`The settings of this repo say that its files lie in \`${top}\`, and this folder does not.`);
    return new Checkout(top, manner);
  }

  static async #topAround(folder: string, manner: Manner): Promise<string> {
    try {
      return (await new Checkout(folder, manner).#run(['rev-parse', '--show-toplevel'])).replace(/\r?\n$/, '');
    } catch (error) {
      const { status, message } = error as GitFault;
      if (status === undefined) throw error;
      throw new GitFault(
        message.includes('dubious ownership')
          ? 'This folder belongs to somebody else, so git does not read it; `git status` there says how to allow it.'
          : 'This folder is in no git repo, so there is nothing to compare it with.',
      );
    }
  }

  /** The commit that a name means; undefined for a name that means none. */
  async commitOf(name: string): Promise<string | undefined> {
    try {
      const said = await this.#run(['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]);
      return said.trim();
    } catch (error) {
      if ((error as GitFault).status === undefined) throw error;
      return undefined;
    }
  }

  /** Was the history cut off when it was fetched? */
  async isCutOff(): Promise<boolean> {
    return (await this.#run(['rev-parse', '--is-shallow-repository'])).trim() === 'true';
  }

  /** What differs between a commit and another, or the working tree where none is given, new files included. */
  async differences(from: string, to?: string): Promise<Differences> {
    const { names, changed } = await (to ? this.#diff([from, to]) : (await this.#withoutFilters()).#diff([from]));
    const fresh = to ? '' : await this.#run(['ls-files', '--others', '--exclude-standard', '-z']);
    return { names, changed: new Set([...changed, ...fresh.split('\0').filter(Boolean)]) };
  }

  /** New name to old name, of files that were moved since a commit and whose move is staged. No file is read for it. */
  async movedSince(commit: string): Promise<ReadonlyMap<string, string>> {
    return (await this.#diff(['--cached', '--diff-filter=R', commit])).names;
  }

  async revision(commit: string): Promise<Revision> {
    const said = await this.#run(['ls-tree', '-r', '-z', '--full-tree', commit]);
    return new Revision(this.top, commit, entriesOf(said), (id) => this.#blob(id));
  }

  async #diff(what: readonly string[]): Promise<Differences> {
    const options = ['--name-status', '--find-renames', '-z', '--no-ext-diff', '--ignore-submodules'];
    return differencesOf(await this.#run(['diff', ...options, ...what, '--']));
  }

  /** The same checkout, but git takes files of the working tree as they are: a filter is a program that the repo names. */
  async #withoutFilters(): Promise<Checkout> {
    const said = await this.#run(['config', '-z', '--name-only', '--get-regexp', '^filter\\.']).catch(unlessNoneThere);
    const filters = new Set(said.split('\0').map((key) => key.slice(0, key.lastIndexOf('.'))));
    filters.delete('');
    const off = [...filters].flatMap((filter) => [
      [`${filter}.clean`, ''],
      [`${filter}.process`, ''],
      [`${filter}.required`, 'false'],
    ]);
    return new Checkout(this.top, { ...this.manner, env: withSettings(this.manner.env ?? process.env, off) });
  }

  async #run(args: readonly string[]): Promise<string> {
    try {
      return (await execute('git', this.#args(args), this.#options)).stdout;
    } catch (error) {
      throw faultOf(error);
    }
  }

  /** While a check waits for it. Undefined for what is too large for a file of ours. */
  #blob(id: string): string | undefined {
    try {
      return execFileSync('git', this.#args(['cat-file', 'blob', id]), {
        ...this.#options,
        maxBuffer: largestFileBytes,
        stdio: ['ignore', 'pipe', 'pipe'],
      });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOBUFS') return undefined;
      throw faultOf(error);
    }
  }

  /** The newest commit of the checkout around a folder, while somebody waits for it; undefined where there is none. */
  static lastCommit(folder: string, manner: Manner = {}): string | undefined {
    const here = new Checkout(folder, manner);
    try {
      const said = execFileSync('git', here.#args(['rev-parse', '--verify', '--quiet', 'HEAD']), {
        ...here.#options,
        stdio: ['ignore', 'pipe', 'ignore'],
      });
      return said.trim();
    } catch {
      return undefined;
    }
  }

  #args(args: readonly string[]): string[] {
    return ['-C', this.top, ...ours.flatMap((one) => ['-c', one]), ...args];
  }

  get #options() {
    const { limitMs = usualLimitMs, env = process.env } = this.manner;
    return {
      // Windows looks for programs in the folder that they are started in: never in one that somebody else filled.
      cwd: dirname(process.execPath),
      encoding: 'utf8' as const,
      maxBuffer: 1 << 30,
      timeout: limitMs,
      windowsHide: true,
      env: { ...env, ...nothingFetched, LC_ALL: 'C', GIT_OPTIONAL_LOCKS: '0' },
    };
  }
}

/** What `git config` ends with where nothing has such a name. */
function unlessNoneThere(error: unknown): string {
  if ((error as GitFault).status === 1) return '';
  throw error;
}

/** Git settings by the environment, behind those that are there: unlike options, they may have any name. */
function withSettings(env: NodeJS.ProcessEnv, settings: readonly (readonly string[])[]): NodeJS.ProcessEnv {
  const before = Number(env['GIT_CONFIG_COUNT'] ?? 0) || 0;
  const added = settings.flatMap(([key, value], index) => [
    [`GIT_CONFIG_KEY_${before + index}`, key],
    [`GIT_CONFIG_VALUE_${before + index}`, value],
  ]);
  return { ...env, GIT_CONFIG_COUNT: String(before + settings.length), ...Object.fromEntries(added) };
}

function faultOf(error: unknown): GitFault {
  const { code, killed, status, stderr } = error as {
    code?: string | number | null;
    killed?: boolean;
    status?: number | null;
    stderr?: string;
  };
  if (code === 'ENOENT') return new GitFault('This needs git, and it is not there.');
  if (killed || code === 'ETIMEDOUT') return new GitFault('Git did not answer in time, so nothing was compared.');
  const line = stderr?.split('\n')[0] ?? String(error);
  return new GitFault(`Git could not read the repo: ${line}`, (typeof code === 'number' ? code : status) ?? undefined);
}

export interface Differences {
  /** New name to old name, of files that git takes for the same. */
  readonly names: ReadonlyMap<string, string>;
  /** All that differ, by their name now, else before. */
  readonly changed: ReadonlySet<string>;
}

function differencesOf(said: string): Differences {
  const parts = said.split('\0');
  const names = new Map<string, string>();
  const changed = new Set<string>();
  while (parts.length > 1) {
    const status = parts.shift()!;
    const first = parts.shift()!;
    const isRename = status.startsWith('R');
    const now = isRename ? parts.shift()! : first;
    if (isRename && !climbs.test(first)) names.set(now, first);
    if (!climbs.test(now)) changed.add(now);
  }
  return { names, changed };
}

/** The path of a file or folder from the top of its repo, links followed; it climbs out where it lies elsewhere. */
export function pathInRepo(top: string, path: string): string {
  return pathFrom(realpathSync(top), existsSync(path) ? realpathSync(path) : path);
}

interface TreeEntry {
  readonly mode: string;
  readonly id: string;
}

/** No git makes a tree with such a name, and no checkout has one; a commit that somebody made by hand may. */
const climbs = /(?:^|\/)(?:\.{0,2}|\.git)(?:\/|$)/i;

function entriesOf(said: string): ReadonlyMap<string, TreeEntry> {
  const entries = new Map<string, TreeEntry>();
  for (const line of said.split('\0')) {
    const match = /^(\d+) blob (\w+)\t(.*)$/s.exec(line);
    if (match && !climbs.test(match[3]!)) entries.set(match[3]!, { mode: match[1]!, id: match[2]! });
  }
  return entries;
}

/** All files of a commit. A root is the path of a folder from the top of the repo; it may lie above it. */
export class Revision {
  readonly #texts = new Map<string, string | undefined>();
  #withKits: ReadonlySet<string> | undefined;

  constructor(
    readonly top: string,
    readonly commit: string,
    private readonly entries: ReadonlyMap<string, TreeEntry>,
    private readonly blob: (id: string) => string | undefined,
  ) {}

  get files(): readonly string[] {
    return [...this.entries.keys()];
  }

  /** The repo's root for a file, as `rootFor` of the disk has it; settings are looked for no higher than `top`. */
  rootFor(file: string, open: string | undefined, top = ''): string {
    const names = file.split('/').slice(0, -1);
    const folders = [...names.map((_, index) => names.slice(0, names.length - index).join('/')), ''];
    return rootAmong({
      folders: folders.filter((folder) => isIn(folder, top)),
      open: open !== undefined && isIn(file, open) ? open : undefined,
      hasSettings: (folder) => this.entries.has(posix.join(folder, settingsPath)),
      hasKits: (folder) => this.#kitsFolders().has(folder),
    });
  }

  has(file: string): boolean {
    return this.entries.has(file);
  }

  /** The path of a file from a root. */
  pathIn(root: string, file: string): string {
    return pathFrom(join(this.top, root), join(this.top, file));
  }

  /** The files below a folder as the checker sees them. */
  host(root: string): Host {
    return {
      name: basename(join(this.top, root)),
      read: (path) => (pathFault(path) ? { problem: 'outside' } : this.read(path, root)),
      exists: (path) => !pathFault(path) && !('problem' in this.#find(path, root)),
      list: (folder) => this.#list(folder, root),
    };
  }

  read(path: string, root: string): ReadResult {
    const found = this.#find(path, root);
    if ('problem' in found) return found;
    const text = this.#text(found.id);
    return text === undefined ? { problem: 'too-big' } : { text };
  }

  #find(path: string, root: string): TreeEntry | { problem: 'missing' | 'outside' } {
    let here = this.#fromTop(path, root);
    for (let links = 0; links < mostLinks; links++) {
      const entry = this.entries.get(here);
      if (!entry) return { problem: 'missing' };
      if (entry.mode !== '120000') return entry;
      const target = this.#text(entry.id) ?? '';
      here = posix.isAbsolute(target) ? target : posix.join(posix.dirname(here), target);
      if (here.startsWith('..') || here.startsWith('/') || !isIn(here, root)) return { problem: 'outside' };
    }
    return { problem: 'missing' };
  }

  #fromTop(path: string, root: string): string {
    return pathFrom(this.top, join(this.top, root, path));
  }

  #text(id: string): string | undefined {
    if (!this.#texts.has(id)) this.#texts.set(id, this.blob(id));
    return this.#texts.get(id);
  }

  /** The folders that hold kits; asked for every file of a repo without settings. */
  #kitsFolders(): ReadonlySet<string> {
    this.#withKits ??= new Set(
      this.files.flatMap((file) => {
        const names = file.split('/');
        return names.flatMap((name, index) =>
          name === kitsFolder && index < names.length - 1 ? [names.slice(0, index).join('/')] : [],
        );
      }),
    );
    return this.#withKits;
  }

  #list(folder: string, root: string): Entry[] {
    const inside = this.#fromTop(folder, root);
    const start = inside === '' ? '' : `${inside}/`;
    const entries = new Map<string, boolean>();
    for (const file of this.files) {
      if (!file.startsWith(start)) continue;
      const [name, ...rest] = file.slice(start.length).split('/');
      entries.set(name!, rest.length > 0);
    }
    return [...entries]
      .filter(([name, isFolder]) => !isFolder || (!name.startsWith('.') && name !== 'node_modules'))
      .map(([name, isFolder]) => ({ name, isFolder }))
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }
}

/** Is a path of the repo in a folder, or the folder itself? All of the repo is in folders above its top. */
function isIn(path: string, folder: string): boolean {
  return folder === '' || /^\.\.(\/|$)/.test(folder) || path === folder || path.startsWith(`${folder}/`);
}
