/** The bundled server attacked over its protocol: spoilt texts, every question, and messages that are none. */
import type { ProtocolConnection } from 'vscode-languageserver-protocol/node';
import { child } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { kindOf } from '../../server/core/paths.ts';
import { actingTexts } from '../helpers/hostile.ts';
import { oddities } from '../hostile/mutate.ts';
import type { Random } from '../hostile/random.ts';
import { Client, DiskRepo } from '../helpers/server.ts';

const languages = { shoot: 'shoot-spec', takes: 'shoot-takes', kit: 'shoot-kit', config: 'shoot-settings' } as const;
const paths = {
  shoot: 'a.shoot.yaml',
  takes: 'a.takes.yaml',
  kit: 'kits/camera.kit.yaml',
  config: 'shootspec.yaml',
} as const;

const notifications: readonly string[] = [
  'textDocument/didOpen',
  'textDocument/didChange',
  'textDocument/didClose',
  'textDocument/didSave',
  'workspace/didChangeWatchedFiles',
  'workspace/didChangeConfiguration',
  'workspace/didChangeWorkspaceFolders',
  'window/workDoneProgress/cancel',
  '$/cancelRequest',
  '$/setTrace',
  '$/unheardOf',
];
const requests: readonly string[] = [
  ...['hover', 'completion', 'definition', 'references', 'documentHighlight', 'prepareRename', 'rename'],
  ...['codeAction', 'documentSymbol', 'foldingRange', 'documentLink', 'documentColor', 'colorPresentation'],
  ...['inlayHint', 'selectionRange', 'diagnostic', 'formatting', 'rangeFormatting', 'onTypeFormatting'],
].map((name) => `textDocument/${name}`);

type Text = { readonly kind: keyof typeof paths; readonly text: string };

export interface Asked {
  readonly what: string;
  /** What went wrong; undefined where all is as it should be. */
  readonly fault?: string;
}

export class ServerAttack {
  readonly #repo = new DiskRepo();
  readonly #client = new Client();
  readonly #ended = this.#client.exited.then((code) => `the server ended with ${code}`);
  #version = 1;

  constructor(private readonly random: Random) {
    this.#client.process.stderr?.resume();
  }

  async start(): Promise<void> {
    const capabilities = {
      textDocument: {
        codeAction: { resolveSupport: { properties: ['edit'] } },
        publishDiagnostics: { codeDescriptionSupport: true, tagSupport: { valueSet: [1 as const] } },
      },
    };
    await this.#client.initialize(this.#repo.root, capabilities, undefined, { format: { enable: true } });
  }

  async stop(): Promise<void> {
    await this.#client.stop();
    this.#repo.remove();
  }

  /** Opens a text, asks everything of it at places of it, and sends some messages that are none. */
  async round({ kind, text }: Text): Promise<Asked[]> {
    const uri = this.#repo.uri(paths[kind]);
    await this.#client.open(uri, text.replace(/\p{Cs}/gu, '?'), this.#version++, languages[kindOf(paths[kind])!]);
    for (let more = 0; more < 3; more++)
      this.#sendRaw({ method: this.random.of(notifications), params: this.#odd(uri) });
    const asked: Asked[] = [];
    for (const [method, params] of this.#questions(text)) asked.push(await this.#ask(method, params(uri), true));
    asked.push(await this.#newSpec(kind, text));
    const method = this.random.of(requests);
    asked.push({ ...(await this.#ask(method, this.#odd(uri) as object, false)), what: 'malformed requests' });
    return [...asked, ...Array.from({ length: 3 }, () => ({ what: 'malformed notifications' }))];
  }

  /** Any room, some of it none. */
  #room(): object {
    const size = () => this.random.of([300, 0, -5, 1, 1e9, 1e308, 0.001, undefined, 12_345.678]);
    return { width: size(), height: size(), view: this.random.of(['set', 'frame', 'x', '__proto__', undefined]) };
  }

  #questions(text: string): [string, (uri: string) => object][] {
    const lines = text.split('\n');
    const at = () => {
      const line = this.random.below(lines.length);
      return { line, character: this.random.below(lines[line]!.length + 1) };
    };
    const positioned = (method: string, more: object = {}): [string, (uri: string) => object] => [
      `textDocument/${method}`,
      (uri) => ({ textDocument: { uri }, position: at(), ...more }),
    ];
    const start = at();
    return [
      positioned('hover'),
      positioned('completion'),
      positioned('completion'),
      positioned('references', { context: { includeDeclaration: true } }),
      positioned('rename', { newName: this.random.of(oddities) }),
      [
        'textDocument/codeAction',
        (uri) => ({ textDocument: { uri }, range: { start, end: at() }, context: { diagnostics: [] } }),
      ],
      [
        'textDocument/codeAction',
        (uri) => ({
          textDocument: { uri },
          range: { start, end: start },
          context: { diagnostics: [], only: ['refactor'] },
        }),
      ],
      [
        'textDocument/codeAction',
        (uri) => ({
          textDocument: { uri },
          range: { start, end: start },
          context: { diagnostics: [], only: ['source.fixAll'] },
        }),
      ],
      ['shootSpec/picture', (uri) => ({ textDocument: { uri }, position: start, ...this.#room() })],
      ['shootSpec/pictureFile', (uri) => ({ textDocument: { uri }, shot: this.random.of(oddities), ...this.#room() })],
      ['shootSpec/reel', (uri) => ({ textDocument: { uri }, deliverable: this.random.of(oddities) })],
      [
        'shootSpec/scene',
        (uri) => ({ textDocument: { uri }, piece: at().line, atS: this.random.of([0, -1e9, 1e308]), tellsMoves: true }),
      ],
      ['shootSpec/sheetFile', (uri) => ({ textDocument: { uri }, as: 'pdf' })],
      ['textDocument/formatting', (uri) => ({ textDocument: { uri }, options: { tabSize: 3, insertSpaces: false } })],
      ['textDocument/rangeFormatting', (uri) => ({ textDocument: { uri }, range: { start, end: at() } })],
      positioned('onTypeFormatting', { ch: '\n' }),
      ['textDocument/documentColor', (uri) => ({ textDocument: { uri } })],
      ['textDocument/selectionRange', (uri) => ({ textDocument: { uri }, positions: [start] })],
      [
        'textDocument/inlayHint',
        (uri) => ({ textDocument: { uri }, range: { start: { line: 0, character: 0 }, end: start } }),
      ],
    ];
  }

  /** A first spec beside a spoilt kit or spoilt settings, with any title: it can be read, and its title is that. */
  async #newSpec(kind: Text['kind'], text: string): Promise<Asked> {
    const what = 'requests (newSpec)';
    const title = `${this.random.of(oddities)}${this.random.of(actingTexts)}${this.random.of(oddities)}`;
    const params = {
      title,
      ...(kind === 'kit' && { kits: [{ path: this.random.of(['kits/a.kit.yaml', ...oddities]), text }] }),
      ...(kind === 'config' && { settings: text }),
      withSettings: this.random.below(2) === 0,
      region: this.random.of(['DE', '50 Hz', 'JP 60 Hz', ...oddities]),
    };
    let made: { text?: string; settings?: string } | undefined;
    const ask = this.#client.request<{ text?: string; settings?: string }>('shootSpec/newSpec', params);
    const over = new Promise<string>((late) => setTimeout(late, 60_000, 'no answer in 60 s').unref());
    const answered = ask.then(
      (answer) => void (made = answer),
      (error: Error) => error.message,
    );
    const fault = await Promise.race([over, this.#ended, answered]);
    if (fault !== undefined) return { what, fault: `${fault} to ${JSON.stringify(params).slice(0, 300)}` };
    for (const one of [made?.text, made?.settings]) {
      const doc = one === undefined ? undefined : parseDocument(one);
      if (doc?.broken) return { what, fault: `writes what can't be read: ${JSON.stringify(one).slice(0, 400)}` };
    }
    const said = made?.text === undefined ? undefined : child(parseDocument(made.text).root, 'title');
    if (said && !(said.kind === 'scalar' && said.text === title))
      return { what, fault: `loses ${JSON.stringify(title)}` };
    return { what };
  }

  /** A question that is one is answered without a fault of the server's own; one that is none is answered. */
  async #ask(method: string, params: object, isSound: boolean): Promise<Asked> {
    const what = `requests (${method.replace(/^.*\//, '')})`;
    const { process } = this.#client;
    const over = new Promise<string>((late) => setTimeout(late, 60_000, 'no answer in 60 s').unref());
    const fault = await Promise.race([over, this.#ended, this.#answer(method, params)]);
    if (process.exitCode !== null) return { what, fault: `the server ended with ${process.exitCode}` };
    const isRefusal = /^(?:-32800|-32801|-32802|-32803)/.test(fault ?? '');
    return fault === undefined || isRefusal || (!isSound && /^-?\d/.test(fault)) ? { what } : { what, fault };
  }

  #answer(method: string, params: object): Promise<string | undefined> {
    const connection: ProtocolConnection = this.#client.connection;
    return connection.sendRequest(method, params).then(
      () => undefined,
      (error: { code: number; message: string }) => `${error.code} ${method}: ${error.message}`,
    );
  }

  /** Anything, some of it almost a message. */
  #odd(uri: string): unknown {
    const leaf = () =>
      this.random.of<unknown>([null, 0, -1, 1e300, '', 'x', [], {}, [null], JSON.parse('{"__proto__": 1}')]);
    const place = () => ({ start: this.random.of([leaf(), { line: leaf(), character: leaf() }]), end: leaf() });
    return this.random.of<unknown>([
      leaf(),
      { textDocument: leaf() },
      { textDocument: { uri: leaf(), version: leaf(), text: leaf(), languageId: leaf() } },
      { textDocument: { uri: `${uri}.odd`, version: leaf(), text: leaf(), languageId: leaf() } },
      { textDocument: { uri }, position: leaf(), range: place(), context: leaf(), positions: leaf(), newName: leaf() },
      { textDocument: { uri, version: 1e9 }, contentChanges: [{ range: place(), text: leaf() }] },
      { changes: leaf(), settings: leaf(), event: leaf(), token: leaf(), id: leaf(), value: leaf() },
      { changes: [leaf(), { uri: leaf(), type: leaf() }], event: { added: leaf(), removed: [leaf()] } },
    ]);
  }

  #sendRaw(message: object): void {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.#client.process.stdin!.write(`Content-Length: ${body.length}\r\n\r\n${body.toString()}`);
  }
}
