/** The browser's own store: every entry is kept when it is written, and is on the disk before that is called done. */

/** Values by key, of one film. */
export interface Store {
  all(): Promise<Map<string, unknown>>;
  /** Settles once it is kept. */
  put(key: string, value: unknown): Promise<void>;
  clear(): Promise<void>;
}

/** The first that gives back what was written; undefined where none does. */
export async function openStore(film: string): Promise<Store | undefined> {
  for (const open of [databaseOf, storageOf]) {
    try {
      const store = await open(film);
      const proof = `${Date.now()} ${Math.random()}`;
      await store.put(proofKey, proof);
      if ((await store.all()).get(proofKey) === proof) return store;
    } catch {
      // The next may do better.
    }
  }
  return undefined;
}

export const proofKey = 'proof';

const table = 'kept';

async function databaseOf(film: string): Promise<Store> {
  const opening = indexedDB.open('shoot-spec on the set', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore(table);
  const database = await settled(opening);
  const inFilm = IDBKeyRange.bound([film], [film, []]);
  const write = (work: (rows: IDBObjectStore) => void) =>
    new Promise<void>((resolve, reject) => {
      // What is said to be kept stands after the battery has died.
      const transaction = database.transaction(table, 'readwrite', { durability: 'strict' });
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error ?? new Error('The browser gave up writing.'));
      work(transaction.objectStore(table));
    });
  return {
    async all() {
      const rows = database.transaction(table).objectStore(table);
      const [keys, values] = await Promise.all([settled(rows.getAllKeys(inFilm)), settled(rows.getAll(inFilm))]);
      return new Map(keys.map((key, index) => [(key as string[])[1]!, values[index] as unknown]));
    },
    put: (key, value) => write((rows) => void rows.put(value, [film, key])),
    clear: () => write((rows) => void rows.delete(inFilm)),
  };
}

function settled<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('The browser gave no reason.'));
  });
}

/** For browsers that have no database for files. */
function storageOf(film: string): Promise<Store> {
  const before = `shoot-spec on the set/${film}/`;
  const keys = () => Object.keys(localStorage).filter((key) => key.startsWith(before));
  return Promise.resolve({
    all: () => {
      const rows = keys().map(
        (key) => [key.slice(before.length), JSON.parse(localStorage.getItem(key) ?? 'null')] as const,
      );
      return Promise.resolve(new Map<string, unknown>(rows));
    },
    put: (key, value) => Promise.resolve(localStorage.setItem(before + key, JSON.stringify(value))),
    clear: () => Promise.resolve(keys().forEach((key) => localStorage.removeItem(key))),
  });
}
