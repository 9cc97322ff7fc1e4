/**
 * The thread that reads containers: what a hostile file does to it, it does to this thread alone. It is given files that
 * were found below the footage folder, opens each to read, and looks whether it is the one that was found.
 */
import { constants } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { type MessagePort, parentPort } from 'node:worker_threads';
import { Logging, LogLevel } from 'mediabunny';
import type { ByteSource } from './byte-source.ts';
import type { FoundFile } from './footage-folder.ts';
import { type ContainerRead, readContainer } from './read-container.ts';

export interface ClipRead extends ContainerRead {
  /** It was another file, or had another length, when it had been read. */
  readonly hasChanged: boolean;
}

// A file that it does not know is no news for a log.
Logging.level = LogLevel.Silent;
// Without a port it is looked at by tests, in their own thread.
if (parentPort) listen(parentPort);

function listen(port: MessagePort): void {
  port.on('message', (at: FoundFile) => {
    void read(at).then((done) => port.postMessage(done));
  });
}

async function read(at: FoundFile): Promise<ClipRead> {
  let handle: FileHandle | undefined;
  try {
    // A pipe in its place would otherwise be waited for, and a link be followed.
    handle = await open(at.file, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0));
    if (!(await isSame(handle, at))) return { hasChanged: true, bytesRead: 0 };
    const done = await readContainer(sourceOf(handle, at.bytes));
    return { ...done, hasChanged: !(await isSame(handle, at)) };
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return { why: `it can't be opened (${code ?? 'no reason given'})`, hasChanged: false, bytesRead: 0 };
  } finally {
    await handle?.close().catch(() => undefined);
  }
}

async function isSame(handle: FileHandle, { device, inode, bytes }: FoundFile): Promise<boolean> {
  const stat = await handle.stat();
  return stat.isFile() && stat.dev === device && stat.ino === inode && stat.size === bytes;
}

function sourceOf(handle: FileHandle, size: number): ByteSource {
  return {
    size,
    async read(start, end) {
      const bytes = new Uint8Array(end - start);
      const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
      return bytes.subarray(0, bytesRead);
    },
  };
}
