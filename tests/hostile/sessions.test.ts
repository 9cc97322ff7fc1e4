/**
 * Sessions that nobody wrote: files opened, changed, closed and asked about in any order, by clients that count
 * characters differently, forget requests and mix versions up. At the end the server must know what a fresh check knows.
 */
import { describe, expect, test } from 'vitest';
import { CancellationTokenSource } from 'vscode-languageserver-protocol/node';
import type { Diagnostic, Position, PublishDiagnosticsParams } from 'vscode-languageserver-protocol';
import { Checker } from '../../server/core/checker.ts';
import { LineMap, type Units } from '../../server/core/document/lines.ts';
import { kindOf } from '../../server/core/paths.ts';
import { oneLine } from '../../server/formats/escape.ts';
import { rules } from '../../server/rules/index.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { memoryHost } from '../helpers/workspace.ts';
import { corpus, sampleFiles } from './corpus.ts';
import { figures } from './figures.ts';
import { oddities } from './mutate.ts';
import { Random } from './random.ts';
import { seed, times, withoutFolder } from './sound.ts';

const sessions = figures.sessions * times;
const stepsEach = 60;
const languages = { shoot: 'shoot-spec', takes: 'shoot-takes', kit: 'shoot-kit', config: 'shoot-settings' } as const;
const specs = corpus.filter(({ kind, files }) => kind === 'shoot' && Object.keys(files).length === 0);

describe('any session ends where a fresh check ends', () => {
  const numbers = Array.from({ length: sessions }, (_, index) => seed + index);
  // Several at a time: most of a session is waiting.
  test.concurrent.each(numbers)('session %i', async (own) => {
    const repo = new DiskRepo(sampleFiles);
    const session = new Session(repo, new Random(own));
    try {
      await session.start();
      for (let step = 0; step < stepsEach; step++) await session.step();
      await session.end();
    } finally {
      await session.client.stop();
      repo.remove();
    }
  });
});

interface Open {
  text: string;
  version: number;
}

/** How the findings of a file that is still open should end, and how they do. */
interface End {
  readonly path: string;
  readonly version: number;
  readonly expected: readonly string[];
  readonly last: () => PublishDiagnosticsParams | undefined;
}

class Session {
  readonly client = new Client();
  readonly #open = new Map<string, Open>();
  readonly #asked: Promise<unknown>[] = [];
  readonly #units: Units;

  constructor(
    private readonly repo: DiskRepo,
    private readonly random: Random,
  ) {
    this.#units = random.of(['utf-8', 'utf-16', 'utf-32'] as const);
  }

  async start(): Promise<void> {
    const { capabilities } = await this.client.initialize(this.repo.root, {
      general: { positionEncodings: [this.#units] },
    });
    expect(capabilities.positionEncoding).toBe(this.#units);
    await this.#openOne();
  }

  async step(): Promise<void> {
    const kind = this.random.below(100);
    if (kind < 8) return this.#openOne();
    if (kind < 14) return this.#close();
    if (kind < 18) return this.#oldVersion();
    if (kind < 21) return this.#changedOnDisk();
    if (kind < 65) return this.#change();
    if (kind < 98) return this.#ask();
    return pause(this.random.below(40));
  }

  /** All that was asked is answered, and the findings are those of a fresh check of the same texts. */
  async end(): Promise<void> {
    await Promise.all(this.#asked);
    const texts = Object.fromEntries([...this.#open].map(([path, { text }]) => [path, text]));
    const checker = new Checker(memoryHost({ ...sampleFiles, ...texts }), rules);
    const ends: End[] = [];
    for (const [path, { text, version }] of this.#open) {
      const { doc, findings } = checker.check(path, text)!;
      const expected = findings.map((one) => said(one.rule, oneLine(one.message), doc.lines.range(one, this.#units)));
      const last = () => this.client.pushed.findLast(({ uri }) => uri === this.repo.uri(path));
      const isLast = () => last()?.version === version && sameAs(last()!.diagnostics, expected);
      await this.client.pushedUntil('last findings', () => isLast() || undefined).catch(() => undefined);
      ends.push({ path, version, expected, last });
    }
    // Nothing older may come after them.
    await this.client.request('textDocument/documentSymbol', { textDocument: { uri: this.repo.uri(ends[0]!.path) } });
    await pause(60);
    for (const { path, version, expected, last } of ends)
      expect({ path, version: last()?.version, found: last()?.diagnostics.map(ofDiagnostic) }).toEqual({
        path,
        version,
        found: expected,
      });
  }

  async #openOne(): Promise<void> {
    const paths = [
      ...Object.keys(sampleFiles).filter((path) => kindOf(path)),
      'new/one.shoot.yaml',
      'ünï😀.shoot.yaml',
    ];
    const path = this.random.of(paths);
    const text = sampleFiles[path] ?? this.random.of(specs).text;
    const version = this.random.below(5);
    this.#open.set(path, { text, version });
    await this.client.open(this.repo.uri(path), text, version, languages[kindOf(path)!]);
  }

  async #close(): Promise<void> {
    // At least one stays open, so that the end has something to compare.
    if (this.#open.size < 2) return;
    const path = this.random.of([...this.#open.keys()]);
    this.#open.delete(path);
    await this.client.connection.sendNotification('textDocument/didClose', {
      textDocument: { uri: this.repo.uri(path) },
    });
  }

  async #oldVersion(): Promise<void> {
    const [path, open] = this.#any();
    await this.client.change(this.repo.uri(path), open.version - this.random.below(3), 'title: Old\n');
  }

  async #changedOnDisk(): Promise<void> {
    await this.client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: this.repo.uri('kits/camera.kit.yaml'), type: 2 }],
    });
  }

  async #change(): Promise<void> {
    const [path, open] = this.#any();
    const contentChanges = Array.from({ length: 1 + this.random.below(3) }, () => {
      if (this.random.below(25) === 0) {
        open.text = this.random.of(specs).text;
        return { text: open.text };
      }
      const start = this.random.below(open.text.length + 1);
      const end = Math.min(open.text.length, start + this.random.below(this.random.below(3) === 0 ? 80 : 2));
      const put = this.random.below(4) === 0 ? '' : this.#words();
      const change = {
        range: { start: this.#position(open.text, start), end: this.#position(open.text, end) },
        text: put,
      };
      open.text = open.text.slice(0, boundary(open.text, start)) + put + open.text.slice(boundary(open.text, end));
      return change;
    });
    open.version += 1 + this.random.below(3);
    await this.client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: this.repo.uri(path), version: open.version },
      contentChanges,
    });
  }

  #words(): string {
    // Characters that have no place in UTF-8 can't be sent.
    const sendable = oddities.filter((one) => !/\p{Cs}/u.test(one));
    return this.random.of([
      ...sendable,
      'shots:\n',
      '  lid: { record: 8 s }\n',
      '1/50 s',
      ' cm',
      '5',
      'ü',
      '😀',
      '\n',
      '  ',
    ]);
  }

  async #ask(): Promise<void> {
    const [path, open] = this.#any();
    const textDocument = { uri: this.repo.uri(path) };
    const position = this.#position(open.text, this.random.below(open.text.length + 1));
    const odd = this.random.of([
      position,
      position,
      { line: position.line, character: 1e6 },
      { line: 1e6, character: 0 },
    ]);
    const range = { start: { line: 0, character: 0 }, end: odd };
    const [method, params] = this.random.of<[string, object]>([
      ['textDocument/hover', { position: odd }],
      ['textDocument/completion', { position: odd }],
      ['textDocument/definition', { position: odd }],
      ['textDocument/references', { position: odd, context: { includeDeclaration: true } }],
      ['textDocument/documentHighlight', { position: odd }],
      ['textDocument/prepareRename', { position: odd }],
      ['textDocument/rename', { position: odd, newName: this.random.of(['lid', 'a b', '', '{', 'product']) }],
      ['textDocument/codeAction', { range: { start: odd, end: odd }, context: { diagnostics: [] } }],
      ['textDocument/codeAction', { range, context: { diagnostics: [], only: ['source.fixAll'] } }],
      ['textDocument/documentSymbol', {}],
      ['textDocument/foldingRange', {}],
      ['textDocument/documentLink', {}],
      ['textDocument/documentColor', {}],
      ['textDocument/inlayHint', { range }],
      ['textDocument/selectionRange', { positions: [odd] }],
      ['workspace/symbol', { query: this.random.of(['', 'lid', '*', '\\']) }],
    ]);
    const cancel = new CancellationTokenSource();
    const asked = this.client.connection.sendRequest(method, { textDocument, ...params }, cancel.token).then(
      () => undefined,
      // Cancelled, changed meanwhile, or refused with a reason; never a fault of the server's own.
      (error: { code: number; message: string }) => {
        if (![-32800, -32801, -32802, -32803].includes(error.code)) throw new Error(`${method}: ${error.message}`);
      },
    );
    this.#asked.push(asked);
    if (this.random.below(4) === 0) cancel.cancel();
    if (this.random.below(4) === 0) await asked;
  }

  #any(): [string, Open] {
    return this.random.of([...this.#open]);
  }

  /** Counted here once more, and not by the server's own counting. */
  #position(text: string, offset: number): Position {
    const before = text.slice(0, boundary(text, offset)).split(/\r\n|\n|\r/);
    const last = before.at(-1)!;
    const character = { 'utf-8': Buffer.byteLength(last), 'utf-16': last.length, 'utf-32': [...last].length }[
      this.#units
    ];
    return { line: before.length - 1, character };
  }
}

/** The nearest place before that is inside neither a character nor a line end. */
function boundary(text: string, offset: number): number {
  const [before, after] = [text[offset - 1] ?? '', text[offset] ?? ''];
  const inside =
    (/[\ud800-\udbff]/.test(before) && /[\udc00-\udfff]/.test(after)) || (before === '\r' && after === '\n');
  return inside ? offset - 1 : offset;
}

function pause(ms: number): Promise<void> {
  return new Promise((later) => setTimeout(later, ms));
}

function sameAs(diagnostics: readonly Diagnostic[], expected: readonly string[]): boolean {
  return JSON.stringify(diagnostics.map(ofDiagnostic)) === JSON.stringify(expected);
}

function said(rule: string, message: string, { start, end }: ReturnType<LineMap['range']>): string {
  return `${start.line}:${start.character}-${end.line}:${end.character} ${rule} ${withoutFolder(message)}`;
}

function ofDiagnostic({ code, message, range }: Diagnostic): string {
  return said(String(code), String(message), range);
}
