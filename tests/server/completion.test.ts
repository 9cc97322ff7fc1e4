/** Completion through the server: what a client gets that takes snippets, and one that does not. */
import { describe, expect, test } from 'vitest';
import type { CompletionItem, CompletionList, TextEdit } from 'vscode-languageserver-protocol';
import { split } from '../helpers/cursor.ts';
import { ClientNear } from '../helpers/near-server.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { spec } from '../helpers/workspace.ts';

startsServer();

/** What is offered at the cursor of a text that is open as this version. */
async function completion(marked: string, version = 1): Promise<CompletionList> {
  const { text, offset } = split(marked);
  const before = text.slice(0, offset).split('\n');
  await (version === 1 ? client.open(uri, text) : client.change(uri, version, text));
  return client.request('textDocument/completion', {
    textDocument: { uri },
    position: { line: before.length - 1, character: before.at(-1)!.length },
  });
}

const item = ({ items }: CompletionList, label: string): CompletionItem => items.find((one) => one.label === label)!;

describe('completion', () => {
  test('gives values in the order of the rules, with what they mean', async () => {
    const { capabilities } = await client.initialize(repo.root);
    expect(capabilities.completionProvider!.triggerCharacters).toContain(':');
    const list = await completion(
      spec('shots:\n  box:\n    record: 12 s\n    turn: { speed: 2 rpm }\n    camera: { shutter: ‸ }\n'),
    );
    const sorted = list.items.toSorted((a, b) => (a.sortText! < b.sortText! ? -1 : 1));
    expect(sorted[0]).toMatchObject({ label: '1/50 s', detail: expect.stringMatching(/^180°/) });
    expect(sorted.at(-1)!.detail).toContain('warning: ');
  });

  test('works at the text as it is typed, while it is broken', async () => {
    await client.initialize(repo.root);
    const good = spec('shots:\n  box: { record: 12 s }\n');
    await completion(`${good}‸`);
    const broken = `${good.replace('lens: normal\n', 'lens: ‸\n')}music: { tempo: [\n`;
    const list = await completion(broken, 2);
    expect(list.items.map(({ label }) => label)).toEqual(['normal', 'macro']);
  });

  test('gives snippets only to those who take them', async () => {
    await client.initialize(repo.root);
    const plain = item(await completion('shots:\n  ‸\n'), 'new shot');
    expect(plain.insertTextFormat).toBe(1);
    expect((plain.textEdit as TextEdit).newText).toMatch(/^close:\n    subject: product\n/);

    const other = new ClientNear();
    await other.initialize(repo.root, { textDocument: { completion: { completionItem: { snippetSupport: true } } } });
    await other.open(uri, 'shots:\n  \n');
    const list = await other.request<CompletionList>('textDocument/completion', {
      textDocument: { uri },
      position: { line: 1, character: 2 },
    });
    await other.stop();
    expect(item(list, 'new shot')).toMatchObject({
      insertTextFormat: 2,
      textEdit: { newText: expect.stringMatching(/^\$\{1:close\}:\n {4}subject: \$\{2:product\}\n/) },
    });
  });

  test('moves a line that is indented wrongly to where it belongs, counted in bytes where the client does', async () => {
    await client.initialize(repo.root, { general: { positionEncodings: ['utf-8'] } });
    const text = 'camera:\n  lens: "ö"\n       is\n';
    await client.open(uri, text);
    const list = await client.request<CompletionList>('textDocument/completion', {
      textDocument: { uri },
      position: { line: 2, character: 9 },
    });
    expect(item(list, 'iso').textEdit).toEqual({
      range: { start: { line: 2, character: 0 }, end: { line: 2, character: 9 } },
      newText: '  iso: ',
    });
  });

  test('answers at once in a long file that was just changed', async () => {
    await client.initialize(repo.root);
    const { specOf } = await import('../bench/specs.ts');
    const long = specOf(5000);
    await completion(`‸${long}`);
    const at = long.lastIndexOf('shutter: 1/50 s');
    const list = await completion(`${long.slice(0, at)}shutter: ‸${long.slice(at + 'shutter: 1/50 s'.length)}`, 2);
    expect(item(list, '1/50 s').detail).toMatch(/^180°/);
    expect(item(list, '1/96 s').detail).toContain('stutter');
  });

  test('of a file that is not open is nothing', async () => {
    await client.initialize(repo.root);
    const asked = { textDocument: { uri }, position: { line: 0, character: 0 } };
    expect(await client.request('textDocument/completion', asked)).toEqual([]);
  });
});
