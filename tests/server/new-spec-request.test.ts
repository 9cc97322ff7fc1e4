/** Asking the bundled server for the text of a new spec, as the editor's command does. */
import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { mkfifoSync } from '../helpers/fifo.ts';
import { client, repo, startsServer } from '../helpers/open-near-server.ts';
import { checkerFor, checkSpec, kits, spec } from '../helpers/workspace.ts';

startsServer();
beforeEach(async () => {
  await client.initialize(repo.root);
});

const path = 'kits/phone.kit.yaml';
const ask = (more: object) =>
  client.request<{ text?: string; settings?: string }>('shootSpec/newSpec', { title: 'Oak spinning top', ...more });

test('for a kit and a region', async () => {
  const { text, settings } = await ask({ kits: [{ path, text: kits[path] }], region: 'US' });
  expect(settings).toBeUndefined();
  expect(text).toMatch(/^title: Oak spinning top\nkit: kits\/phone\.kit\.yaml\nregion: US\n/);
  expect(text).toContain('shutter: 1/60 s');
  expect(checkSpec(text!).findings).toEqual([]);
});

test('a settings file is written with it, and says the region once for all', async () => {
  const { text, settings } = await ask({ kits: [{ path, text: kits[path] }], region: 'US', withSettings: true });
  expect(settings).toMatch(/^# .*\nformat: 1\nregion: US /);
  expect(text).toMatch(/^title: Oak spinning top\nkit: kits\/phone\.kit\.yaml\n\n/);
  const files = { 'shootspec.yaml': settings!, 'kits/phone.kit.yaml': kits[path]! };
  expect(checkerFor(files).check('top.shoot.yaml', text!)?.findings).toEqual([]);
  expect(checkerFor(files).check('shootspec.yaml', settings!)?.findings).toEqual([]);
});

test('the settings say the region and the kit, or they have to be asked for', async () => {
  const settings = `format: 1\nregion: JP 60 Hz\nkit: ${path}\n`;
  const { text } = await ask({ settings, kits: [{ path, text: kits[path] }] });
  expect(text).toMatch(/^title: Oak spinning top\n\nproduct:/);
  expect(text).toContain('shutter: 1/60 s');
  expect(await ask({ settings: 'format: 1\n' })).toEqual({});
  expect(await ask({ settings: 'region: nowhere\n' })).toEqual({});
  expect(await ask({})).toEqual({});
});

test('a kit that can’t be read is none, and a region that is none counts as 50 Hz and is not settled', async () => {
  const { text, settings } = await ask({ kits: [{ path, text: 'lamps: {' }], region: 'nowhere', withSettings: true });
  expect(text).toContain('shutter: 1/50 s');
  expect(settings).not.toContain('nowhere');
});

test('what a folder has already: its kits, its specs, and what the settings name', async () => {
  const begun = (folder: string) => client.request<object>('shootSpec/begun', { folder });
  expect(await begun(repo.uri(''))).toEqual({ kits: ['kits/camera.kit.yaml', path], specs: [], usualKits: [] });
  repo.write('films/box.shoot.yaml', 'title: Box\n');
  repo.write('node_modules/x/y.kit.yaml', '');
  repo.write('shootspec.yaml', `kit: ${path}\n`);
  expect(await begun(repo.uri(''))).toEqual({
    kits: ['kits/camera.kit.yaml', path],
    specs: ['films/box.shoot.yaml'],
    usualKits: [path],
  });
  expect(await begun('memfs:/elsewhere')).toEqual({ kits: [], specs: [], usualKits: [] });
});

test('the editor is told of no kit that is outside, or no file', async () => {
  symlinkSync('/etc/hosts', join(repo.root, 'kits/out.kit.yaml'));
  mkfifoSync(join(repo.root, 'kits/pipe.kit.yaml'));
  const named = [
    '../../../etc/hosts',
    '/etc/hosts',
    'kits/out.kit.yaml',
    'kits/pipe.kit.yaml',
    'kits/none.kit.yaml',
    path,
  ];
  repo.write('shootspec.yaml', `kit: [${named.join(', ')}]\n`);
  const begun = await client.request<object>('shootSpec/begun', { folder: repo.uri('') });
  expect(begun).toMatchObject({ kits: ['kits/camera.kit.yaml', path], usualKits: [path] });
});

test('like an open film: it says what it has, and is written anew with what was answered', async () => {
  const uri = repo.uri('old.shoot.yaml');
  const textDocument = { uri };
  await client.open(uri, `${spec('')}schedule: [{ day: 2026-12-02 }]\n`, 1, 'shoot-spec');
  expect(await client.request('shootSpec/oldFilm', { textDocument })).toEqual({
    title: 'Music box, a first look',
    size: '9 x 6 x 7 cm',
    day: '2026-12-02',
  });
  const asked = { title: 'Oak top', day: '2027-03-01' };
  const made = await client.request<{ text: string }>('shootSpec/newSpecLike', { textDocument, asked });
  expect(made.text).toBe(`${spec('').replace(/^title: .*/, 'title: Oak top')}schedule: [{ day: 2027-03-01 }]\n`);
  const nowhere = { textDocument: { uri: repo.uri('none.shoot.yaml') } };
  expect(await client.request('shootSpec/oldFilm', nowhere)).toBeNull();
});
