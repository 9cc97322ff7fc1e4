/**
 * Has containers read in a thread of their own, one after the other, and ends what takes too long or too much: the
 * thread is then started anew for the next. It is started when the first clip is to be read.
 */
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import type { ClipRead } from './clips-worker.ts';
import type { FoundFile } from './footage-folder.ts';

export interface ClipReader {
  /** Never rejects. */
  read(at: FoundFile): Promise<ClipRead>;
  /** Ends the thread; what is asked for afterwards starts another. */
  end(): void;
}

/** So long may it reckon with one clip; a drive that is slow is waited for longer. */
const longestBusyMs = 800;
const longestWaitMs = 15_000;
const lookMs = 100;
/** Kept by JavaScript in that thread; what is read of a clip has a limit of its own. */
const mostHeapMb = 64;
/** What a thread has once held stays with the process in pieces: after so many clips it gives way to another. */
const clipsOfThread = 500;

/** @param program the bundle that reads clips */
export function threadReader(program: string): ClipReader {
  let worker: Worker | undefined;
  let turn: Promise<unknown> = Promise.resolve();
  let served = 0;
  const end = () => {
    void worker?.terminate();
    worker = undefined;
    served = 0;
  };
  const inThread = async (at: FoundFile): Promise<ClipRead> => {
    worker ??= started(program);
    const done = await answered(worker, at);
    const isDone = 'read' in done;
    if (!isDone || ++served === clipsOfThread) end();
    return isDone ? done.read : { why: done.why, hasChanged: false, bytesRead: 0 };
  };
  return {
    read(at) {
      const read = turn.then(() => inThread(at));
      turn = read;
      return read;
    },
    end,
  };
}

function started(program: string): Worker {
  const worker = new Worker(program, { resourceLimits: { maxOldGenerationSizeMb: mostHeapMb } });
  // What it is reading is given up, and a program that is done waits for no clip.
  worker.unref();
  worker.on('error', () => undefined);
  return worker;
}

async function answered(worker: Worker, at: FoundFile): Promise<{ read: ClipRead } | { why: string }> {
  const given = new AbortController();
  const { signal } = given;
  // Held on to until it has answered.
  worker.ref();
  worker.postMessage(at);
  try {
    return await Promise.race([
      once(worker, 'message', { signal }).then(([read]) => ({ read: read as ClipRead })),
      once(worker, 'exit', { signal }).then(() => ({ why: hasStopped })),
      tooLong(worker, signal).then((why) => ({ why })),
    ]);
  } catch (error) {
    const isFull = (error as NodeJS.ErrnoException).code === 'ERR_WORKER_OUT_OF_MEMORY';
    return { why: isFull ? 'its index is larger than that of any clip' : hasStopped };
  } finally {
    given.abort();
    worker.unref();
  }
}

const hasStopped = 'what reads clips has stopped';

/** Waiting for the drive is no fault of the file, reckoning for so long is. */
function tooLong({ performance }: Worker, signal: AbortSignal): Promise<string> {
  const before = performance.eventLoopUtilization();
  const usedBefore = process.cpuUsage();
  const start = Date.now();
  return new Promise((tell) => {
    const look = setInterval(() => {
      const { active } = performance.eventLoopUtilization(before);
      const { user, system } = process.cpuUsage(usedBefore);
      // On a machine that does much else, a thread is busy without being let reckon.
      if (Math.min(active, (user + system) / 1000) > longestBusyMs) tell('its index takes too long to read');
      else if (Date.now() - start > longestWaitMs) tell('the drive does not answer');
      else return;
      clearInterval(look);
    }, lookMs);
    signal.addEventListener('abort', () => clearInterval(look), { once: true });
  });
}
