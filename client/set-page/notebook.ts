/** What is noted, in memory and in the browser's store; who shows something of it is told when it changes. */
import { type Entries, type Entry, entryOf, merged } from './entries.ts';
import { dateText } from './minutes.ts';
import type { TakeNoted } from './noted.ts';
import type { Store } from './store.ts';

const pageKey = 'page';
const entryKey = (id: string) => `entry/${id}`;

/** What a take may say anew. */
type TakeSaid = Partial<Pick<TakeNoted, 'clip' | 'judged' | 'notes'>> & { readonly gone?: true };

/** Who is told what becomes of it. */
export interface Reader {
  changed(): void;
  /** @param isAll false while something is being written */
  kept(isAll: boolean): void;
  /** Something could not be kept. */
  lost(): void;
}

export class Notebook {
  /** Names this browser's entries. */
  #page: string;
  readonly #store: Store | undefined;
  readonly #reader: Reader;
  #entries: Entries = new Map();
  /** How many are being written. */
  #writing = 0;

  constructor(store: Store | undefined, reader: Reader) {
    this.#store = store;
    this.#reader = reader;
    this.#page = unique();
  }

  get entries(): Entries {
    return this.#entries;
  }

  /** What is in the store, which another window of this browser may have written to as well. */
  async load(): Promise<void> {
    if (!this.#store) return;
    const rows = await this.#store.all();
    const page = rows.get(pageKey);
    if (typeof page === 'string' && page !== '') this.#page = page;
    else void this.#put(pageKey, this.#page);
    const kept = [...rows].flatMap(([key, value]) => (key.startsWith(entryKey('')) ? (entryOf(value) ?? []) : []));
    this.#entries = merged(this.#entries, kept);
    this.#reader.changed();
  }

  addTake(shot: string, clip: string): void {
    const now = new Date();
    const made = now.getTime();
    const id = `${this.#page}.${unique()}`;
    this.#write({ kind: 'take', id, rev: 0, at: made, shot, clip, notes: '', day: dateText(now), made });
  }

  /** Of another page's take this page says so in an entry of its own. */
  sayOfTake(take: TakeNoted, said: TakeSaid): void {
    const isOwn = take.id.startsWith(`${this.#page}.`);
    const id = isOwn ? take.id : `${this.#page}.of.${take.id}`;
    const { shot, clip, judged, notes, day, made, seen } = take;
    const before = { shot, clip, notes, day, made, ...(judged && { judged }) };
    this.#write({ kind: 'take', ...this.#next(id), ...before, ...said, seen, ...(!isOwn && { of: take.id }) });
  }

  measure(shot: string, lux: string, kelvin: string): void {
    const clock = clockText(new Date());
    this.#write({ kind: 'measure', ...this.#next(`${this.#page}.measured.${shot}`), shot, lux, kelvin, clock });
  }

  tick(what: string, on: boolean): void {
    this.#write({ kind: 'tick', ...this.#next(`${this.#page}.ticked.${what}`), what, on });
  }

  /** Takes in what another page noted. Says how many entries are new or newer. */
  merge(other: Entries): number {
    const before = this.#entries;
    this.#entries = merged(before, other.values());
    const news = [...this.#entries.values()].filter((one) => before.get(one.id) !== one);
    for (const entry of news) void this.#put(entryKey(entry.id), entry);
    this.#reader.changed();
    return news.length;
  }

  async clear(): Promise<void> {
    await this.#store?.clear();
    this.#entries = new Map();
    this.#page = unique();
    void this.#put(pageKey, this.#page);
    this.#reader.changed();
  }

  #next(id: string): Pick<Entry, 'id' | 'rev' | 'at'> {
    return { id, rev: (this.#entries.get(id)?.rev ?? -1) + 1, at: Date.now() };
  }

  #write(entry: Entry): void {
    this.#entries = new Map(this.#entries).set(entry.id, entry);
    void this.#put(entryKey(entry.id), entry);
    this.#reader.changed();
  }

  async #put(key: string, value: unknown): Promise<void> {
    if (!this.#store) return;
    this.#writing += 1;
    this.#reader.kept(false);
    try {
      await this.#store.put(key, value);
    } catch {
      this.#reader.lost();
    }
    this.#writing -= 1;
    this.#reader.kept(this.#writing === 0);
  }
}

function unique(): string {
  return [...crypto.getRandomValues(new Uint8Array(6))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

function clockText(now: Date): string {
  return `${two(now.getHours())}:${two(now.getMinutes())}`;
}

function two(number: number): string {
  return String(number).padStart(2, '0');
}
