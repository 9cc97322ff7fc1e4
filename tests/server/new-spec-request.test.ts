/** Asking the bundled server for the text of a new spec, as the editor's command does. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import { newSpecText } from '../../server/features/newSpec.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { checkSpec, kits } from '../helpers/workspace.ts';

let repo: DiskRepo;
let client: Client;

beforeEach(async () => {
  repo = new DiskRepo();
  client = new Client();
  await client.initialize(repo.root);
});

afterEach(async () => {
  await client.stop();
  repo.remove();
});

const path = 'kits/phone.kit.yaml';
const ask = (more: object) =>
  client.request<{ text?: string }>('shootSpec/newSpec', { title: 'Oak spinning top', ...more });

test('for a kit and a region', async () => {
  const { text } = await ask({ kit: { path, text: kits[path] }, region: 'US' });
  expect(text).toMatch(/^title: Oak spinning top\nkit: kits\/phone\.kit\.yaml\nregion: US\n/);
  expect(text).toContain('shutter: 1/60 s');
  expect(checkSpec(text!).findings.filter(({ severity }) => severity === 'error')).toEqual([]);
});

test('the settings say the region, or it has to be asked for', async () => {
  expect(await ask({ settings: 'format: 1\nregion: JP 60 Hz\n' })).toEqual({
    text: newSpecText({ title: 'Oak spinning top', mainsHz: 60 }),
  });
  expect(await ask({ settings: 'format: 1\n' })).toEqual({});
  expect(await ask({ settings: 'region: nowhere\n' })).toEqual({});
  expect(await ask({})).toEqual({});
});

test('a kit that can’t be read is none, and a region that is none counts as 50 Hz', async () => {
  const { text } = await ask({ kit: { path, text: 'lamps: {' }, region: 'nowhere' });
  expect(text).toContain('shutter: 1/50 s');
});
