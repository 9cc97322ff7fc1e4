/** The server in this very process, with a client that talks to it: nothing to start, nothing to build. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import {
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type InitializeResult,
  type MessageConnection,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { URI } from 'vscode-uri';
import { serve } from '../../server/connection.ts';
import { inProcess } from '../../server/in-process.ts';
import { pagesIn } from '../../server/rule-pages.ts';
import type { Surroundings } from '../../server/surroundings.ts';
import { StreamClient } from './server.ts';

/** Some pages of rules, as they lie beside the server. */
const pages = pagesIn(
  ['time/shutter-off-half-frame', 'names/never-used']
    .map((name) => {
      const text = readFileSync(join(import.meta.dirname, `../../server/rules/${name}.md`), 'utf8');
      return `<!-- page: ${name.split('/')[1]} -->\n${text}`;
    })
    .join(''),
  'file:///pages.md',
);

/** What it is asked for by the server, by method, with its answers. */
export type Answers = Readonly<Record<string, (params: never) => unknown>>;

export class NearClient {
  readonly connection: ProtocolConnection;
  /** The newest findings of each file that were pushed. */
  readonly pushed = new Map<string, Diagnostic[]>();
  /** What the server asked, oldest first. */
  readonly asked: { readonly method: string; readonly params: unknown }[] = [];
  capabilities: InitializeResult['capabilities'] = {};
  #waiting: (() => void)[] = [];
  #canPull = false;

  constructor(answers: Answers = {}) {
    const [toServer, fromServer] = [new PassThrough(), new PassThrough()];
    serve(createConnection(ProposedFeatures.all, toServer, fromServer), (onNews) => ({
      ...inProcess(onNews),
      pages: () => pages,
    }));
    this.connection = createProtocolConnection(new StreamMessageReader(fromServer), new StreamMessageWriter(toServer));
    this.connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
      this.pushed.set(uri, diagnostics);
      this.#wake();
    });
    const every = this.connection as unknown as MessageConnection;
    every.onNotification((method, params) => this.#note(method, params));
    every.onRequest((method, params) => {
      this.#note(method, params);
      return answers[method]?.(params as never) ?? null;
    });
    this.connection.listen();
  }

  async initialize(root: string, capabilities: ClientCapabilities, initializationOptions?: unknown): Promise<void> {
    const uri = URI.file(root).toString();
    const workspaceFolders = [{ uri, name: 'repo' }];
    const params = { processId: null, rootUri: uri, workspaceFolders, capabilities, initializationOptions };
    ({ capabilities: this.capabilities } = await this.request<InitializeResult>('initialize', params));
    this.#canPull = this.capabilities.diagnosticProvider !== undefined;
    await this.connection.sendNotification('initialized', {});
  }

  request<T>(method: string, params: object): Promise<T> {
    return this.connection.sendRequest(method, params) as Promise<T>;
  }

  notify(method: string, params: object): Promise<void> {
    return this.connection.sendNotification(method, params);
  }

  open(uri: string, text: string, version = 1): Promise<void> {
    return this.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'shoot-spec', version, text } });
  }

  /** The findings of an open file, in the way that this client has them. */
  async findings(uri: string): Promise<readonly Diagnostic[]> {
    if (!this.#canPull) return this.until(() => this.pushed.get(uri));
    const report = await this.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument: { uri } });
    return report.kind === 'full' ? report.items : [];
  }

  /** Waits until something that comes from the server has an answer. */
  async until<T>(ask: () => T | undefined): Promise<T> {
    for (;;) {
      const found = ask();
      if (found !== undefined) return found;
      await new Promise<void>((wake) => this.#waiting.push(wake));
    }
  }

  async stop(): Promise<void> {
    await this.request('shutdown', {});
    this.connection.dispose();
  }

  #note(method: string, params: unknown): void {
    this.asked.push({ method, params });
    this.#wake();
  }

  #wake(): void {
    for (const wake of this.#waiting.splice(0)) wake();
  }
}

/** The same client as of the bundled server, with the server in this process: what needs a process or the bundle has that. */
export class ClientNear extends StreamClient {
  /** @param instead of what it has in a process */
  constructor(instead: Partial<Surroundings> = {}) {
    const [toServer, fromServer] = [new PassThrough(), new PassThrough()];
    serve(createConnection(ProposedFeatures.all, toServer, fromServer), (onNews) => ({
      ...inProcess(onNews),
      pages: () => pages,
      ...instead,
    }));
    super(fromServer, toServer);
  }

  async stop(): Promise<void> {
    await this.request('shutdown', {});
    this.connection.dispose();
  }
}
