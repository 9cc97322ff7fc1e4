/** Asking the server what differs in an open file from the last commit. */
import { chmodSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { URI } from 'vscode-uri';
import { commitAll, git as run, gitEnv } from '../helpers/git.ts';
import { ClientNear } from '../helpers/near-server.ts';
import { Client, DiskRepo, type StreamClient } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const path = 'films/box.shoot.yaml';
const box = spec(
  'shots:\n  reveal: { record: 12 s, camera: { shutter: 1/50 s } }\ncut:\n  - { shot: reveal, length: 10 s }\n',
);
const fast = box.replace('{ shutter: 1/50 s }', '{ shutter: 1/100 s }');

const line = /^- \*\*reveal\*\*: shutter 1\/50 s → 1\/100 s, 180° → 90°, 1 stop darker/m;
const same = { message: 'Nothing in the plan differs from the last commit.' };

type Answer = { markdown?: string; message?: string } | null;

let repo: DiskRepo;
let client: StreamClient & { stop(): Promise<void> };

beforeEach(() => {
  for (const name of ['GIT_CONFIG_GLOBAL', 'GIT_CONFIG_NOSYSTEM']) vi.stubEnv(name, gitEnv[name]);
  repo = new DiskRepo({ 'shootspec.yaml': 'format: 1\n', [path]: box });
});
afterEach(async () => {
  vi.unstubAllEnvs();
  await client.stop();
  repo.remove();
});

const git = (...args: string[]) => run(repo.root, ...args);

/** What the server answers, once a file is open with a text. */
function ask(text: string, uri?: string, folder?: string): Promise<Answer> {
  client = new ClientNear();
  return begin(text, uri, folder);
}

async function begin(text: string, uri = repo.uri(path), folder = repo.root): Promise<Answer> {
  await client.initialize(folder);
  await client.open(uri, text);
  return again(uri);
}

function again(uri = repo.uri(path)): Promise<Answer> {
  return client.request<Answer>('shootSpec/compare', { textDocument: { uri } });
}

describe('against the last commit', () => {
  beforeEach(() => commitAll(repo.root));

  test('it is the text in the editor that counts, saved or not', async () => {
    const { markdown } = (await ask(fast))!;
    expect(markdown).toMatch(/^What differs in the editor, .* \(`[0-9a-f]{8}`\)\.\n\n### films\/box\.shoot\.yaml\n/);
    expect(markdown).toMatch(line);
    expect(markdown).toMatch(/^Findings: \d+ new, 0 gone, \d+ kept\.$/m);
    await client.change(repo.uri(path), 2, box);
    expect(await again()).toEqual(same);
  });

  test('a comment is no change of the plan', async () => {
    expect(await ask(`# a first draft\n${box}`)).toEqual(same);
  });

  test('each version is seen with its kits, those in the editor too', async () => {
    const kit = readFileSync(join(repo.root, 'kits/camera.kit.yaml'), 'utf8');
    const brighter = kit.replace(/output: ([\d.]+) lx at 1 m/g, (_, lux) => `output: ${2 * Number(lux)} lx at 1 m`);
    expect(await ask(box)).toEqual(same);
    await client.open(repo.uri('kits/camera.kit.yaml'), brighter, 1, 'shoot-kit');
    expect((await again())!.markdown).toMatch(/^- \*\*reveal\*\*: .*brighter; light on the subject/m);
    git('rm', '-q', '--cached', 'kits/camera.kit.yaml');
    git('commit', '-qm', 'y');
    expect((await again())!.markdown).toMatch(/Gone\*\*\n\n- error The kit .*kits\/camera\.kit\.yaml/);
  });

  test('each version is seen with its settings', async () => {
    const nowhere = box.replace(/^region: .*\n/m, '');
    repo.write(path, nowhere);
    repo.write('films/shootspec.yaml', 'region: US\n');
    commitAll(repo.root);
    repo.write('films/shootspec.yaml', 'region: DE\n');
    expect((await ask(nowhere))!.markdown).toContain('**film**: region US → DE');
  });

  test('what was agreed to is held against its commit, in a folder that is trusted', async () => {
    const commit = readFileSync(
      join(repo.root, '.git', readFileSync(join(repo.root, '.git/HEAD'), 'utf8').slice(5).trim()),
      'utf8',
    );
    const shorter = box.replace('length: 10 s }', 'length: 8 s }');
    const agreed = `${shorter}agreed: { who: Ada, day: 2026-11-20, revision: "${commit.slice(0, 10)}" }\n`;
    const changed = ({ code, message }: Diagnostic) =>
      code === 'changed-since-agreed' && String(message).includes('10 s → 8 s');
    client = new ClientNear();
    await client.initialize(repo.root, {}, undefined, { trusted: false });
    await client.open(repo.uri(path), agreed);
    expect((await client.findings(repo.uri(path))).diagnostics.some(changed)).toBe(false);
    await client.connection.sendNotification('shootSpec/trusted');
    await client.findings(repo.uri(path), (all) => all.some(changed));
  });

  test('a text that can’t be read now is said to be so', async () => {
    expect((await ask('title: [\n'))!.markdown).toContain('The file can not be read now.');
  });

  test('a file that is new since then', async () => {
    const uri = repo.uri('films/new.shoot.yaml');
    expect((await ask(fast, uri))!.message).toMatch(/^This file is new: /);
    repo.write('films/new.shoot.yaml', fast);
    git('add', '-A');
    expect((await again(uri))!.message).toMatch(/^This file is new: /);
  });

  test('a file that was moved is compared with what it was', async () => {
    git('mv', path, 'films/music-box.shoot.yaml');
    const { markdown } = (await ask(fast, repo.uri('films/music-box.shoot.yaml')))!;
    expect(markdown).toMatch(/^### films\/music-box\.shoot\.yaml, was films\/box\.shoot\.yaml$/m);
    expect(markdown).toMatch(line);
  });

  test('a file that is gone from the disk, but still open', async () => {
    rmSync(join(repo.root, path));
    expect((await ask(fast))!.markdown).toMatch(line);
  });

  test('a version that is too large or leads out is not read', async () => {
    repo.write('films/large.shoot.yaml', `# ${'x'.repeat(1 << 20)}\n`);
    symlinkSync('/etc/hosts', join(repo.root, 'films/out.shoot.yaml'));
    commitAll(repo.root);
    expect((await ask(fast, repo.uri('films/large.shoot.yaml')))!.message).toMatch(/too large, or a link/);
    await client.open(repo.uri('films/out.shoot.yaml'), fast);
    expect((await again(repo.uri('films/out.shoot.yaml')))!.message).toMatch(/too large, or a link/);
  });

  test('the settings above the folder that is open count for neither version', async () => {
    repo.write('shootspec.yaml', 'region: US\n');
    const nowhere = box.replace(/^region: .*\n/m, '');
    repo.write(path, nowhere);
    renameSync(join(repo.root, 'kits'), join(repo.root, 'films/kits'));
    commitAll(repo.root);
    expect(await ask(nowhere, repo.uri(path), join(repo.root, 'films'))).toEqual(same);
  });

  test('the folder that is open may be a link', async () => {
    const link = `${repo.root}-link`;
    symlinkSync(repo.root, link);
    try {
      const uri = URI.file(join(link, path)).toString();
      expect(await ask(box, uri, link)).toEqual(same);
      await client.change(uri, 2, fast);
      expect((await again(uri))!.markdown).toMatch(line);
    } finally {
      rmSync(link);
    }
  });

  test('a repo that git was started for, and the server by it, is not the one that is meant', async () => {
    vi.stubEnv('GIT_DIR', join(repo.root, 'nowhere'));
    vi.stubEnv('GIT_INDEX_FILE', join(repo.root, 'no-index'));
    client = new Client();
    expect((await begin(fast))!.markdown).toMatch(line);
  });
});

test('the folder that is open may lie above the repo', async () => {
  const text = box.replace('kit: kits/', 'kit: maker/kits/');
  rmSync(join(repo.root, 'shootspec.yaml'));
  repo.write('maker/films/box.shoot.yaml', text);
  renameSync(join(repo.root, 'kits'), join(repo.root, 'maker/kits'));
  commitAll(join(repo.root, 'maker'));
  const uri = repo.uri('maker/films/box.shoot.yaml');
  expect(await ask(text, uri)).toEqual(same);
  await client.change(uri, 2, text.replace('1/50 s } }', '1/100 s } }'));
  expect((await again(uri))!.markdown).toMatch(line);
});

describe('nothing can be compared', () => {
  test('outside of every repo', async () => {
    expect((await ask(fast))!.message).toMatch(/^This folder is in no git repo/);
  });

  test('before the first commit', async () => {
    git('init', '-q');
    expect((await ask(fast))!.message).toMatch(/^Nothing has been committed in this repo yet/);
  });

  test.each([
    'untitled:Untitled-1',
    'untitled:/films/box.shoot.yaml',
    'git:/films/box.shoot.yaml?HEAD',
    'https://films.example/box.shoot.yaml',
  ])('for %s', async (uri) => {
    expect((await ask(fast, uri))!.message).toMatch(/^This file is not saved in a folder on a disk/);
  });

  test('for a file that is not open, and one that is none of ours', async () => {
    commitAll(repo.root);
    await ask(fast);
    expect(await again(repo.uri('films/other.shoot.yaml'))).toBeNull();
    await client.open(repo.uri('notes.txt'), 'x', 1, 'plaintext');
    expect(await again(repo.uri('notes.txt'))).toBeNull();
  });

  test('without git', async () => {
    commitAll(repo.root);
    vi.stubEnv('PATH', repo.root);
    expect(await ask(fast)).toEqual({ message: 'This needs git, and it is not there.' });
  });

  test('while git does not answer; whatever else is asked is answered meanwhile', async () => {
    commitAll(repo.root);
    chmodSync(repo.write('bin/git', '#!/bin/sh\nexec sleep 60\n'), 0o755);
    vi.stubEnv('PATH', `${join(repo.root, 'bin')}:${process.env['PATH']}`);
    client = new ClientNear();
    await client.initialize(repo.root);
    await client.open(repo.uri(path), fast);
    let answered = false;
    const answer = again().finally(() => (answered = true));
    const picture = await client.request('shootSpec/picture', { textDocument: { uri: repo.uri(path) } });
    expect([answered, picture]).toEqual([false, expect.objectContaining({ shot: 'reveal' })]);
    expect((await answer)!.message).toMatch(/^Git did not answer in time/);
  });

  test('in a folder that belongs to somebody else', async () => {
    commitAll(repo.root);
    vi.stubEnv('GIT_TEST_ASSUME_DIFFERENT_OWNER', '1');
    expect((await ask(fast))!.message).toMatch(/^This folder belongs to somebody else/);
  });
});

describe('git is run safely', () => {
  // A command in a name would run where git is started, or in the repo.
  const traces = () =>
    [repo.root, dirname(process.execPath)].flatMap((folder) => readdirSync(folder).filter((name) => name === 'pwned'));

  test.each([
    '--output=pwned',
    '-x',
    '$(touch pwned)',
    '; touch pwned #',
    '"\'`touch pwned`',
    'two\nlines',
    ':(glob)*',
    'a%2Fb ü \\ *',
  ])('a name like %j is a name and nothing else', async (name) => {
    const odd = `${name}/${name}.shoot.yaml`;
    repo.write(odd, box);
    commitAll(repo.root);
    const { markdown } = (await ask(fast, repo.uri(odd)))!;
    expect(markdown).toMatch(line);
    expect(traces()).toEqual([]);
  });

  test('no program that the repo names is run', async () => {
    repo.write('.gitattributes', '*.yaml filter=own diff=own\n');
    commitAll(repo.root);
    git('mv', path, 'films/music-box.shoot.yaml');
    const program = `touch ${join(repo.root, 'pwned')}`;
    const named = ['core.fsmonitor', 'core.pager', 'core.sshCommand', 'diff.external', 'diff.own.command'];
    for (const key of [...named, 'diff.own.textconv', 'filter.own.clean', 'filter.own.smudge', 'filter.own.process'])
      git('config', key, program);
    repo.write('films/music-box.shoot.yaml', fast);
    expect((await ask(fast, repo.uri('films/music-box.shoot.yaml')))!.markdown).toMatch(line);
    expect(traces()).toEqual([]);
  });

  test('what the repo has not got is not fetched', async () => {
    commitAll(repo.root);
    git('config', 'uploadpack.allowFilter', 'true');
    const part = join(repo.root, 'part');
    git('clone', '-q', '--no-checkout', '--filter=blob:none', `file://${repo.root}`, part);
    repo.write(`part/${path}`, fast);
    run(part, 'config', 'remote.origin.uploadpack', `touch ${join(repo.root, 'pwned')}; git-upload-pack`);
    expect((await ask(fast, URI.file(join(part, path)).toString()))!.message).toMatch(/^Git could not read the repo: /);
    expect(traces()).toEqual([]);
  });
});
