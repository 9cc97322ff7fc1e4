/** Bytes of a clip from anywhere in it, counted, and never more than a clip may cost. */

export interface ByteSource {
  readonly size: number;
  /** The bytes from `start` to before `end`; fewer where the file has ended meanwhile. */
  read(start: number, end: number): Promise<Uint8Array>;
}

/** What a file asks for that no clip needs: it is not read on. */
export class TooMuch extends Error {}

/** An index of an hour at 60 frames a second takes less than half of it. */
const mostBytesRead = 16 * 1024 * 1024;

export interface CountedSource extends ByteSource {
  readonly bytesRead: number;
}

/** So much is read where less is asked for: the heads of boxes lie near one another, and a drive gives a page anyway. */
const pageBytes = 4096;
const pagesKept = 4;

interface Kept {
  readonly start: number;
  readonly bytes: Uint8Array;
}

/** Keeps what was read last in mind, since an index is asked for twice: by the library and by us. */
export function counted(source: ByteSource, most = mostBytesRead): CountedSource {
  let bytesRead = 0;
  let pages: Kept[] = [];
  let largest: Kept | undefined;

  async function fetch(start: number, end: number): Promise<Kept> {
    bytesRead += end - start;
    if (bytesRead > most) throw new TooMuch();
    const kept = { start, bytes: await source.read(start, end) };
    if (end - start <= pageBytes) pages = [kept, ...pages.slice(0, pagesKept - 1)];
    else if (!largest || kept.bytes.length >= largest.bytes.length) largest = kept;
    return kept;
  }

  return {
    size: source.size,
    get bytesRead() {
      return bytesRead;
    },
    async read(start, end) {
      const holds = ({ start: from, bytes }: Kept) => start >= from && end <= from + bytes.length;
      const known = (largest && holds(largest) ? largest : undefined) ?? pages.find(holds);
      const kept = known ?? (await fetch(start, Math.min(Math.max(end, start + pageBytes), source.size)));
      return kept.bytes.subarray(start - kept.start, end - kept.start);
    },
  };
}
