/** The server for browsers in a thread that has nothing but what a worker of a page has, and a client that talks to it. */
import { readFileSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  type Disposable,
  type Message,
  type MessageReader,
  type MessageWriter,
} from 'vscode-languageserver-protocol';
import type { Part, ToldFile } from '../../server/browser/told.ts';
import { ProtocolClient } from './server.ts';

const dist = new URL('../../dist/', import.meta.url);
const read = (name: string) => readFileSync(new URL(name, dist), 'utf8');

/** Takes away what no page has before the server runs. */
const stage = `
const { parentPort, workerData } = require('node:worker_threads');
const { runInThisContext } = require('node:vm');
globalThis.self = parentPort;
for (const name of ['process', 'Buffer', 'setImmediate', 'clearImmediate', 'global']) delete globalThis[name];
runInThisContext(workerData);
`;

export class WorkerClient extends ProtocolClient {
  readonly #worker: Worker;

  constructor() {
    const worker = new Worker(stage, { eval: true, workerData: read('web-server.js') });
    super(new FromWorker(worker), new ToWorker(worker));
    this.#worker = worker;
    this.connection.onRequest('shootSpec/part', ({ name }: { name: string }): Part => {
      return { address: new URL(name, dist).href, text: read(name) };
    });
  }

  tell(files: readonly ToldFile[], gone: readonly string[] = []): Promise<void> {
    return this.connection.sendNotification('shootSpec/files', { files, gone });
  }

  async stop(): Promise<void> {
    this.connection.dispose();
    await this.#worker.terminate();
  }
}

class FromWorker extends AbstractMessageReader implements MessageReader {
  constructor(private readonly worker: Worker) {
    super();
    worker.on('error', (error) => this.fireError(error));
  }

  listen(told: (message: Message) => void): Disposable {
    this.worker.on('message', told);
    return { dispose: () => void this.worker.off('message', told) };
  }
}

class ToWorker extends AbstractMessageWriter implements MessageWriter {
  constructor(private readonly worker: Worker) {
    super();
  }

  write(message: Message): Promise<void> {
    this.worker.postMessage(message);
    return Promise.resolve();
  }

  end(): void {
    // A worker is ended by who made it.
  }
}
