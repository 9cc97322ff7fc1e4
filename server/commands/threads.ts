/**
 * Many files on all cores: worker threads that run this same bundle, each given a few files at a time. The reports come
 * back in the order of the files, so that no output tells how many threads there were.
 */
import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import type { FileReport } from '../formats/report.ts';
import { checkFile, type CheckTask } from './check-file.ts';
import { bundle, UsageError } from './usage.ts';

/** Starting threads takes as long as checking about so many files. */
export const fewFiles = 64;
/** Files that a thread is given at a time: few enough that none waits long for the last one. */
const atOnce = 8;

interface Batch {
  readonly first: number;
  readonly files: readonly string[];
}

interface Answer {
  readonly first: number;
  readonly reports: readonly FileReport[];
}

/**
 * @param most how many threads there may be; as many as there are cores where not said
 * @param onDone is told how many files are done
 */
export async function checkAll(
  files: readonly string[],
  task: CheckTask,
  most: number | undefined,
  onDone: (count: number) => void,
): Promise<FileReport[]> {
  const threads = Math.min(most ?? availableParallelism(), Math.ceil(files.length / atOnce));
  if (files.length <= fewFiles || threads < 2) {
    return files.map((file, index) => {
      const report = checkFile(file, task);
      onDone(index + 1);
      return report;
    });
  }
  return new Pool(files, task, onDone).run(threads);
}

class Pool {
  readonly #reports: FileReport[] = [];
  #next = 0;
  #done = 0;

  constructor(
    private readonly files: readonly string[],
    private readonly task: CheckTask,
    private readonly onDone: (count: number) => void,
  ) {}

  async run(threads: number): Promise<FileReport[]> {
    await Promise.all(Array.from({ length: threads }, () => this.#work()));
    return this.#reports;
  }

  #work(): Promise<void> {
    const worker = new Worker(bundle(), { argv: ['worker'], workerData: this.task });
    return new Promise<void>((done, fail) => {
      const give = () => {
        const first = this.#next;
        if (first >= this.files.length) return void worker.terminate().then(() => done(), fail);
        this.#next += atOnce;
        const batch: Batch = { first, files: this.files.slice(first, first + atOnce) };
        worker.postMessage(batch);
      };
      worker.on('message', ({ first, reports }: Answer) => {
        for (const [index, report] of reports.entries()) this.#reports[first + index] = report;
        this.onDone((this.#done += reports.length));
        give();
      });
      worker.on('error', fail);
      give();
    });
  }
}

/** The other side: the command that a thread runs. It ends when it is ended. */
export function worker(): Promise<number> {
  if (isMainThread || !parentPort) throw new UsageError('`worker` is for the threads of `check`.');
  const port = parentPort;
  const task = workerData as CheckTask;
  port.on('message', ({ first, files }: Batch) => {
    const answer: Answer = { first, reports: files.map((file) => checkFile(file, task)) };
    port.postMessage(answer);
  });
  return new Promise(() => {});
}
