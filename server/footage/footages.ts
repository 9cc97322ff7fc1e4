/**
 * The footage of each take sheet: below a folder that whoever runs the program names, else `footage/` beside the sheet
 * (masters in `masters/`). No repo can name a folder, and one beside the sheet counts only where it is no link that leads
 * away. What reads clips is loaded when the first clip is asked for.
 */
import { realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isBelow } from '../ignored.ts';
import { type ClipReader, threadReader } from './clip-reader.ts';
import { FootageFolder } from './footage-folder.ts';
import { FootageStore, type StoreParts } from './footage-store.ts';

/** Folders of this machine, by their full path. */
export interface FootageFolders {
  readonly footage?: string | undefined;
  readonly masters?: string | undefined;
}

export class Footages {
  readonly #stores = new Map<string, FootageStore>();
  /** The folders of each sheet that was asked for; empty where it had none. */
  readonly #asked = new Map<string, string>();
  readonly #reader: ClipReader;

  /**
   * @param program the bundle that reads clips
   * @param more `onNews` is told when something has come in that was not known before; `decoder` knows sound and picture
   */
  constructor(
    program: string,
    private readonly named: FootageFolders,
    private readonly more: Pick<StoreParts, 'onNews' | 'decoder'> = {},
  ) {
    this.#reader = threadReader(program);
  }

  /** What is known for a sheet, by its full path; undefined where it has neither footage nor masters. */
  of(sheet: string): FootageStore | undefined {
    const { clips, masters, key } = this.#foldersOf(sheet);
    this.#asked.set(sheet, key);
    if (!clips && !masters) return undefined;
    let store = this.#stores.get(key);
    if (!store) {
      store = new FootageStore({ clips, masters, reader: this.#reader, ...this.more });
      this.#stores.set(key, store);
    }
    return store;
  }

  /** Whether anything that was asked for is still being read. */
  get isReading(): boolean {
    return [...this.#stores.values()].some((store) => store.isReading);
  }

  async settled(): Promise<void> {
    for (const store of this.#stores.values()) await store.settled();
  }

  /** Looks at all folders again, and tells whether anything has changed. */
  look(): boolean {
    const isElsewhere = [...this.#asked].some(([sheet, key]) => this.#foldersOf(sheet).key !== key);
    return [...this.#stores.values()].map((store) => store.look()).some((isOther) => isOther) || isElsewhere;
  }

  end(): void {
    this.#stores.clear();
    this.#reader.end();
  }

  #foldersOf(sheet: string) {
    const folder = dirname(sheet);
    const clips = this.#folder(this.named.footage, folder, 'footage');
    const masters = this.#folder(this.named.masters, folder, 'masters');
    return { clips, masters, key: clips || masters ? `${clips?.root ?? ''}\n${masters?.root ?? ''}` : '' };
  }

  #folder(named: string | undefined, beside: string, name: string): FootageFolder | undefined {
    if (named !== undefined) return FootageFolder.at(named);
    const folder = join(beside, name);
    return isAtHome(folder, beside) ? FootageFolder.at(folder) : undefined;
  }
}

/** A link in a repo may lead anywhere. */
function isAtHome(folder: string, beside: string): boolean {
  try {
    return isBelow(realpathSync(beside), realpathSync(folder));
  } catch {
    return false;
  }
}
