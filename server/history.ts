/** Specs as they were at revisions of git, read ahead: rules ask at once, and what is not known yet is not there. */
import { dirname, join } from 'node:path';
import { Checker } from './core/checker.ts';
import type { Earlier } from './core/film.ts';
import { beside, Checkout, GitFault, type Manner, pathInRepo } from './git.ts';
import { rules } from './rules/index.ts';
import type { History as HistoryHere } from './surroundings.ts';

/** A revision that is not there yet may come with the next fetch. */
const askAgainMs = 10_000;

interface Known {
  /** Undefined while it is read, and where there is no git. */
  readonly earlier?: Earlier | undefined;
  readonly atMs: number;
}

export class History implements HistoryHere {
  readonly #known = new Map<string, Known>();
  readonly #reading = new Set<Promise<void>>();
  /** In a folder that is not trusted git is not run. */
  #isTrusted = true;

  /** @param onNews is told when a spec may have other findings */
  constructor(
    private readonly onNews: () => void = () => undefined,
    private readonly manner: Manner = beside,
  ) {}

  trust(isTrusted: boolean): void {
    const isNews = isTrusted && !this.#isTrusted;
    this.#isTrusted = isTrusted;
    if (isNews) this.onNews();
  }

  /** @param path of a spec from the root of its repo, which need not be that of git */
  of(root: string, path: string, revision: string): Earlier | undefined {
    if (!this.#isTrusted) return undefined;
    const key = JSON.stringify([root, path, revision]);
    const known = this.#known.get(key);
    const isOld = known?.earlier?.kind === 'unknown' && performance.now() - known.atMs > askAgainMs;
    if (!known || isOld) this.#read(key, { root, path, revision }, known?.earlier);
    return this.#known.get(key)?.earlier;
  }

  /** The newest commit around a folder, while somebody waits for it. */
  lastCommit(root: string): string | undefined {
    return this.#isTrusted ? Checkout.lastCommit(root, this.manner) : undefined;
  }

  get isReading(): boolean {
    return this.#reading.size > 0;
  }

  async settled(): Promise<void> {
    while (this.isReading) await Promise.all(this.#reading);
  }

  #read(key: string, asked: Asked, before: Earlier | undefined): void {
    this.#known.set(key, { earlier: before, atMs: performance.now() });
    const reading = read(asked, this.manner).then((earlier) => {
      this.#known.set(key, { earlier, atMs: performance.now() });
      this.#reading.delete(reading);
      if (earlier && earlier.kind !== before?.kind) this.onNews();
    });
    this.#reading.add(reading);
  }
}

interface Asked {
  readonly root: string;
  readonly path: string;
  readonly revision: string;
}

/** Undefined where git has nothing to say: it is not there, or does not have this folder in its care. */
async function read({ root, path, revision }: Asked, manner: Manner): Promise<Earlier | undefined> {
  const file = join(root, path);
  try {
    const checkout = await Checkout.around(dirname(file), manner);
    const commit = await checkout.commitOf(revision);
    if (commit === undefined) return { kind: 'unknown', isCutOff: await checkout.isCutOff() };
    const found = await checkout.revision(commit);
    const now = pathInRepo(checkout.top, file);
    const name = found.has(now) ? now : (await checkout.movedSince(commit)).get(now);
    if (name === undefined) return { kind: 'absent' };
    const top = found.rootFor(name, pathInRepo(checkout.top, root));
    const [host, inRoot] = [found.host(top), found.pathIn(top, name)];
    const text = host.read(inRoot);
    const film = 'text' in text ? new Checker(host, rules).check(inRoot, text.text)?.film : undefined;
    return film ? { kind: 'plan', film } : { kind: 'absent' };
  } catch (error) {
    if (error instanceof GitFault) return undefined;
    throw error;
  }
}
