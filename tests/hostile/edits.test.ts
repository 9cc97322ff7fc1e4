/**
 * Hundreds of short sequences of edits through the bundled server: sent as fast as they can be, some files closed and
 * opened in between, some questions asked and given up. Each file ends with the findings of a fresh check of its last text.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CancellationTokenSource } from 'vscode-languageserver-protocol/node';
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { LineMap } from '../../server/core/document/lines.ts';
import { oneLine } from '../../server/formats/escape.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { kits } from '../helpers/workspace.ts';
import { pageSpecs } from './corpus.ts';
import { figures } from './figures.ts';
import { edited } from './mutate.ts';
import { Random } from './random.ts';
import { checkerOf, seed, times, withoutFolder } from './sound.ts';

const sequences = figures.sequencesThroughServer * times;
const portion = 60;
/** So many files are open at a time. */
const together = 25;

const plain = pageSpecs.filter(({ files }) => Object.keys(files).length === 0);
const seeds = Array.from({ length: sequences / portion }, (_, index) => seed + index);

test.each(seeds)(`${portion} sequences of edits, seed %i`, async (own) => {
  const repo = new DiskRepo(kits);
  const client = new Client();
  const random = new Random(own);
  await client.initialize(repo.root);
  const all = fc.sample(edited(plain, 2, 4), { numRuns: portion, seed: own });
  for (let from = 0; from < all.length; from += together) {
    const files = all.slice(from, from + together).map(({ text, versions }, index) => ({
      uri: repo.uri(`${from + index}.shoot.yaml`),
      texts: [text, ...versions].map(sendable),
    }));
    const pushed = client.pushed.length;
    const asked = files.map(({ uri, texts }) => type(client, uri, texts, random));
    await Promise.all(asked);
    for (const { uri, texts } of files) {
      const last = texts.at(-1)!;
      const expected = freshly(last);
      const { diagnostics } = await client.findings(uri, (_, version) => version === 10 * texts.length, pushed);
      expect({ last, found: diagnostics.map(ofDiagnostic) }).toEqual({ last, found: expected });
      void client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    }
  }
  await client.stop();
  repo.remove();
});

/** Sends a file and its edits without waiting for anything; answers when all that was asked is answered. */
async function type(client: Client, uri: string, texts: readonly string[], random: Random): Promise<unknown> {
  const textDocument = { uri };
  const asked: Promise<unknown>[] = [];
  void client.open(uri, texts[0]!, 10);
  for (let index = 1; index < texts.length; index++) {
    const version = 10 * (index + 1);
    if (random.below(8) === 0) {
      void client.connection.sendNotification('textDocument/didClose', { textDocument });
      void client.open(uri, texts[index - 1]!, version - 5);
    }
    void client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [changeBetween(texts[index - 1]!, texts[index]!)],
    });
    if (random.below(4) > 0) continue;
    const cancel = new CancellationTokenSource();
    const where = { textDocument, position: { line: random.below(30), character: random.below(20) } };
    const method = random.of(['hover', 'completion', 'inlayHint', 'codeAction', 'documentSymbol'] as const);
    const range = { start: { line: 0, character: 0 }, end: where.position };
    const question = { ...where, range, context: { diagnostics: [] } };
    asked.push(client.connection.sendRequest(`textDocument/${method}`, question, cancel.token).catch(isCancelled));
    if (random.below(2) === 0) cancel.cancel();
  }
  return Promise.all(asked);
}

function isCancelled(error: { code?: number }): void {
  if (error.code !== -32800) throw error as Error;
}

/** Half of a character has no place in UTF-8. */
function sendable(text: string): string {
  return text.replace(/\p{Cs}/gu, '\ufffd');
}

/** One replacement, as small as it can be without cutting through a character or a line end. */
function changeBetween(before: string, after: string) {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  while (start > 0 && (/[\ud800-\udbff\r]/.test(before[start - 1]!) || /[\r]/.test(after[start - 1]!))) start--;
  let same = 0;
  while (same < most - start && before.at(-1 - same) === after.at(-1 - same)) same++;
  while (same > 0 && /[\udc00-\udfff\n]/.test(before.at(-same)!)) same--;
  const range = new LineMap(before).range({ start, end: before.length - same });
  return { range, text: after.slice(start, after.length - same) };
}

function freshly(text: string): string[] {
  const { doc, findings } = checkerOf({}).checkAs('shoot', text);
  return findings.map(({ rule, message, start, end }) =>
    ofDiagnostic({ code: rule, message: oneLine(message), range: doc.lines.range({ start, end }) }),
  );
}

function ofDiagnostic({ code, message, range: { start, end } }: Diagnostic): string {
  return `${start.line}:${start.character}-${end.line}:${end.character} ${code} ${withoutFolder(String(message))}`;
}
