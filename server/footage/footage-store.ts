/**
 * What is known of the clips of one footage folder and of the masters of one masters folder. Rules ask at once and are
 * told what is known; what is asked for and not known is read, and whoever listens is told when it has come in.
 */
import type { Decoded } from '../core/decoded.ts';
import type { ClipEntry, ClipFacts, ClipState, Footage } from '../core/footage.ts';
import type { ClipReader } from './clip-reader.ts';
import type { Decoder } from './decode/decoder.ts';
import type { FootageFolder, FoundFile, Located } from './footage-folder.ts';

export interface StoreParts {
  readonly clips?: FootageFolder | undefined;
  readonly masters?: FootageFolder | undefined;
  readonly reader: ClipReader;
  /** What knows sound and picture; absent where nobody asked for them. */
  readonly decoder?: Decoder | undefined;
  /** Is told when something has come in that was not known before. */
  readonly onNews?: () => void;
}

type Kind = 'clip' | 'master';

interface Known {
  readonly stamp: string;
  readonly state: ClipState;
}

/** Clips that one store reads. A sheet that names more is no sheet. */
const mostClips = 5000;
/** A file that changed so lately and is not whole is being written. */
const stillWritingMs = 5000;

export class FootageStore implements Footage {
  /** Bytes read of all clips so far. */
  bytesRead = 0;
  readonly #known = new Map<string, Known>();
  /** What the clips said that were there. */
  readonly #were = new Map<string, ClipFacts>();
  /** What has been looked at since the last look at the folders: it is not asked of the disk again for every rule. */
  readonly #lookedAt = new Set<string>();
  /** What is being read, by what it is and how it was found. */
  readonly #reading = new Set<string>();
  #waiting: Promise<unknown>[] = [];
  #entries: readonly ClipEntry[] | undefined;

  constructor(private readonly parts: StoreParts) {}

  entries(): readonly ClipEntry[] {
    return (this.#entries ??= this.parts.clips?.list() ?? []);
  }

  clip(path: string): ClipState {
    return this.#state('clip', path);
  }

  master(path: string): ClipState {
    return this.#state('master', path);
  }

  found(path: string): readonly ClipEntry[] {
    const was = this.#were.get(path);
    if (!was) return [];
    return this.entries().filter((entry) => {
      if (entry.path === path || entry.bytes !== was.bytes) return false;
      const now = this.clip(entry.path);
      return now.kind === 'facts' && isSameRecording(now.facts, was);
    });
  }

  get decoder(): Footage['decoder'] {
    const { decoder } = this.parts;
    return decoder === undefined ? 'not-asked' : decoder.program ? 'ready' : 'missing';
  }

  decoded(of: Kind, path: string): Decoded | undefined {
    const at = this.parts.decoder && this.located(of, path);
    return at && !('problem' in at) ? this.parts.decoder?.known(at) : undefined;
  }

  /** Where a clip or master is, for whoever decodes it. */
  located(of: Kind, path: string): Located {
    return this.#folder(of)?.locate(path) ?? { problem: 'missing' };
  }

  /** Waits until all that was asked for has come in. */
  async settled(): Promise<void> {
    while (this.#waiting.length > 0) {
      const now = this.#waiting;
      this.#waiting = [];
      await Promise.all(now);
    }
  }

  /** Whether anything that was asked for is still being read. */
  get isReading(): boolean {
    return this.#reading.size > 0;
  }

  /** Looks at the folders again, and tells whether anything has come, gone, or become another. */
  look(): boolean {
    this.#lookedAt.clear();
    const before = this.#entries;
    this.#entries = this.parts.clips?.list() ?? [];
    const isOther = before !== undefined && listed(before) !== listed(this.#entries);
    return isOther || [...this.#known].some(([key, known]) => this.#isOld(key, known));
  }

  #state(of: Kind, path: string): ClipState {
    const key = `${of} ${path}`;
    const seen = this.#lookedAt.has(key) ? this.#known.get(key) : undefined;
    if (seen) return seen.state;
    this.#lookedAt.add(key);
    const at = this.located(of, path);
    if ('problem' in at) return this.#keep(key, at.problem, { kind: at.problem });
    const stamp = stampOf(at);
    const known = this.#known.get(key);
    if (known?.stamp === stamp && !isAgedGrowing(known, at)) return known.state;
    if (at.bytes === 0) return this.#keep(key, stamp, { kind: isFresh(at) ? 'growing' : 'empty' });
    if (!known && this.#known.size >= mostClips) return { kind: 'too-many' };
    this.#read(key, at);
    return this.#keep(key, stamp, { kind: 'pending' });
  }

  #keep(key: string, stamp: string, state: ClipState): ClipState {
    this.#known.set(key, { stamp, state });
    return state;
  }

  #read(key: string, at: FoundFile): void {
    const reading = `${key} ${stampOf(at)}`;
    if (this.#reading.has(reading)) return;
    this.#reading.add(reading);
    const done = this.parts.reader.read(at).then(({ facts, why, hasChanged, bytesRead }) => {
      this.#reading.delete(reading);
      this.bytesRead += bytesRead;
      const state = this.#keep(key, stampOf(at), stateOf({ facts, why, hasChanged }, at));
      if (state.kind === 'facts') this.#were.set(key.slice(key.indexOf(' ') + 1), state.facts);
      this.parts.onNews?.();
    });
    this.#waiting.push(done);
  }

  #folder(of: Kind): FootageFolder | undefined {
    return of === 'clip' ? this.parts.clips : this.parts.masters;
  }

  /** Is it another file now, or has it stopped growing? */
  #isOld(key: string, known: Known): boolean {
    const space = key.indexOf(' ');
    const at = this.located(key.slice(0, space) as Kind, key.slice(space + 1));
    if ('problem' in at) return at.problem !== known.stamp;
    return stampOf(at) !== known.stamp || isAgedGrowing(known, at);
  }
}

function stateOf(
  { facts, why, hasChanged }: { facts?: ReadFacts; why?: string; hasChanged: boolean },
  at: FoundFile,
): ClipState {
  if (hasChanged) return { kind: 'growing' };
  if (facts) return { kind: 'facts', facts };
  return isFresh(at) ? { kind: 'growing' } : { kind: 'unreadable', why: why ?? 'its index makes no sense' };
}

type ReadFacts = Extract<ClipState, { kind: 'facts' }>['facts'];

function isSameRecording(a: ClipFacts, b: ClipFacts): boolean {
  return a.durationS === b.durationS && a.recordedAtMs === b.recordedAtMs;
}

function stampOf({ bytes, changedMs, inode }: FoundFile): string {
  return `${bytes} ${changedMs} ${inode}`;
}

/** A clock that is ahead makes no file fresh for ever. */
function isFresh({ changedMs }: FoundFile): boolean {
  return Math.abs(Date.now() - changedMs) < stillWritingMs;
}

/** It was not whole while it was fresh, and nothing has come since: then it stays so. */
function isAgedGrowing({ state }: Known, at: FoundFile): boolean {
  return state.kind === 'growing' && !isFresh(at);
}

function listed(entries: readonly ClipEntry[]): string {
  return entries.map(({ path, bytes, changedMs }) => `${path} ${bytes} ${changedMs}`).join('\n');
}
