/** Sessions with the server, the well-mannered and the others: the usual one, and what ends a process, with the bundled server. */
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  type DidChangeWatchedFilesRegistrationOptions,
  type DocumentSymbol,
  type Registration,
  RegistrationRequest,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { kits, spec } from '../helpers/workspace.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { rule, spinning, usualSession } from '../helpers/usual-session.ts';

startsServer();

/** For each test of the group a process of its own. */
function bundledServer(): () => Client {
  let bundled: Client;
  beforeEach(() => {
    bundled = new Client();
  });
  afterEach(() => bundled.stop());
  return () => bundled;
}

describe('a usual session', () => {
  const bundled = bundledServer();
  usualSession(() => ({
    client: bundled(),
    uri,
    begin: (capabilities) => bundled().initialize(repo.root, capabilities),
  }));
});

describe('other files', () => {
  test('a kit that is typed in changes the specs that use it, saved or not', async () => {
    await client.initialize(repo.root);
    const kit = repo.uri('kits/camera.kit.yaml');
    await client.open(uri, spinning('1/50 s').replace('iso: 400', 'iso: 12800'));
    await client.findings(uri, (all) => !rule('setting-not-in-kit')(all));
    await client.open(
      kit,
      kits['kits/camera.kit.yaml']!.replace('iso: 100 to 12800', 'iso: 100 to 6400'),
      1,
      'shoot-kit',
    );
    await client.findings(uri, rule('setting-not-in-kit'), 1);
    const before = client.pushed.length;
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: kit } });
    await client.findings(uri, (all) => !rule('setting-not-in-kit')(all), before);
  });

  test('a folder that is added later counts as if it had been there from the start, until it is taken away', async () => {
    const folder = (path: string) => ({ uri: repo.uri(path), name: path });
    let folders = [folder('first')];
    client.connection.onRequest('workspace/workspaceFolders', () => folders);
    repo.write('first/a.shoot.yaml', spec(''));
    repo.write('second/kits/camera.kit.yaml', kits['kits/camera.kit.yaml']!);
    const film = repo.uri('second/films/box.shoot.yaml');
    await client.initialize(join(repo.root, 'first'), { workspace: { workspaceFolders: true } });
    await client.open(film, spec(''));
    await client.findings(film, rule('kit-not-found'));
    const change = async (added: typeof folders, removed: typeof folders) => {
      folders = [...folders.filter((one) => !removed.includes(one)), ...added];
      await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added, removed } });
    };
    const second = folder('second');
    await change([second], []);
    await client.findings(film, (all) => !rule('kit-not-found')(all), client.pushed.length);
    await change([], [second]);
    await client.findings(film, rule('kit-not-found'), client.pushed.length);
  });

  test('a client may escape in an address what it likes', async () => {
    const kit = 'title: Own\nlamps: { panel: { kind: led, output: 6000 lx at 1 m } }\n';
    repo.write('kits@1/(own).kit.yaml', kit);
    const text = 'title: Box\nkit: "kits@1/(own).kit.yaml"\nlamps: { key: { use: panel, distance: 50 cm } }\n';
    const plain = (path: string) => decodeURIComponent(repo.uri(path));
    expect(plain('kits@1/(own).kit.yaml')).not.toBe(repo.uri('kits@1/(own).kit.yaml'));
    await client.initialize(repo.root);
    await client.open(uri, text);
    await client.findings(uri, (all) => !rule('name-not-defined')(all));
    await client.open(plain('kits@1/(own).kit.yaml'), kit.replace('panel', 'mat'), 1, 'shoot-kit');
    await client.findings(uri, rule('name-not-defined'), 1);
    // The same file under either name, answered under the one that it was opened by.
    await client.change(repo.uri('kits@1/(own).kit.yaml'), 2, kit);
    await client.findings(uri, (all) => !rule('name-not-defined')(all), client.pushed.length);
    expect(client.pushed.map((one) => one.uri)).not.toContain(repo.uri('kits@1/(own).kit.yaml'));
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', {
      textDocument: { uri },
      position: { line: 2, character: 'lamps: { key: { use: p'.length },
      newName: 'mat',
    });
    expect(edit.documentChanges).toContainEqual(
      expect.objectContaining({ textDocument: { uri: plain('kits@1/(own).kit.yaml'), version: 2 } }),
    );
  });

  test.each(['', 'a b:c', 'file:////x', '%', 'file:///%zz'])(
    '%j, which is no address of a file, is only a name',
    async (odd) => {
      await client.initialize(repo.root);
      await client.open(odd, spinning('1/200 s'));
      await client.request('textDocument/documentSymbol', { textDocument: { uri: odd } });
      await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: odd } });
      await client.open(uri, spinning('1/200 s'));
      await client.findings(uri, rule('shutter-off-half-frame'));
    },
  );

  test('a client that can watch files is asked to watch ours, once', async () => {
    const asked: Registration[] = [];
    client.connection.onRequest(RegistrationRequest.type, ({ registrations }) => void asked.push(...registrations));
    await client.initialize(repo.root, { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } });
    await client.open(uri, spinning('1/200 s'));
    await client.findings(uri);
    const [watch, ...more] = asked.filter(({ method }) => method === 'workspace/didChangeWatchedFiles');
    expect(more).toEqual([]);
    const { watchers } = watch!.registerOptions as DidChangeWatchedFilesRegistrationOptions;
    // Of any other file it counts only whether it is there.
    expect(watchers.filter(({ kind }) => kind === 5).map(({ globPattern }) => globPattern)).toEqual(['**/*']);
    expect(watchers.filter(({ kind }) => kind === undefined).map(({ globPattern }) => globPattern)).toEqual([
      '**/*.shoot.yaml',
      '**/*.takes.yaml',
      '**/*.kit.yaml',
      '**/shootspec.yaml',
    ]);
  });

  test('settings that change on disk count at once', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/200 s'));
    await client.findings(uri, rule('shutter-off-half-frame'));
    repo.write('shootspec.yaml', 'rules:\n  shutter-off-half-frame: { severity: none, reason: Clocks may tick. }\n');
    const before = client.pushed.length;
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: repo.uri('shootspec.yaml'), type: 1 }],
    });
    await client.findings(uri, (all) => !rule('shutter-off-half-frame')(all), before);
  });

  test('each folder has its own kits and settings', async () => {
    const other = new DiskRepo({ 'shootspec.yaml': 'rules:\n  shutter-off-half-frame: { severity: hint }\n' });
    await client.initialize(repo.root);
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [{ uri: other.uri('').replace(/\/$/, ''), name: 'other' }], removed: [] },
    });
    await client.open(uri, spinning('1/200 s'));
    await client.open(other.uri('box.shoot.yaml'), spinning('1/200 s'));
    const severity = async (one: string) =>
      (await client.findings(one, rule('shutter-off-half-frame'))).diagnostics.find(
        (found) => found.code === 'shutter-off-half-frame',
      )!.severity;
    expect([await severity(uri), await severity(other.uri('box.shoot.yaml'))]).toEqual([2, 4]);
    other.remove();
  });
});

describe('clients that do it wrong', () => {
  test('a request before `initialize` is refused with the right error', async () => {
    await expect(
      client.request('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 0 } }),
    ).rejects.toMatchObject({ code: -32002 });
    await client.open(uri, spinning('1/200 s'));
    await client.initialize(repo.root);
    expect(await client.request('textDocument/documentSymbol', { textDocument: { uri } })).toEqual([]);
  });

  test('an older version changes nothing', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/50 s'), 5);
    await client.change(uri, 6, spinning('1/200 s'));
    await client.change(uri, 3, 'title: Old\n');
    await client.change(uri, 6, 'title: Old\n');
    const { version } = await client.findings(uri, rule('shutter-off-half-frame'));
    expect(version).toBe(6);
    const symbols = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } });
    expect(symbols.length).toBeGreaterThan(1);
  });

  test('changes to a file that is not open, and closing it, do nothing', async () => {
    await client.initialize(repo.root);
    await client.change(uri, 1, 'title: A\n');
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    expect(await client.request('textDocument/documentSymbol', { textDocument: { uri } })).toEqual([]);
  });

  test('opening twice takes the second text, and closing clears the findings', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/200 s'), 1);
    await client.findings(uri, rule('shutter-off-half-frame'));
    await client.open(uri, spinning('1/50 s'), 1);
    await client.findings(uri, (all) => !rule('shutter-off-half-frame')(all), 1);
    const before = client.pushed.length;
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    expect((await client.findings(uri, undefined, before)).diagnostics).toEqual([]);
  });

  test('closing during a check brings no findings back', async () => {
    await client.initialize(repo.root);
    await client.atOnce(() => [
      client.open(uri, spinning('1/200 s')),
      client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } }),
    ]);
    await client.findings(uri, (all) => all.length === 0);
    // Another file is checked after it, and nothing has come for the first meanwhile.
    const other = repo.uri('other.shoot.yaml');
    await client.open(other, spinning('1/200 s'));
    await client.findings(other, rule('shutter-off-half-frame'));
    expect(client.pushed.filter((one) => one.uri === uri).at(-1)!.diagnostics).toEqual([]);
  });

  test('two hundred quick edits end with the findings of the last', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/50 s'));
    const [usual, last] = [spinning('1/50 s'), spinning('1/200 s')];
    await client.atOnce(() =>
      Array.from({ length: 200 }, (_, index) => client.change(uri, index + 2, index === 199 ? last : usual)),
    );
    const { version } = await client.findings(uri, rule('shutter-off-half-frame'));
    expect(version).toBe(201);
    // Not one check for each edit; how many fewer depends on how busy the machine is.
    expect(client.pushed.length).toBeLessThan(200);
  });

  test('a cancelled request is answered, and the server goes on', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/200 s'));
    const { CancellationTokenSource } = await import('vscode-languageserver-protocol/node');
    const cancel = new CancellationTokenSource();
    const asked = client.connection.sendRequest(
      'textDocument/hover',
      { textDocument: { uri }, position: { line: 2, character: 1 } },
      cancel.token,
    );
    cancel.cancel();
    await asked.catch((error: { code: number }) => expect(error.code).toBe(-32800));
    expect(
      (await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } })).length,
    ).toBeGreaterThan(1);
  });

  test.each(['git', 'vscode-vfs', 'https', 'unknown'])('a `%s:` address is not taken for a file', async (scheme) => {
    await client.initialize(repo.root);
    const odd = `${scheme}://host${repo.root}/box.shoot.yaml`;
    await client.open(odd, spinning('1/200 s'));
    expect(await client.request('textDocument/documentSymbol', { textDocument: { uri: odd } })).toEqual([]);
  });

  test('a file that was never saved is checked by its language', async () => {
    await client.initialize(repo.root);
    await client.open('untitled:Untitled-1', spinning('1/200 s'));
    await client.findings('untitled:Untitled-1', rule('shutter-off-half-frame'));
  });

  test('positions far outside the text are held inside it', async () => {
    await client.initialize(repo.root);
    await client.open(uri, spinning('1/200 s'));
    for (const position of [
      { line: 1e9, character: 1e9 },
      { line: 0, character: 2 ** 31 - 1 },
    ]) {
      await client.request('textDocument/hover', { textDocument: { uri }, position });
    }
  });
});

describe('what ends the process', () => {
  const bundled = bundledServer();

  test('a second `initialize` is refused, and so is all after `shutdown`', async () => {
    await bundled().initialize(repo.root);
    await expect(
      bundled().request('initialize', { processId: null, rootUri: null, capabilities: {} }),
    ).rejects.toMatchObject({ code: -32600 });
    await bundled().request('shutdown', {});
    await expect(
      bundled().request('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 0 } }),
    ).rejects.toMatchObject({ code: -32600 });
    await bundled().connection.sendNotification('exit');
    expect(await bundled().exited).toBe(0);
  });

  test('a garbage header ends the server, and nothing hangs', async () => {
    await bundled().initialize(repo.root);
    bundled().process.stdin!.write('Content-Length: nonsense\r\n\r\n{');
    bundled().process.stdin!.end();
    expect(await bundled().exited).not.toBeNull();
  });
});
