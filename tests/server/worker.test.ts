/** Sessions with the bundled server for browsers, whose files are those that it is told of. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Location, WorkspaceDiagnosticReport, WorkspaceEdit } from 'vscode-languageserver-protocol';
import { rule, spinning, usualSession } from '../helpers/usual-session.ts';
import { WorkerClient } from '../helpers/worker-server.ts';
import { kits, spec } from '../helpers/workspace.ts';

/** As a code host has it. */
const folder = 'memory://works%2B1/films';
const at = (path: string) => `${folder}/${path}`;
const uri = at('box.shoot.yaml');
const texts = (files: Readonly<Record<string, string>>) =>
  Object.entries(files).map(([path, text]) => ({ uri: at(path), text }));

let client: WorkerClient;
beforeEach(() => void (client = new WorkerClient()));
afterEach(() => client.stop());

const begin = (files: Readonly<Record<string, string>> = {}, capabilities = {}) =>
  client.begin(folder, capabilities, undefined, { ownCommands: true, files: texts({ ...kits, ...files }) });

describe('a usual session', () => {
  usualSession(() => ({ client, uri, begin: (capabilities) => begin({}, capabilities) }));
});

describe('files that it is told of', () => {
  test('a kit that comes, changes and goes counts as on a disk', async () => {
    await client.begin(folder, {}, undefined, { files: [] });
    await client.open(uri, spinning('1/50 s').replace('iso: 400', 'iso: 12800'));
    await client.findings(uri, rule('kit-not-found'));
    await client.tell(texts(kits));
    await client.findings(uri, (all) => !rule('kit-not-found')(all), client.pushed.length);
    const small = kits['kits/camera.kit.yaml']!.replace('iso: 100 to 12800', 'iso: 100 to 6400');
    await client.tell(texts({ 'kits/camera.kit.yaml': small }));
    await client.findings(uri, rule('setting-not-in-kit'), client.pushed.length);
    await client.tell([], [at('kits')]);
    await client.findings(uri, rule('kit-not-found'), client.pushed.length);
  });

  test('settings of the topmost folder count, and what ignore files take out is not checked', async () => {
    const slow = { 'films/a.shoot.yaml': spinning('1/200 s'), 'old/b.shoot.yaml': spinning('1/200 s') };
    const settings = 'rules:\n  shutter-off-half-frame: { severity: hint }\n';
    client.connection.onRequest('workspace/diagnostic/refresh', () => null);
    await begin(
      { ...slow, 'shootspec.yaml': settings, '.gitignore': 'old/\n' },
      { textDocument: { diagnostic: {} }, workspace: { diagnostics: { refreshSupport: true } } },
    );
    const { items } = await client.request<WorkspaceDiagnosticReport>('workspace/diagnostic', {
      previousResultIds: [],
    });
    const found = items.filter((one) => one.kind === 'full' && one.uri.endsWith('.shoot.yaml'));
    expect(found.map((one) => one.uri)).toEqual([at('films/a.shoot.yaml')]);
    expect(found[0]).toMatchObject({ items: [{ code: 'shutter-off-half-frame', severity: 4 }] });
  });

  test('a name is found, and renamed, in the kit that it comes from', async () => {
    const kit = 'title: Own\nlamps: { panel: { kind: led, output: 6000 lx at 1 m } }\n';
    await begin({ 'kits/own.kit.yaml': kit });
    await client.open(uri, 'title: Box\nkit: kits/own.kit.yaml\nlamps: { key: { use: panel, distance: 50 cm } }\n');
    const place = { textDocument: { uri }, position: { line: 2, character: 'lamps: { key: { use: p'.length } };
    const [definition] = await client.request<Location[]>('textDocument/definition', place);
    expect(definition!.uri).toBe(at('kits/own.kit.yaml'));
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', { ...place, newName: 'mat' });
    const changed = edit.documentChanges!.map((one) => ('textDocument' in one ? one.textDocument.uri : ''));
    expect(changed.sort()).toEqual([uri, at('kits/own.kit.yaml')]);
  });

  test('a new film begins with the kits of the folder', async () => {
    await begin({ 'shootspec.yaml': 'kit: kits/camera.kit.yaml\n', 'a.shoot.yaml': spec('') });
    expect(await client.request('shootSpec/begun', { folder })).toEqual({
      kits: Object.keys(kits).sort(),
      specs: ['a.shoot.yaml'],
      usualKits: ['kits/camera.kit.yaml'],
    });
  });

  test('a path that climbs out of the folder leads nowhere', async () => {
    await client.begin(folder, {}, undefined, {
      files: [{ uri: 'memory://works%2B1/own.kit.yaml', text: 'title: A\n' }],
    });
    await client.open(uri, 'title: Box\nkit: ../own.kit.yaml\n');
    await client.findings(uri, (all) => all.some(({ message }) => String(message).includes('climbs out')));
  });
});

describe('what is made of a plan', () => {
  test('pictures, the sheet and the page for the set, and no PDF', async () => {
    await begin();
    await client.open(uri, spinning('1/50 s'));
    const textDocument = { uri };
    const picture = await client.request<{ svg: string; root: string }>('shootSpec/picture', { textDocument });
    expect(picture.svg).toMatch(/^<svg/);
    expect(picture.root).toBe(folder);
    const lit = { textDocument, view: 'frame', isLit: true };
    expect((await client.request<{ svg: string }>('shootSpec/picture', lit)).svg).toContain('data:image/png;base64,');
    const sheet = (as: object) =>
      client.request<{ html: string } | null>('shootSpec/sheetFile', { textDocument, ...as });
    expect((await sheet({}))!.html).toContain('spin');
    // Its own script is let in by the policy.
    expect((await sheet({ for: 'set' }))!.html).toMatch(/script-src 'sha256-[A-Za-z0-9+/]{43}='/);
    expect(await sheet({ as: 'pdf' })).toBeNull();
    expect(await client.request('shootSpec/reel', { textDocument })).toEqual({
      why: 'Films are played by the editor on a computer, not by one in a browser.',
    });
  });

  test('what differs from what is saved, and from another plan', async () => {
    const saved = spinning('1/50 s');
    await begin({ 'box.shoot.yaml': saved });
    const other = at('other.shoot.yaml');
    await client.open(uri, spinning('1/100 s'));
    await client.open(other, saved.replace('2 rpm', '4 rpm'));
    const ask = (more = {}) =>
      client.request<{ markdown?: string; message?: string }>('shootSpec/compareWith', {
        textDocument: { uri },
        ...more,
      });
    expect((await ask()).markdown).toMatch(/from what is saved[\s\S]*shutter 1\/50 s → 1\/100 s/);
    expect((await ask({ other })).markdown).toMatch(/from other\.shoot\.yaml[\s\S]*4 rpm → 2 rpm/);
    await client.change(uri, 2, saved);
    expect(await ask()).toEqual({ message: 'Nothing in the plan differs.' });
    expect((await ask({ other: at('none.shoot.yaml') })).message).toMatch(/^There is nothing to compare with/);
  });
});
