/** What every client does in every session, whatever the server runs in. */
import { expect, test } from 'vitest';
import type {
  ClientCapabilities,
  CodeAction,
  Diagnostic,
  DocumentSymbol,
  Hover,
  InitializeResult,
} from 'vscode-languageserver-protocol';
import type { ProtocolClient } from './server.ts';
import { spec } from './workspace.ts';

export interface Opened {
  readonly client: ProtocolClient;
  /** Of the spec that the tests are about. */
  readonly uri: string;
  readonly begin: (capabilities?: ClientCapabilities) => Promise<InitializeResult>;
}

export const spinning = (shutter: string, more = '') =>
  spec(`${more}shots:
  spin:
    record: 12 s
    camera: { shutter: ${shutter} }
    turn: { speed: 2 rpm }
cut:
  - { shot: spin, length: 10 s }
`);

export const rule = (id: string) => (diagnostics: Diagnostic[]) => diagnostics.some((one) => one.code === id);

export function usualSession(opened: () => Opened): void {
  test('pushes findings with the version that they are about, at the right characters', async () => {
    const { client, uri, begin } = opened();
    await begin();
    const text = spinning('1/200 s');
    await client.open(uri, text, 7);
    const { version, diagnostics } = await client.findings(uri, rule('shutter-off-half-frame'));
    expect(version).toBe(7);
    const [found] = diagnostics.filter((one) => one.code === 'shutter-off-half-frame');
    const line = text.split('\n')[found!.range.start.line]!;
    expect(line.slice(found!.range.start.character, found!.range.end.character)).toBe('1/200 s');
    expect(found!.source).toBe('shoot spec');
  });

  test('a fix is an edit of this version, and clears the finding', async () => {
    const { client, uri, begin } = opened();
    await begin();
    const text = spinning('1/200 s');
    await client.open(uri, text);
    const { diagnostics } = await client.findings(uri, rule('shutter-off-half-frame'));
    const [found] = diagnostics.filter((one) => one.code === 'shutter-off-half-frame');
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri },
      range: found!.range,
      context: { diagnostics },
    });
    const fix = actions.find((action) => action.title.startsWith('Set shutter to 1/50 s'))!;
    const [change] = fix.edit!.documentChanges as { textDocument: { version: number }; edits: { newText: string }[] }[];
    expect(change!.textDocument.version).toBe(1);
    expect(change!.edits.map((edit) => edit.newText)).toEqual(['1/50 s']);
    expect(actions.some((action) => action.title.startsWith('Accept `shutter-off-half-frame`'))).toBe(true);
    await client.change(uri, 2, text.replace('1/200 s', '1/50 s'));
    await client.findings(uri, (all, version) => version === 2 && !rule('shutter-off-half-frame')(all));
  });

  test('a hover tells the numbers, the meaning and where to read why', async () => {
    const { client, uri, begin } = opened();
    await begin();
    const text = spinning('1/200 s');
    await client.open(uri, text);
    const line = text.split('\n').findIndex((one) => one.includes('1/200 s'));
    const character = text.split('\n')[line]!.indexOf('1/200');
    const hover = await client.request<Hover>('textDocument/hover', {
      textDocument: { uri },
      position: { line, character },
    });
    const { value } = hover.contents as { value: string };
    const parts = [/1\/200 s is 45° at 25/, /how long each frame is exposed/i, /\[shutter-off-half-frame\]\(file:/];
    const places = parts.map((part) => value.search(part));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test('the outline has blocks, names and lines', async () => {
    const { client, uri, begin } = opened();
    await begin();
    await client.open(uri, spinning('1/50 s'));
    const symbols = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } });
    expect(symbols.map((one) => one.name)).toContain('shots');
    expect(symbols.find((one) => one.name === 'shots')!.children!.map((one) => one.name)).toEqual(['spin']);
  });

  test('a client that pulls is answered and not pushed to', async () => {
    const { client, uri, begin } = opened();
    const { capabilities } = await begin({
      textDocument: { diagnostic: {} },
      workspace: { diagnostics: { refreshSupport: true } },
    });
    expect(capabilities.diagnosticProvider).toMatchObject({ interFileDependencies: true });
    client.connection.onRequest('workspace/diagnostic/refresh', () => null);
    await client.open(uri, spinning('1/200 s'));
    const report = await client.request<{ items: Diagnostic[] }>('textDocument/diagnostic', { textDocument: { uri } });
    expect(rule('shutter-off-half-frame')(report.items)).toBe(true);
    expect(client.pushed).toEqual([]);
  });

  test('a client that counts bytes gets bytes', async () => {
    const { client, uri, begin } = opened();
    const { capabilities } = await begin({
      general: { positionEncodings: ['utf-8', 'utf-16'] },
    });
    expect(capabilities.positionEncoding).toBe('utf-8');
    const text = spinning('1/200 s').replace('camera: {', 'camera: { lens: "ö😀", ');
    await client.open(uri, text);
    const { diagnostics } = await client.findings(uri, rule('shutter-off-half-frame'));
    const [found] = diagnostics.filter((one) => one.code === 'shutter-off-half-frame');
    const bytes = Buffer.from(text.split('\n')[found!.range.start.line]!);
    expect(bytes.subarray(found!.range.start.character, found!.range.end.character).toString()).toBe('1/200 s');
  });
}
