/** The server in a language that nobody speaks: what the rules say is longer and has accents, the rest is the same. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { textsOf } from '../../scripts/generate/texts.ts';
import { rules } from '../../server/rules/index.ts';
import { textsFor } from '../../server/translations.ts';
import { commitAll } from '../helpers/git.ts';
import { ClientNear } from '../helpers/near-server.ts';
import { Client, DiskRepo, type StreamClient } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const dist = join(import.meta.dirname, '../../dist');
const text = spec('shots:\n  spin: { record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: 1/200 s } }\n');
const rule = 'shutter-off-half-frame';

/** The programs with translations beside them, as they are in the package. */
let home: string;
let repo: DiskRepo;
let client: ClientNear;

beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), 'shoot-spec-'));
  mkdirSync(join(home, 'l10n'));
  cpSync(dist, join(home, 'dist'), { recursive: true });
  translate('qps-ploc', (template) => `⟦${accented(template)} ···⟧`);
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

beforeEach(() => {
  repo = new DiskRepo({ 'box.shoot.yaml': text });
  client = new ClientNear({ textsFor: (locale) => textsFor(join(home, 'l10n'), locale) });
});
afterEach(async () => {
  await client.stop();
  repo.remove();
});

function translate(locale: string, each: (template: string) => string): void {
  const texts = Object.fromEntries(
    Object.entries(textsOf(rules)).map(([id, templates]) => [
      id,
      Object.fromEntries(Object.entries(templates).map(([key, template]) => [key, each(template)])),
    ]),
  );
  writeFileSync(join(home, `l10n/findings.${locale}.json`), JSON.stringify(texts));
}

/** Names in braces are left as they are. */
function accented(template: string): string {
  return template.replace(/\{\w+\}|[aeiou]/g, (one) => (one.length > 1 ? one : `${one}\u0301`));
}

async function found(locale?: string, from: StreamClient = client): Promise<Diagnostic[]> {
  await from.initialize(repo.root, {}, locale);
  const uri = repo.uri('box.shoot.yaml');
  await from.open(uri, text);
  return (await from.findings(uri, (all) => all.some((one) => one.code === rule))).diagnostics;
}

const messageOf = (all: readonly Diagnostic[]) => all.find((one) => one.code === rule)!.message;

test('findings are said in the client’s language, with the numbers and names of the plan', async () => {
  const message = messageOf(await found('qps-ploc'));
  expect(message).toMatch(/^⟦spin: 1\/200 s .* ···⟧$/);
  expect(message).toContain('45°');
  expect(message).toContain('i\u0301s');
});

test('the bundled server has the translations that lie beside it', async () => {
  const bundled = new Client([], join(home, 'dist/server.cjs'));
  expect(messageOf(await found('qps-ploc-north', bundled))).toMatch(/^⟦/);
  await bundled.stop();
});

test.each(['qps-PLOC', 'qps_ploc', 'qps-ploc-north'])('`%s` is the same language', async (locale) => {
  expect(messageOf(await found(locale))).toMatch(/^⟦/);
});

test.each([undefined, 'en', 'qps', 'de-AT', '', '../l10n/findings.qps-ploc', 'x'.repeat(50)])(
  'a client of locale %j is told in English',
  async (locale) => {
    expect(messageOf(await found(locale))).toMatch(/^spin: 1\/200 s at 25 is 45° where 180° is usual/);
  },
);

test('a translation that lost a number is not used', async () => {
  translate('qps', (template) => template.replace(/\{\w+\}/, ''));
  expect(messageOf(await found('qps'))).toMatch(/^spin: 1\/200 s at 25/);
});

test.each(['{ "', 'null', '[]', '"words"'])(
  'a file of translations that is `%s` is as good as none',
  async (broken) => {
    writeFileSync(join(home, 'l10n/findings.broken.json'), broken);
    expect(messageOf(await found('broken'))).toMatch(/^spin: 1\/200 s at 25/);
  },
);

test('a fix is known by what it takes away, in every language', async () => {
  const diagnostics = await found('qps-ploc');
  const { range } = diagnostics.find((one) => one.code === rule)!;
  const textDocument = { uri: repo.uri('box.shoot.yaml') };
  const actions = await client.request<{ title: string }[]>('textDocument/codeAction', {
    textDocument,
    range,
    context: { diagnostics },
  });
  expect(actions.some(({ title }) => title.startsWith('Set shutter to 1/50 s'))).toBe(true);
});

test('two versions are compared in one language', async () => {
  commitAll(repo.root);
  await found('qps-ploc');
  const compared = { textDocument: { uri: repo.uri('box.shoot.yaml') } };
  expect(await client.request('shootSpec/compare', compared)).toEqual({
    message: 'Nothing in the plan differs from the last commit.',
  });
});

test('the command line speaks English everywhere', () => {
  const env = { ...process.env, LANG: 'qps-ploc', LC_ALL: 'qps-ploc', LANGUAGE: 'qps-ploc' };
  const args = [join(home, 'dist/cli.cjs'), 'check', 'box.shoot.yaml'];
  const { stdout } = spawnSync(process.execPath, args, { cwd: repo.root, env, encoding: 'utf8' });
  expect(stdout).toContain('spin: 1/200 s at 25 is 45°');
  expect(stdout).not.toContain('⟦');
});
