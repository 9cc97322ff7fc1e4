/** Settings files in several folders: nearest wins, field by field. */
import { describe, expect, test } from 'vitest';
import { DiskRepo } from '../helpers/server.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';
import { Store } from '../../server/browser/store.ts';
import { Revision } from '../../server/git.ts';
import { rootFor } from '../../server/node-host.ts';
import { join } from 'node:path';

const rule = 'shutter-off-half-frame';
const fast = spec(`shots:
  spin: { record: 12 s, camera: { shutter: 1/80 s }, turn: { speed: 2 rpm } }
cut:
  - { shot: spin, length: 10 s }
`);

describe('a settings file further down', () => {
  const checker = checkerFor({
    'shootspec.yaml': `region: US\nfail-at: warning\nkit: kits/camera.kit.yaml\nrules:\n  ${rule}: { severity: error, allow: 80° }\n`,
    'drafts/shootspec.yaml': `rules:\n  ${rule}: { severity: hint }\n`,
    'drafts/strict/shootspec.yaml': `fail-at: hint\nrules:\n  ${rule}: { allow: 10° }\n`,
    'broken/shootspec.yaml': 'rules: [\n',
  });
  const found = (path: string) => checker.check(path, fast)!.findings.find((finding) => finding.rule === rule);

  test('changes what it says, limit by limit, and leaves the rest', () => {
    expect(found('a.shoot.yaml')).toBeUndefined();
    expect(found('drafts/a.shoot.yaml')).toBeUndefined();
    expect(found('drafts/strict/a.shoot.yaml')?.severity).toBe('hint');
    expect(found('drafts/strict/deeper/a.shoot.yaml')?.severity).toBe('hint');
  });

  test('keeps to its folder', () => {
    expect(found('drafts-2/strict/a.shoot.yaml')).toBeUndefined();
    expect(checker.settings('drafts/strict/a.shoot.yaml').failAt).toBe('hint');
    expect(checker.settings('drafts/a.shoot.yaml').failAt).toBe('warning');
    expect(checker.settings('drafts/strict/a.shoot.yaml').region).toBe('US');
    expect(checker.settings('drafts/strict/a.shoot.yaml').kits).toEqual(['kits/camera.kit.yaml']);
  });

  test('changes nothing when it can not be read', () => {
    expect(checker.settings('broken/a.shoot.yaml').failAt).toBe('warning');
  });

  test("the editor's severities lie above all of them", () => {
    const settings = checker.settings('drafts/strict/a.shoot.yaml').with(new Map([[rule, 'info' as const]]));
    const { findings } = checker.check('drafts/strict/a.shoot.yaml', fast, settings)!;
    expect(findings.find((finding) => finding.rule === rule)?.severity).toBe('info');
  });

  test('all that were looked at are named as what the findings depend on', () => {
    const { dependsOn } = checker.check('drafts/new/a.shoot.yaml', fast)!;
    expect(dependsOn.slice(0, 3)).toEqual(['shootspec.yaml', 'drafts/shootspec.yaml', 'drafts/new/shootspec.yaml']);
  });
});

test('the root is the topmost folder with a settings file, no higher than the checkout or the folder that is open', () => {
  const repo = new DiskRepo({
    'films/new/a.shoot.yaml': '',
    'films/shootspec.yaml': '',
    'films/new/shootspec.yaml': '',
  });
  const file = join(repo.root, 'films/new/a.shoot.yaml');
  expect(rootFor(file, repo.root)).toBe(join(repo.root, 'films'));
  repo.write('shootspec.yaml', '');
  expect(rootFor(file, repo.root)).toBe(repo.root);
  expect(rootFor(file, repo.root, join(repo.root, 'films'))).toBe(join(repo.root, 'films'));
  repo.write('films/new/.git', 'gitdir: elsewhere\n');
  expect(rootFor(file, repo.root)).toBe(join(repo.root, 'films/new'));
  repo.remove();
});

test('without a settings file the root is the nearest folder with kits in the one that is open, else that one', () => {
  const repo = new DiskRepo({ 'mugs/film.shoot.yaml': '', 'mugs/kits/home.kit.yaml': '', 'bell/film.shoot.yaml': '' });
  const at = (path: string) => join(repo.root, path);
  expect(rootFor(at('mugs/film.shoot.yaml'), repo.root)).toBe(at('mugs'));
  expect(rootFor(at('mugs/kits/home.kit.yaml'), repo.root)).toBe(at('mugs'));
  expect(rootFor(at('bell/film.shoot.yaml'), repo.root)).toBe(repo.root);
  repo.write('shootspec.yaml', '');
  expect(rootFor(at('mugs/film.shoot.yaml'), repo.root)).toBe(repo.root);
  repo.remove();
});

test('so it is in a commit and in a browser', () => {
  const files = ['mugs/film.shoot.yaml', 'mugs/kits/home.kit.yaml', 'bell/film.shoot.yaml'];
  const entries = new Map(files.map((file) => [file, { mode: '100644', id: file }]));
  const revision = new Revision('/films', 'HEAD', entries, () => '');
  expect(files.map((file) => revision.rootFor(file, ''))).toEqual(['mugs', 'mugs', '']);

  const store = new Store();
  store.tell({ files: files.map((file) => ({ uri: `memory:/${file}`, text: '' })) });
  const root = store.fileOf('memory:/')!;
  const roots = files.map((file) => store.rootFor(`${root}/${file}`, root));
  expect(roots).toEqual([`${root}/mugs`, `${root}/mugs`, root]);
});
