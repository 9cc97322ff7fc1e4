/** Decoding on request, in the editor and on the command line, with the bundled programs. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawnClip, litBy } from '../helpers/film-clips.ts';
import { planOf } from '../helpers/filmed.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const text = `format: 1\n${sheet('takes:\n  box: { clip: C0012.MP4, judged: best }\n')}`;
const cache = mkdtempSync(join(tmpdir(), 'cache-'));
const usual = process.env['XDG_CACHE_HOME'];
let repo: DiskRepo;

beforeAll(() => {
  process.env['XDG_CACHE_HOME'] = cache;
  repo = new DiskRepo({ [specPath]: spec(planOf({ raster: '160x90' })), [sheetPath]: text });
  mkdirSync(join(repo.root, 'footage'));
  const light = litBy((frame) => 1 + 0.04 * Math.sin((2 * Math.PI * 5 * frame) / 25));
  copyFileSync(drawnClip({ seconds: 3, light }), join(repo.root, 'footage/C0012.MP4'));
});
afterAll(() => {
  if (usual === undefined) delete process.env['XDG_CACHE_HOME'];
  else process.env['XDG_CACHE_HOME'] = usual;
  repo.remove();
  rmSync(cache, { recursive: true });
});

const pulses = (found: readonly { code?: unknown }[]) => found.some(({ code }) => code === 'light-pulses');

it('says what a clip shows once it was asked for, and nothing in a folder that is not trusted', async () => {
  for (const trusted of [false, true]) {
    const client = new Client();
    await client.initialize(repo.root, {}, undefined, { trusted });
    await client.open(repo.uri(sheetPath), text, 1, 'shoot-takes');
    const params = { textDocument: { uri: repo.uri(sheetPath) } };
    const { outcome } = await client.connection.sendRequest<{ outcome: string }>('shootSpec/decode', params);
    expect(outcome).toBe(trusted ? 'done' : 'nothing');
    if (trusted) await client.findings(repo.uri(sheetPath), pulses);
    await client.stop();
  }
  expect(readdirSync(join(cache, 'shoot-spec/decoded'))).toHaveLength(1);
});

const check = (args: readonly string[], elsewhere: NodeJS.ProcessEnv = {}) => {
  const command = join(import.meta.dirname, '../../dist/cli.cjs');
  const options = { cwd: repo.root, encoding: 'utf8', env: { ...process.env, ...elsewhere } } as const;
  const { stdout } = spawnSync(process.execPath, [command, 'check', sheetPath, '--format', 'json', ...args], options);
  return (JSON.parse(stdout) as { findings: { rule: string }[] }).findings.map(({ rule }) => rule);
};

it('the command line says the same, where it is asked to', () => {
  expect(check([])).toEqual([]);
  expect(check(['--decode'])).toEqual(['light-pulses']);
});

it('without the program one finding says what was not looked at', () => {
  const nowhere = { PATH: '/nowhere' };
  expect(check(['--decode'], { ...nowhere, XDG_CACHE_HOME: join(cache, 'other') })).toEqual(['not-decoded']);
  // What was measured while it was there is known.
  expect(check(['--decode'], nowhere)).toEqual(['light-pulses']);
  expect(check([], nowhere)).toEqual([]);
});
