/** A client that asks for findings, as the newest editors do, in short texts and in long ones. */
import { beforeEach, describe, expect, test } from 'vitest';
import type { CompletionList, Diagnostic } from 'vscode-languageserver-protocol';
import { CancellationTokenSource } from 'vscode-languageserver-protocol/node';
import { longText } from '../../server/handlers/completion.ts';
import { specOf } from '../bench/specs.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { spec } from '../helpers/workspace.ts';

const short = spec('');
const long = specOf(2000);
/** With a key that there is not. */
const wrong = (text: string) => `${text}nonsense: 1\n`;

startsServer();
beforeEach(async () => {
  await client.initialize(repo.root, {
    textDocument: { diagnostic: {} },
    workspace: { diagnostics: { refreshSupport: true } },
  });
  client.connection.onRequest('workspace/diagnostic/refresh', () => null);
});

/** What is answered to a pull. */
async function codes(): Promise<unknown[]> {
  const { items } = await client.request<{ items: Diagnostic[] }>('textDocument/diagnostic', { textDocument: { uri } });
  return items.map(({ code }) => code);
}

/** Is the key complained of? */
async function pulled(): Promise<boolean> {
  return (await codes()).includes('unknown-key');
}

test('the long text is one that is checked behind a key', () => expect(long.length).toBeGreaterThan(longText));

describe.each([
  ['short', short],
  ['long', long],
])('in a %s text', (_, text) => {
  test('a pull after a change is answered for the text after it', async () => {
    await client.open(uri, text);
    expect(await pulled()).toBe(false);
    await client.change(uri, 2, wrong(text));
    expect(await pulled()).toBe(true);
    await client.change(uri, 3, text);
    expect(await pulled()).toBe(false);
  });

  test('of many changes with a pull each, the last is answered for the last text', async () => {
    await client.open(uri, text);
    const answers = Array.from({ length: 6 }, async (_one, index) => {
      await client.change(uri, index + 2, index % 2 === 0 ? text : wrong(text));
      return pulled();
    });
    expect((await Promise.all(answers)).at(-1)).toBe(true);
  });

  test('a pull that is not wanted any more is answered, and the next one too', async () => {
    await client.open(uri, text);
    const cancel = new CancellationTokenSource();
    const asked = client.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri } }, cancel.token);
    cancel.cancel();
    await asked.catch((error: { code: number }) => expect(error.code).toBe(-32800));
    await client.change(uri, 2, wrong(text));
    expect(await pulled()).toBe(true);
  });

  test('a kit that is closed before it was looked at by itself counts as it is on the disk', async () => {
    await client.open(uri, text);
    const kit = repo.uri('kits/camera.kit.yaml');
    await client.open(kit, 'title: Nothing in it\n', 1, 'shoot-kit');
    expect(await codes()).toContain('name-not-defined');
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: kit } });
    expect(await codes()).not.toContain('name-not-defined');
  });

  test('a file that is closed meanwhile has the findings of the disk', async () => {
    repo.write('box.shoot.yaml', wrong(text));
    await client.open(uri, text);
    const asked = pulled();
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await asked;
    expect(await pulled()).toBe(true);
  });
});

test('in a long text, what completes half a name does not wait for the findings that are asked for at the key', async () => {
  await client.open(uri, long);
  await pulled();
  const line = long.split('\n').findIndex((one) => one.includes('takes: 3'));
  const textDocument = { uri };
  const rounds = 5;
  let atOnce = 0;
  for (let version = 2; version < 2 + rounds; version++) {
    const order: string[] = [];
    const asked = await client.atOnce(() => [
      client.change(uri, version, `${long}${'nonsense'.slice(0, version)}`),
      pulled().then(() => order.push('findings')),
      client
        .request<CompletionList>('textDocument/completion', { textDocument, position: { line, character: 4 } })
        .then(() => order.push('completion')),
    ]);
    await Promise.all(asked);
    if (order[0] === 'completion') atOnce++;
  }
  // On a machine that stands still for a while it may be the other way round once.
  expect(atOnce).toBeGreaterThan(rounds / 2);
});
