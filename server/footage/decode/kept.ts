/** Measurements that are kept from one time to the next, in the user's cache folder and never in a repo. */
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

/** What is kept, in a folder of its own; of another number is what was measured in another way. */
export interface KindKept {
  readonly folder: string;
  readonly madeBy: number;
}
export const decodedClips: KindKept = { folder: 'decoded', madeBy: 1 };
export const musicHeard: KindKept = { folder: 'music', madeBy: 1 };

/** A few days of shooting have some hundred clips, each of which takes some 50 kB. */
const mostKept = 2000;
const largestKept = 8e6;

/** A file as it is: changed, it is another. */
export interface Stamped {
  readonly file: string;
  readonly bytes: number;
  readonly changedMs: number;
}

/** The folder for what programs can make again: as XDG, macOS and Windows have it. */
export function cacheFolder(env: NodeJS.ProcessEnv = process.env): string {
  const said = env['XDG_CACHE_HOME'];
  if (said && isAbsolute(said)) return join(said, 'shoot-spec');
  if (process.platform === 'win32' && env['LOCALAPPDATA']) return join(env['LOCALAPPDATA'], 'shoot-spec');
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Caches', 'shoot-spec');
  return join(homedir(), '.cache', 'shoot-spec');
}

/** Measurements by file, its size and its time of change. What can't be read or written is as if it were not there. */
export class Kept<Measured> {
  readonly #folder: string;

  constructor(
    private readonly kind: KindKept,
    folder = cacheFolder(),
  ) {
    this.#folder = join(folder, kind.folder);
  }

  read(stamped: Stamped): Measured | undefined {
    try {
      const file = this.#fileOf(stamped);
      if (statSync(file).size > largestKept) return undefined;
      return JSON.parse(readFileSync(file, 'utf8')) as Measured;
    } catch {
      return undefined;
    }
  }

  write(stamped: Stamped, measured: Measured): void {
    try {
      mkdirSync(this.#folder, { recursive: true, mode: 0o700 });
      const file = this.#fileOf(stamped);
      // Renamed when it is whole: two may write at once.
      const part = `${file}.${process.pid}.part`;
      writeFileSync(part, JSON.stringify(measured), { mode: 0o600 });
      renameSync(part, file);
      this.#prune();
    } catch {
      // It is measured again next time.
    }
  }

  #fileOf({ file, bytes, changedMs }: Stamped): string {
    const name = createHash('sha256').update(`${this.kind.madeBy}\n${file}\n${bytes}\n${changedMs}`).digest('hex');
    return join(this.#folder, `${name}.json`);
  }

  /** The oldest go when there are too many. */
  #prune(): void {
    const names = readdirSync(this.#folder);
    if (names.length <= mostKept) return;
    const aged = names.map((name) => ({ name, ms: statSync(join(this.#folder, name)).mtimeMs }));
    aged.sort((a, b) => a.ms - b.ms);
    for (const { name } of aged.slice(0, names.length - mostKept)) rmSync(join(this.#folder, name), { force: true });
  }
}
