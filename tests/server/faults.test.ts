/** What a client gets wrong costs it that message, and never the server; and what the server may not look at. */
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic, WorkspaceDiagnosticReport } from 'vscode-languageserver-protocol';
import { ClientNear } from '../helpers/near-server.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { Client, type StreamClient } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const noisy = spec('shots:\n  box: { record: 12 s, camera: { iso: 6400 } }\n');
const polluted = JSON.parse('{"__proto__": {"uri": 1}, "constructor": 1}') as object;
const odd: readonly unknown[] = [null, 5, 'x', [], {}, [null], { uri: null }, { uri: 5, text: 5 }, polluted];

const document = (uri: string) => ({ uri, languageId: 'shoot-spec', version: 1, text: noisy });
const notifications: readonly [string, (odd: unknown, uri: string) => unknown][] = [
  ['initialized', (one) => one],
  ['textDocument/didOpen', (one) => one],
  ['textDocument/didOpen', (one) => ({ textDocument: one })],
  ...['uri', 'languageId', 'version', 'text'].map((key): [string, (odd: unknown, uri: string) => unknown] => [
    'textDocument/didOpen',
    (one, uri) => ({ textDocument: { ...document(`${uri}-odd`), [key]: one } }),
  ]),
  ['textDocument/didOpen', (_, uri) => ({ textDocument: { ...document(`${uri}.kit.yaml`), version: undefined } })],
  ['textDocument/didOpen', () => ({ textDocument: { ...document('untitled:a'), languageId: 'constructor' } })],
  ['textDocument/didChange', (one) => one],
  ['textDocument/didChange', (one, uri) => ({ textDocument: { uri, version: one }, contentChanges: one })],
  ['textDocument/didChange', (one, uri) => ({ textDocument: { uri, version: 2 }, contentChanges: [one] })],
  [
    'textDocument/didChange',
    (one, uri) => ({ textDocument: { uri, version: 3 }, contentChanges: [{ range: one, text: one }] }),
  ],
  [
    'textDocument/didChange',
    (one, uri) => ({
      textDocument: { uri, version: 4 },
      contentChanges: [{ range: { start: { line: one, character: 1e300 }, end: one }, text: one }],
    }),
  ],
  ['textDocument/didSave', (one) => one],
  ['textDocument/didClose', (one) => one],
  ['textDocument/didClose', (one) => ({ textDocument: one })],
  ['workspace/didChangeWatchedFiles', (one) => one],
  ['workspace/didChangeWatchedFiles', (one) => ({ changes: one })],
  ['workspace/didChangeWatchedFiles', (one) => ({ changes: [{ uri: one, type: one }] })],
  ['workspace/didChangeConfiguration', (one) => one],
  ['workspace/didChangeConfiguration', (one) => ({ settings: one })],
  ['workspace/didChangeWorkspaceFolders', (one) => one],
  ['workspace/didChangeWorkspaceFolders', (one) => ({ event: one })],
  ['workspace/didChangeWorkspaceFolders', (one) => ({ event: { added: [one], removed: [one] } })],
  ['window/workDoneProgress/cancel', (one) => one],
  ['$/cancelRequest', (one) => one],
  ['$/setTrace', (one) => one],
  ['$/progress', (one) => one],
  ['shootSpec/unheardOf', (one) => one],
];

startsServer();

describe('a notification that is none costs the server nothing', () => {
  test.each([...new Set(notifications.map(([method]) => method))])('%s', async (method) => {
    const sent = notifications.filter(([one]) => one === method);
    await survives(client, sent);
  });

  test('nor its process all of them, one after the other', async () => {
    const bundled = new Client();
    await survives(bundled, notifications);
    expect(bundled.process.exitCode).toBeNull();
    await bundled.stop();
  });

  async function survives(client: StreamClient, sent: typeof notifications): Promise<void> {
    await client.initialize(repo.root, { workspace: { workspaceFolders: true, configuration: true } });
    client.connection.onRequest('workspace/workspaceFolders', () => [{ uri: repo.uri(''), name: 'a' }]);
    client.connection.onRequest('workspace/configuration', () => [polluted]);
    await client.open(uri, noisy);
    await client.findings(uri, hasFindings);
    for (const [method, params] of sent) {
      for (const one of odd) client.sendRaw(method, params(one, uri));
    }
    if (sent.some(([method]) => method === 'textDocument/didOpen'))
      // Questions about what was opened so are answered, too.
      await client.request('textDocument/documentSymbol', { textDocument: { uri: `${uri}.kit.yaml` } });
    const before = client.pushed.length;
    await client.open(uri, noisy, 100);
    await client.findings(uri, (found, version) => version === 100 && hasFindings(found), before);
    expect(await client.request('textDocument/documentSymbol', { textDocument: { uri } })).not.toEqual([]);
  }
});

const hasFindings = (found: Diagnostic[]) => found.some(({ code }) => code !== 'yaml');

test('a client that refuses what it said it can costs the process nothing', async () => {
  const bundled = new Client();
  const refused = new Promise<void>((tell) => {
    bundled.connection.onRequest('workspace/diagnostic/refresh', () => {
      tell();
      throw new Error('No.');
    });
  });
  await bundled.initialize(repo.root, {
    textDocument: { diagnostic: {} },
    workspace: { diagnostics: { refreshSupport: true } },
  });
  await refused;
  await bundled.open(uri, noisy);
  expect(await bundled.request('textDocument/documentSymbol', { textDocument: { uri } })).not.toEqual([]);
  expect(bundled.process.exitCode).toBeNull();
  await bundled.stop();
});

describe('a server that nobody talks to', () => {
  test.each([
    ['--pipe', join(tmpdir(), 'no-such-pipe')],
    ['--socket', '1'],
  ])('ends with a fault and a word: %s', (kind, at) => {
    const { status, stderr } = run(`${kind}=${at}`);
    expect(status).toBe(1);
    expect(stderr).toContain('nobody is at the other end');
  });

  const run = (...args: string[]) =>
    spawnSync(process.execPath, [join(import.meta.dirname, '../../dist/cli.cjs'), 'serve', ...args], {
      encoding: 'utf8',
    });
});

describe('a file that is open alone, without a folder', () => {
  let alone: ClientNear;

  beforeEach(async () => {
    alone = new ClientNear();
    await alone.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: null,
      workspaceFolders: null,
      capabilities: {
        textDocument: { diagnostic: {} },
        workspace: { diagnostics: { refreshSupport: true } },
      },
    });
    alone.connection.onRequest('workspace/diagnostic/refresh', () => null);
    await alone.connection.sendNotification('initialized', {});
  });
  afterEach(async () => {
    await alone.stop();
  });

  const filesOf = async (): Promise<string[]> => {
    const { items } = await alone.request<WorkspaceDiagnosticReport>('workspace/diagnostic', { previousResultIds: [] });
    return items.map((one) => one.uri.slice(repo.uri('').length + 1)).sort();
  };

  test('is no reason to look through the folders beside it', async () => {
    repo.write('elsewhere/deep/other.shoot.yaml', noisy);
    await alone.open(repo.uri('a.shoot.yaml'), noisy);
    repo.write('beside.shoot.yaml', noisy);
    expect(await filesOf()).toEqual(['beside.shoot.yaml']);
  });

  test('but where settings say that it is a repo, that is looked through', async () => {
    repo.write('shootspec.yaml', 'region: DE\n');
    repo.write('elsewhere/deep/other.shoot.yaml', noisy);
    await alone.open(repo.uri('a.shoot.yaml'), noisy);
    expect(await filesOf()).toContain('elsewhere/deep/other.shoot.yaml');
  });
});
