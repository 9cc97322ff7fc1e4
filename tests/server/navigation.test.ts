/** Names, hints and links through the bundled server, as an editor asks for them. */
import { describe, expect, test } from 'vitest';
import type {
  DocumentSymbol,
  FoldingRange,
  InlayHint,
  Location,
  SymbolInformation,
  TextDocumentEdit,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { spec } from '../helpers/workspace.ts';

const film = spec(`shots:
  turn:
    record: 12 s
    turn: { speed: 2 rpm }
cut:
  - { shot: turn, length: 10 s }
`);

startsServer({ 'box.shoot.yaml': film });

/** Where a piece of the text starts, moved on by some characters. */
function position(text: string, piece: string, more = 0) {
  const before = text.slice(0, text.indexOf(piece) + more).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}

const changes = (edit: WorkspaceEdit) => edit.documentChanges as TextDocumentEdit[];

describe('names', () => {
  test('lead to the kit on disk', async () => {
    await client.initialize(repo.root);
    await client.open(uri, film);
    const [found] = await client.request<Location[]>('textDocument/definition', {
      textDocument: { uri },
      position: position(film, 'use: panel', 6),
    });
    expect(found!.uri).toBe(repo.uri('kits/camera.kit.yaml'));
  });

  test('change in open files with their version, and in the others without one', async () => {
    await client.initialize(repo.root);
    await client.open(uri, film, 4);
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', {
      textDocument: { uri },
      position: position(film, 'use: panel', 6),
      newName: 'mat',
    });
    expect(
      changes(edit).map(({ textDocument, edits }) => [textDocument.uri, textDocument.version, edits.length]),
    ).toEqual([
      [uri, 4, 1],
      [repo.uri('kits/camera.kit.yaml'), null, 2],
    ]);
  });

  test('change at the right characters of a file that begins with a byte order mark, which editors do not count', async () => {
    const kit = 'lamps: { strong: { kind: led, output: 6000 lx at 1 m } }\n';
    repo.write('kits/own.kit.yaml', `\ufeff${kit}`);
    const text = 'title: A\nkit: kits/own.kit.yaml\nlamps:\n  key: { use: strong, distance: 50 cm }\n';
    await client.initialize(repo.root);
    await client.open(uri, text);
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', {
      textDocument: { uri },
      position: position(text, 'use: strong', 6),
      newName: 'bright',
    });
    const own = changes(edit).find(({ textDocument }) => textDocument.uri === repo.uri('kits/own.kit.yaml'))!;
    const range = { start: position(kit, 'strong'), end: position(kit, 'strong', 6) };
    expect(own.edits).toEqual([{ range, newText: 'bright' }]);
  });

  test('are refused with a reason', async () => {
    await client.initialize(repo.root);
    await client.open(uri, film);
    const asked = { textDocument: { uri }, position: position(film, 'shot: turn', 7) };
    await expect(client.request('textDocument/rename', { ...asked, newName: 'none' })).rejects.toMatchObject({
      message: expect.stringContaining('word of the format'),
    });
    await expect(
      client.request('textDocument/prepareRename', { ...asked, position: { line: 0, character: 0 } }),
    ).rejects.toMatchObject({ message: expect.stringContaining('Only names') });
  });

  test('are found while another line of the file is broken, at their new places', async () => {
    await client.initialize(repo.root);
    await client.open(uri, film);
    await client.request('textDocument/documentSymbol', { textDocument: { uri } });
    const broken = film.replace('cut:\n', 'music: { tempo: [\ncut:\n');
    await client.change(uri, 2, broken);
    const found = await client.request<Location[]>('textDocument/references', {
      textDocument: { uri },
      position: position(broken, 'shot: turn', 7),
      context: { includeDeclaration: true },
    });
    expect(found.map(({ range }) => range.start)).toEqual([
      position(broken, '  turn:\n', 2),
      position(broken, 'shot: turn', 6),
    ]);
    const symbols = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } });
    expect(symbols.find((one) => one.name === 'cut')!.selectionRange.start).toEqual(position(broken, 'cut:'));
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', {
      textDocument: { uri },
      position: position(broken, 'shot: turn', 7),
      newName: 'spin',
    });
    expect(changes(edit)[0]!.edits.map((one) => one.range.start)).toEqual(found.map(({ range }) => range.start));
  });

  test('of the whole repo are found, open or not', async () => {
    await client.initialize(repo.root);
    const found = await client.request<SymbolInformation[]>('workspace/symbol', { query: 'turn' });
    expect(found.map((one) => [one.name, one.location.uri])).toContainEqual(['turn', uri]);
  });
});

describe('hints and folds', () => {
  test('stand beside their lines, in bytes where the client counts bytes', async () => {
    await client.initialize(repo.root, { general: { positionEncodings: ['utf-8'] } });
    const text = film.replace('shutter: 1/50 s', 'shutter: "1/50 s" # ö');
    await client.open(uri, text);
    const hints = await client.request<InlayHint[]>('textDocument/inlayHint', {
      textDocument: { uri },
      range: { start: { line: 0, character: 0 }, end: { line: 200, character: 0 } },
    });
    const angle = hints.find((hint) => hint.label === '180°')!;
    expect(angle.position).toEqual(position(text, '1/50 s"', 7));
  });

  test('follow the editor’s settings', async () => {
    client.connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) =>
      items.map(() => ({ hints: { shutterAngle: false } })),
    );
    await client.initialize(repo.root, { workspace: { configuration: true } });
    await client.open(uri, film);
    await client.findings(uri);
    const hints = await client.request<InlayHint[]>('textDocument/inlayHint', {
      textDocument: { uri },
      range: { start: { line: 0, character: 0 }, end: { line: 200, character: 0 } },
    });
    expect(hints.map((hint) => hint.label)).not.toContain('180°');
    expect(hints.length).toBeGreaterThan(3);
  });

  test('fold a file that is broken', async () => {
    await client.initialize(repo.root);
    await client.open(uri, `${film}\nroom: {\n  light: 3 lx\n`);
    const folds = await client.request<FoldingRange[]>('textDocument/foldingRange', { textDocument: { uri } });
    expect(folds.at(-1)).toMatchObject({ startLine: film.split('\n').length });
  });
});

test('a kit that moves takes its path in the specs along', async () => {
  const { capabilities } = await client.initialize(repo.root);
  expect(capabilities.workspace!.fileOperations!.willRename!.filters).toHaveLength(1);
  const edit = await client.request<WorkspaceEdit>('workspace/willRenameFiles', {
    files: [{ oldUri: repo.uri('kits'), newUri: repo.uri('gear') }],
  });
  expect(changes(edit).map(({ textDocument, edits }) => [textDocument.uri, edits[0]])).toEqual([
    [uri, expect.objectContaining({ newText: 'gear/camera.kit.yaml' })],
  ]);
});
