/** The bundled server, started as any editor would start it, and a client that talks to it over stdio. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import {
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  type InitializeResult,
  type MessageReader,
  type MessageWriter,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { URI } from 'vscode-uri';
import { withMore } from './clients.ts';
import { Outlet } from './outlet.ts';
import { kits } from './workspace.ts';

const bundle = join(import.meta.dirname, '../../dist/server.cjs');

/** How long a server may take that works: long, for a machine may do other things beside. */
const patienceMs = 60_000;

/** A repo on disk for one test, with the two usual kits in it. */
export class DiskRepo {
  readonly root = mkdtempSync(join(tmpdir(), 'shoot-spec-'));

  constructor(files: Readonly<Record<string, string>> = {}) {
    for (const [path, text] of Object.entries({ ...kits, ...files })) this.write(path, text);
  }

  write(path: string, text: string): string {
    const file = join(this.root, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return file;
  }

  uri(path: string): string {
    return URI.file(join(this.root, path)).toString();
  }

  remove(): void {
    rmSync(this.root, { recursive: true, force: true });
  }
}

/** A client that talks to a server, wherever that runs. */
export class ProtocolClient {
  readonly connection: ProtocolConnection;
  /** Everything that was pushed, oldest first. */
  readonly pushed: PublishDiagnosticsParams[] = [];
  #waiting: (() => void)[] = [];

  constructor(reader: MessageReader, writer: MessageWriter) {
    this.connection = createProtocolConnection(reader, writer);
    this.connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
      this.pushed.push(params);
      for (const wake of this.#waiting.splice(0)) wake();
    });
    this.connection.listen();
  }

  /**
   * @param folder its address
   * @param capabilities what the client announces besides what all do
   */
  async begin(
    folder: string,
    capabilities: ClientCapabilities = {},
    locale?: string,
    initializationOptions?: object,
  ): Promise<InitializeResult> {
    const result = await this.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'repo' }],
      capabilities: withMore(capabilities),
      locale,
      initializationOptions,
    });
    await this.connection.sendNotification('initialized', {});
    return result as InitializeResult;
  }

  open(uri: string, text: string, version = 1, languageId = 'shoot-spec'): Promise<void> {
    return this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId, version, text },
    });
  }

  /** Replaces the whole text. */
  change(uri: string, version: number, text: string): Promise<void> {
    return this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ text }],
    });
  }

  request<T>(method: string, params: object): Promise<T> {
    return this.connection.sendRequest(method, params) as Promise<T>;
  }

  /** The next findings that are pushed for a file and satisfy the test. */
  async findings(
    uri: string,
    wanted: (diagnostics: Diagnostic[], version?: number) => boolean = () => true,
    from = 0,
  ): Promise<PublishDiagnosticsParams> {
    return this.pushedUntil(`findings for ${uri}`, () =>
      this.pushed.slice(from).find((one) => one.uri === uri && wanted(one.diagnostics, one.version)),
    );
  }

  /** Waits until what was pushed has an answer. */
  async pushedUntil<T>(what: string, ask: () => T | undefined): Promise<T> {
    const deadline = Date.now() + patienceMs;
    for (;;) {
      const found = ask();
      if (found !== undefined) return found;
      if (Date.now() > deadline)
        throw new Error(`no ${what} in ${patienceMs / 1000} s; pushed: ${JSON.stringify(this.pushed.slice(-3))}`);
      await Promise.race([
        new Promise<void>((wake) => this.#waiting.push(wake)),
        new Promise((wake) => setTimeout(wake, 200)),
      ]);
    }
  }
}

type Tail<T extends unknown[]> = T extends [unknown, ...infer R] ? R : never;

/** Talks to a server on this machine over two streams. */
export class StreamClient extends ProtocolClient {
  readonly #outlet: Outlet;

  constructor(from: Readable, to: Writable) {
    const outlet = new Outlet(to);
    super(new StreamMessageReader(from), new StreamMessageWriter(outlet));
    this.#outlet = outlet;
  }

  /** @param root the folder on the disk */
  initialize(root: string, ...more: Tail<Parameters<ProtocolClient['begin']>>): Promise<InitializeResult> {
    return this.begin(URI.file(root).toString(), ...more);
  }

  /** Sends in one piece what is sent in `send`; its promises must be inside something, or they would be waited for. */
  atOnce<T>(send: () => T): Promise<T> {
    return this.#outlet.inOnePiece(send);
  }

  /** Sends what the library of the client would refuse to. */
  sendRaw(method: string, params: unknown): void {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', method, params }));
    this.#outlet.write(`Content-Length: ${body.length}\r\n\r\n${body.toString()}`);
  }
}

/** Talks to the bundled server in a process. */
export class Client extends StreamClient {
  readonly process: ChildProcess;

  /**
   * @param nodeArgs for Node itself
   * @param program where the bundle is, when not where it was built
   */
  constructor(nodeArgs: readonly string[] = [], program = bundle) {
    const child = spawn(process.execPath, [...nodeArgs, program, '--stdio'], { stdio: ['pipe', 'pipe', 'pipe'] });
    super(child.stdout, child.stdin);
    this.process = child;
  }

  get exited(): Promise<number | null> {
    return this.process.exitCode !== null
      ? Promise.resolve(this.process.exitCode)
      : new Promise((done) => this.process.once('exit', done));
  }

  async stop(): Promise<void> {
    this.connection.dispose();
    this.process.kill();
    await this.exited;
  }
}
