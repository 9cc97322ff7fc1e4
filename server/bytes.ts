/** Reads no more than is asked for, whatever is there. */
import { closeSync, openSync, readSync } from 'node:fs';

const chunkBytes = 1 << 16;

/** A file, or as much of it as is asked for. */
export function readBytes(file: string, most: number): Buffer {
  const descriptor = openSync(file, 'r');
  try {
    return readFrom(descriptor, most);
  } finally {
    closeSync(descriptor);
  }
}

/** What is open, such as standard input, to its end or as much of it as is asked for. */
export function readFrom(descriptor: number, most: number): Buffer {
  const chunks: Buffer[] = [];
  for (let left = most; left > 0;) {
    const chunk = Buffer.allocUnsafe(Math.min(chunkBytes, left));
    const count = readSync(descriptor, chunk);
    if (count === 0) break;
    chunks.push(chunk.subarray(0, count));
    left -= count;
  }
  return Buffer.concat(chunks);
}
