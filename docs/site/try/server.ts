/** The language server in a worker that is made from text, and what it is asked: JSON-RPC, as the protocol has it. */
import type { Part, PartName, ToldFile } from '../../../server/browser/told.ts';
import type { Diagnostic } from 'vscode-languageserver-types';

interface Message {
  readonly id?: number | string;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
  readonly error?: { readonly message: string };
}

export interface Needs {
  readonly script: string;
  readonly files: readonly ToldFile[];
  part(name: PartName): Promise<string>;
  found(uri: string, diagnostics: readonly Diagnostic[]): void;
  /** It has something to say to the person. */
  says(words: string): void;
}

export const folder = 'memory:/films';

export class Server {
  readonly #worker: Worker;
  readonly #needs: Needs;
  readonly #waiting = new Map<number, { done(result: unknown): void; failed(error: Error): void }>();
  readonly #versions = new Map<string, number>();
  readonly ready: Promise<unknown>;
  #asked = 0;

  constructor(needs: Needs) {
    this.#needs = needs;
    const address = URL.createObjectURL(new Blob([needs.script], { type: 'text/javascript' }));
    this.#worker = new Worker(address);
    this.#worker.addEventListener('message', ({ data }: MessageEvent<Message>) => void this.#told(data));
    this.ready = this.#begin();
  }

  async #begin(): Promise<void> {
    await this.#send('initialize', {
      processId: null,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'films' }],
      capabilities: {
        textDocument: {
          completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
          hover: { contentFormat: ['markdown'] },
          codeAction: {
            codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } },
            isPreferredSupport: true,
          },
        },
        workspace: { workspaceEdit: { documentChanges: true } },
      },
      initializationOptions: { ownCommands: true, files: this.#needs.files },
    });
    this.#post({ method: 'initialized', params: {} });
  }

  async ask<T>(method: string, params: object): Promise<T> {
    await this.ready;
    return this.#send<T>(method, params);
  }

  /** The newest text of a file, which is opened with its first. */
  async text(uri: string, text: string): Promise<void> {
    const version = (this.#versions.get(uri) ?? 0) + 1;
    this.#versions.set(uri, version);
    await this.ready;
    if (version === 1) {
      const languageId = languageOf(uri);
      this.#post({ method: 'textDocument/didOpen', params: { textDocument: { uri, languageId, version, text } } });
    } else {
      const params = { textDocument: { uri, version }, contentChanges: [{ text }] };
      this.#post({ method: 'textDocument/didChange', params });
    }
  }

  #send<T>(method: string, params: object): Promise<T> {
    const id = ++this.#asked;
    this.#post({ id, method, params });
    return new Promise((done, failed) => this.#waiting.set(id, { done: done as (result: unknown) => void, failed }));
  }

  #post(message: Message): void {
    this.#worker.postMessage({ jsonrpc: '2.0', ...message });
  }

  async #told({ id, method, params, result, error }: Message): Promise<void> {
    if (method === undefined) {
      const waiting = this.#waiting.get(id as number);
      this.#waiting.delete(id as number);
      if (error) waiting?.failed(new Error(error.message));
      else waiting?.done(result);
    } else if (id !== undefined) this.#post({ id, result: await this.#answer(method, params) });
    else if (method === 'textDocument/publishDiagnostics') {
      const { uri, diagnostics } = params as { uri: string; diagnostics: Diagnostic[] };
      this.#needs.found(uri, diagnostics);
    } else if (method === 'window/showMessage') this.#needs.says((params as { message: string }).message);
  }

  async #answer(method: string, params: unknown): Promise<unknown> {
    if (method !== 'shootSpec/part') return null;
    const { name } = params as { name: PartName };
    return { text: await this.#needs.part(name) } satisfies Part;
  }
}

function languageOf(uri: string): string {
  if (uri.endsWith('.takes.yaml')) return 'shoot-takes';
  if (uri.endsWith('.kit.yaml')) return 'shoot-kit';
  return uri.endsWith('/shootspec.yaml') ? 'shoot-settings' : 'shoot-spec';
}
