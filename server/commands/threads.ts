/**
 * Many files on all cores: this thread and worker threads that run this same bundle each take the next file that nobody
 * has taken. The reports come back in the order of the files, so that no output tells how many threads there were.
 */
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import type { FileReport } from '../formats/report.ts';
import { checkInTurn, type CheckTask } from './check-file.ts';
import type { CheckProgress } from './progress.ts';
import { bundle, UsageError } from './usage.ts';

/** Starting threads takes as long as checking about so many files. */
export const fewFiles = 64;
/** Files that a thread is given at least. */
const fewest = 8;

interface Work {
  readonly files: readonly string[];
  readonly task: CheckTask;
  /** How many files are taken, counted by all threads. */
  readonly taken: Int32Array;
}

type Done = readonly [index: number, report: FileReport];

/**
 * @param most how many threads there may be; as many as there are cores where not said
 * @param told of how many files are done, and of the file that this thread decodes
 */
export async function checkAll(
  files: readonly string[],
  task: CheckTask,
  most: number | undefined,
  told: Pick<CheckProgress, 'tell' | 'decoding'>,
): Promise<FileReport[]> {
  const threads =
    files.length <= fewFiles ? 1 : Math.min(most ?? availableParallelism(), Math.ceil(files.length / fewest));
  const work: Work = { files, task, taken: new Int32Array(new SharedArrayBuffer(4)) };
  const reports: FileReport[] = [];
  let count = 0;
  const keep = ([index, report]: Done) => {
    reports[index] = report;
    told.tell(++count);
  };
  const others = Array.from({ length: threads - 1 }, () => elsewhere(work, keep));
  await Promise.all([here(work, keep, others.length > 0, told.decoding), ...others]);
  return reports;
}

async function here(
  work: Work,
  keep: (done: Done) => void,
  others: boolean,
  decoding: CheckProgress['decoding'],
): Promise<void> {
  for await (const done of checked(work, decoding)) {
    keep(done);
    // Lets in what the others have done.
    if (others) await nextTurn();
  }
}

async function elsewhere(work: Work, keep: (done: Done) => void): Promise<void> {
  const worker = new Worker(bundle(), { argv: ['worker'], workerData: work });
  worker.on('message', keep);
  const [code] = (await once(worker, 'exit')) as [number];
  if (code !== 0) throw new Error(`A thread ended with ${code}, and what it had taken is not checked.`);
}

/** The files that nobody has taken yet, each as it is done. */
async function* checked({ files, task, taken }: Work, decoding?: CheckProgress['decoding']): AsyncGenerator<Done> {
  const check = checkInTurn(task, decoding);
  for (let index; (index = Atomics.add(taken, 0, 1)) < files.length;) yield [index, await check(files[index]!)];
}

/** The other side: the command that a thread runs. */
export async function worker(): Promise<number> {
  if (isMainThread || !parentPort) throw new UsageError('`worker` is for the threads of `check`.');
  for await (const done of checked(workerData as Work)) parentPort.postMessage(done);
  return 0;
}
