/** Clips in the editor: seen when they are copied in, and not opened in a folder that is not trusted. */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { madeClip, pictureClip } from '../helpers/clips.ts';
import { planOf } from '../helpers/filmed.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const wrongRate = pictureClip({ rate: '30000/1001' });
const text = `format: 1\n${sheet('takes:\n  box: { clip: C0012.MP4, judged: best }\n')}`;
const repos: DiskRepo[] = [];
const elsewhere = mkdtempSync(join(tmpdir(), 'elsewhere-'));
afterAll(() => {
  for (const repo of repos) repo.remove();
  rmSync(elsewhere, { recursive: true });
});

function aRepo(): DiskRepo {
  const repo = new DiskRepo({ [specPath]: spec(planOf()), [sheetPath]: text });
  repos.push(repo);
  return repo;
}

async function opened(repo: DiskRepo, options?: object, settings?: object): Promise<Client> {
  const client = new Client();
  client.connection.onRequest('workspace/configuration', () => [settings ?? {}]);
  await client.initialize(repo.root, settings ? { workspace: { configuration: true } } : {}, undefined, options);
  await client.open(repo.uri(sheetPath), text, 1, 'shoot-takes');
  return client;
}

function isOf(rule: string) {
  return ({ code }: { code?: unknown }) => code === rule;
}

const says = (rule: string) => (diagnostics: readonly { code?: unknown }[]) => diagnostics.some(isOf(rule));

it('says what a clip has as soon as it is copied in', async () => {
  const repo = aRepo();
  const client = await opened(repo);
  await client.findings(repo.uri(sheetPath), (found) => !found.some(({ code }) => String(code).startsWith('clip')));
  mkdirSync(join(repo.root, 'footage'));
  await client.findings(repo.uri(sheetPath), says('clip-not-found'));
  copyFileSync(wrongRate, join(repo.root, 'footage/C0012.MP4'));
  await client.findings(repo.uri(sheetPath), says('recorded-rate-off'));
  const inTime = madeClip('mp4', ['-i', pictureClip(), '-c', 'copy']);
  copyFileSync(inTime, join(repo.root, 'footage/C0012.MP4'));
  await client.findings(repo.uri(sheetPath), (found) => !says('recorded-rate-off')(found));
  await client.stop();
});

it('opens nothing where the folder is not trusted, until it is', async () => {
  const repo = aRepo();
  mkdirSync(join(repo.root, 'footage'));
  copyFileSync(wrongRate, join(repo.root, 'footage/C0012.MP4'));
  const client = await opened(repo, { trusted: false });
  await client.findings(repo.uri(sheetPath), () => true);
  expect(client.pushed.flatMap(({ diagnostics }) => diagnostics).filter(isOf('recorded-rate-off'))).toEqual([]);
  await client.connection.sendNotification('shootSpec/trusted');
  await client.findings(repo.uri(sheetPath), says('recorded-rate-off'));
  await client.stop();
});

it('looks where the setting of the machine says', async () => {
  const repo = aRepo();
  copyFileSync(wrongRate, join(elsewhere, 'C0012.MP4'));
  const client = await opened(repo, undefined, { footage: elsewhere });
  await client.findings(repo.uri(sheetPath), says('recorded-rate-off'));
  await client.stop();
});

it('does not follow a link that a repo has in the place of its footage', async () => {
  const repo = aRepo();
  symlinkSync(elsewhere, join(repo.root, 'footage'));
  const client = await opened(repo);
  await client.findings(repo.uri(sheetPath), () => true);
  // What it might have read would be here by now.
  await new Promise((done) => setTimeout(done, 1500));
  expect(client.pushed.at(-1)!.diagnostics.map(({ code }) => code)).toEqual([]);
  await client.stop();
});

it('lets no workspace set the folders', () => {
  const manifest = JSON.parse(readFileSync(join(import.meta.dirname, '../../package.json'), 'utf8')) as {
    contributes: { configuration: { properties: Record<string, { scope?: string }> } };
  };
  const { properties } = manifest.contributes.configuration;
  expect(['footage', 'masters'].map((one) => properties[`shootSpec.${one}`]?.scope)).toEqual(['machine', 'machine']);
});
