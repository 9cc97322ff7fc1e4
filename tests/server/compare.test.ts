/** `shootspec compare` on files and on a git repo, and what docs/ci.md offers: the hook and the problem matcher. */
import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Checkout, usualLimitMs } from '../../server/git.ts';
import { cli, shootspec } from '../helpers/command.ts';
import { mkfifoSync } from '../helpers/fifo.ts';
import { commitAll, git as run, gitEnv as env } from '../helpers/git.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const project = join(import.meta.dirname, '../..');

let repo: DiskRepo;
beforeEach(() => {
  repo = new DiskRepo({ 'shootspec.yaml': 'format: 1\n', 'films/box.shoot.yaml': box });
});
afterEach(() => repo.remove());

const box = spec(
  'shots:\n  reveal: { record: 12 s, camera: { shutter: 1/50 s } }\ncut:\n  - { shot: reveal, length: 10 s }\n',
);
const fast = box.replace('{ shutter: 1/50 s }', '{ shutter: 1/100 s }');

function compare(args: readonly string[], cwd = repo.root) {
  return shootspec(['compare', ...args], { cwd, env });
}

const git = (...args: string[]) => run(repo.root, ...args);
const commit = () => commitAll(repo.root);

test('pictures of a shot that looks otherwise lie where they are asked for, and the text shows them from where it lies', () => {
  repo.write('old.shoot.yaml', box);
  repo.write('new.shoot.yaml', box.replace('{ shutter: 1/50 s }', '{ shutter: 1/50 s, angle: 40° }'));
  mkdirSync(join(repo.root, 'out'));
  const to = ['--format', 'markdown', '--pictures', 'out/pictures', '-o', 'out/changes.md'];
  expect(compare(['old.shoot.yaml', 'new.shoot.yaml', ...to])).toEqual({ status: 0, stdout: '', stderr: '' });
  const names = ['new-reveal-after.png', 'new-reveal-before.png'];
  expect(readdirSync(join(repo.root, 'out/pictures'))).toEqual(names);
  const text = readFileSync(join(repo.root, 'out/changes.md'), 'utf8');
  for (const name of names) expect(text).toContain(`](pictures/${name})`);
  expect(compare(['old.shoot.yaml', 'new.shoot.yaml', '--pictures', 'out']).stderr).toMatch(/`--format markdown`/);
});

/** A plan with a title of its own. */
function writePlan(file: string, title: string): string {
  writeFileSync(file, box.replace(/^title: .*$/m, `title: ${title}`));
  return file;
}

const line = /^ {2}reveal: shutter 1\/50 s → 1\/100 s, 180° → 90°, 1 stop darker$/m;

test('two files', () => {
  repo.write('films/new.shoot.yaml', fast);
  const { status, stdout } = compare(['films/box.shoot.yaml', 'films/new.shoot.yaml']);
  expect(status).toBe(0);
  expect(stdout).toMatch(/^films\/new\.shoot\.yaml\n/);
  expect(stdout).toMatch(line);
});

describe('a git repo', () => {
  beforeEach(commit);

  test('a revision against the files as they are, wherever one stands', () => {
    expect(compare(['HEAD'])).toEqual({ status: 0, stdout: 'Nothing in the plan changed.\n', stderr: '' });
    repo.write('films/box.shoot.yaml', fast);
    expect(compare(['HEAD']).stdout).toMatch(line);
    expect(compare(['HEAD'], join(repo.root, 'films')).stdout).toBe(compare(['HEAD']).stdout);
    expect(compare(['HEAD', 'kits']).stdout).toBe('Nothing in the plan changed.\n');
    expect(compare(['HEAD', 'box.shoot.yaml'], join(repo.root, 'films')).stdout).toMatch(line);
  });

  test('REVISION:PATH, and two revisions', () => {
    repo.write('films/box.shoot.yaml', fast);
    commit();
    expect(compare(['HEAD~1:films/box.shoot.yaml', 'films/box.shoot.yaml']).stdout).toMatch(line);
    expect(compare(['HEAD~1:./box.shoot.yaml', 'HEAD:films/box.shoot.yaml'], join(repo.root, 'films')).stdout).toMatch(
      line,
    );
    repo.write('films/box.shoot.yaml', box);
    expect(compare(['HEAD~1', 'HEAD']).stdout).toMatch(line);
    expect(compare(['HEAD~1']).stdout).toBe('Nothing in the plan changed.\n');
  });

  test('a kit, as it was at the revision', () => {
    const kit = readFileSync(join(repo.root, 'kits/camera.kit.yaml'), 'utf8');
    repo.write(
      'kits/camera.kit.yaml',
      kit.replace(/output: ([\d.]+) lx at 1 m/g, (_, lux) => `output: ${2 * Number(lux)} lx at 1 m`),
    );
    const { stdout } = compare(['HEAD']);
    expect(stdout).toMatch(/^films\/box\.shoot\.yaml\n[\s\S]* {2}reveal: .*brighter; light on the subject/m);
    expect(stdout).toMatch(/^kits\/camera\.kit\.yaml\n/m);
  });

  test('settings further down, as they were at the revision', () => {
    repo.write('films/box.shoot.yaml', box.replace(/^region: .*\n/m, ''));
    repo.write('films/shootspec.yaml', 'region: US\n');
    commit();
    repo.write('films/shootspec.yaml', 'region: DE\n');
    expect(compare(['HEAD']).stdout).toContain('film: region US → DE');
  });

  test('files that are new, gone, or have another name', () => {
    repo.write('films/new.shoot.yaml', fast);
    renameSync(join(repo.root, 'films/box.shoot.yaml'), join(repo.root, 'films/music-box.shoot.yaml'));
    expect(compare(['HEAD']).stdout).toContain('films/box.shoot.yaml: taken out');
    git('add', '-A');
    const { stdout } = compare(['HEAD']);
    expect(stdout).toContain('films/music-box.shoot.yaml, was films/box.shoot.yaml');
    expect(stdout).toContain('films/new.shoot.yaml: new');
  });

  test('--fail-on looks at what is new', () => {
    repo.write('films/box.shoot.yaml', fast.replace('lens: normal', 'lens: nowhere'));
    expect(compare(['HEAD']).status).toBe(0);
    expect(compare(['HEAD', '--fail-on', 'error']).status).toBe(1);
    commit();
    expect(compare(['HEAD', '--fail-on', 'hint']).status).toBe(0);
  });

  test('a link in a commit that leads out is not followed', () => {
    symlinkSync('/etc/hosts', join(repo.root, 'kits/out.kit.yaml'));
    symlinkSync('camera.kit.yaml', join(repo.root, 'kits/in.kit.yaml'));
    repo.write('films/out.shoot.yaml', box.replace('kits/camera', 'kits/out'));
    repo.write('films/in.shoot.yaml', box.replace('kits/camera', 'kits/in'));
    commit();
    const { findings } = {
      findings: (name: string) => compare([`HEAD:films/${name}.shoot.yaml`, `films/${name}.shoot.yaml`]).stdout,
    };
    expect(findings('out')).toBe('Nothing in the plan changed.\n');
    expect(findings('in')).toBe('Nothing in the plan changed.\n');
    git('rm', '-q', '--cached', 'films/out.shoot.yaml', 'films/in.shoot.yaml');
    git('commit', '-qm', 'y');
    const { stdout } = compare(['HEAD~1', 'HEAD']);
    expect(stdout).toMatch(/gone: error The kit `kits\/out\.kit\.yaml` leads out of the repo/);
    expect(stdout).not.toContain('`kits/in.kit.yaml`');
  });

  test('a link that leads out of the repo is not followed, and nothing but a file is opened', () => {
    const around = mkdtempSync(join(tmpdir(), 'around-'));
    const outside = writePlan(join(around, 'box.shoot.yaml'), 'somewhere else');
    repo.write('more/box.shoot.yaml', box);
    repo.write('films/pipe.shoot.yaml', box);
    commit();
    for (const path of ['films/box.shoot.yaml', 'films/pipe.shoot.yaml', 'more'])
      rmSync(join(repo.root, path), { recursive: true });
    symlinkSync(outside, join(repo.root, 'films/box.shoot.yaml'));
    symlinkSync(around, join(repo.root, 'more'));
    mkfifoSync(join(repo.root, 'films/pipe.shoot.yaml'));
    const all = compare(['HEAD']);
    expect(all.stdout + all.stderr).not.toContain('somewhere else');
    expect(all.stderr).toContain('`films/box.shoot.yaml` is a link that leads out of its repo, so it is left alone.');
    expect(all.stdout).toContain('films/pipe.shoot.yaml: taken out');
    const one = compare(['HEAD:films/box.shoot.yaml', 'films/box.shoot.yaml']);
    expect([one.status, one.stderr]).toEqual([2, expect.stringContaining('a link that leads out of its repo')]);
    expect(compare(['films/pipe.shoot.yaml', 'films/box.shoot.yaml']).status).toBe(2);
    rmSync(around, { recursive: true });
  });

  test.each([[['..']], [['..', 'films']], [['../around.shoot.yaml']]])(
    'a commit that no git would make, with %j in its tree, names no file outside',
    (steps) => {
      const object = (type: string, content: string | Buffer) => {
        const args = ['hash-object', '-t', type, '-w', '--stdin', '--literally'];
        return spawnSync('git', args, { cwd: repo.root, env, input: content, encoding: 'utf8' }).stdout.trim();
      };
      const tree = (mode: string, name: string, id: string) =>
        object('tree', Buffer.concat([Buffer.from(`${mode} ${name}\0`), Buffer.from(id, 'hex')]));
      const outside = writePlan(join(repo.root, '..', 'around.shoot.yaml'), 'somewhere else');
      const blob = object('blob', box);
      const names = steps.includes('../around.shoot.yaml') ? steps : [...steps, 'around.shoot.yaml'];
      const [made] = names
        .reverse()
        .reduce(
          ([id, mode]: [string, string], name): [string, string] => [tree(mode, name, id), '40000'],
          [blob, '100644'],
        );
      const id = spawnSync('git', ['commit-tree', made, '-m', 'x'], {
        cwd: repo.root,
        env,
        encoding: 'utf8',
      }).stdout.trim();
      const { stdout, stderr } = compare([id]);
      expect(stdout + stderr).not.toMatch(/somewhere else|around\.shoot/);
      rmSync(outside);
    },
  );

  test('files of another folder that the settings of the repo name for its own are not read', () => {
    const around = mkdtempSync(join(tmpdir(), 'around-'));
    writePlan(join(around, 'box.shoot.yaml'), 'somewhere else');
    commitAll(around);
    writePlan(join(around, 'box.shoot.yaml'), 'somewhere else again');
    git('config', 'core.worktree', around);
    const { status, stdout, stderr } = compare(['HEAD']);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(`The settings of this repo say that its files lie in \`${around}\``);
    rmSync(around, { recursive: true });
  });

  test('a folder of plain files that look like a repo is none', () => {
    for (const [name, text] of Object.entries({
      HEAD: 'ref: refs/heads/main\n',
      'objects/x': '',
      'refs/x': '',
      config: '[core]\n\trepositoryformatversion = 0\n\tbare = false\n\tworktree = .\n',
    }))
      repo.write(`films/${name}`, text);
    const { status, stderr } = compare(['HEAD~0'], join(repo.root, 'films'));
    expect([status, stderr]).toEqual([2, expect.stringContaining('in no git repo')]);
  });

  test('no program is run that the repo names: filter, hook, watcher, or those of a repo in it', () => {
    const touch = (what: string) => `touch '${join(repo.root, what)}'; cat`;
    const folders = [
      [join(repo.root, 'inner'), 'other'],
      [repo.root, 'x=y'],
    ] as const;
    for (const [folder, filter] of folders) {
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, 'any.shoot.yaml'), box);
      writeFileSync(join(folder, '.gitattributes'), `*.shoot.yaml filter=${filter}\n`);
      commitAll(folder);
    }
    for (const [folder, filter] of folders) {
      for (const kind of ['clean', 'process']) run(folder, 'config', `filter.${filter}.${kind}`, touch(`ran-${kind}`));
      run(folder, 'config', `filter.${filter}.required`, 'true');
      run(folder, 'config', 'core.fsmonitor', touch('ran-watcher'));
      const hook = join(folder, '.git/hooks/post-index-change');
      mkdirSync(dirname(hook), { recursive: true });
      writeFileSync(hook, `#!/bin/sh\n${touch('ran-hook')} </dev/null\n`, { mode: 0o755 });
    }
    // Of another time than git knows, so that it must look into them.
    for (const file of ['films/box.shoot.yaml', 'any.shoot.yaml', 'inner/any.shoot.yaml'])
      utimesSync(join(repo.root, file), 1, 1);
    writeFileSync(join(repo.root, 'films/box.shoot.yaml'), fast);
    expect(compare(['HEAD']).stdout).toMatch(line);
    expect(readdirSync(repo.root).filter((name) => name.startsWith('ran'))).toEqual([]);
  });

  test('nothing is fetched that the repo has not got, whoever is named for it', () => {
    const blob = spawnSync('git', ['rev-parse', 'HEAD:films/box.shoot.yaml'], {
      cwd: repo.root,
      env,
      encoding: 'utf8',
    });
    const id = blob.stdout.trim();
    rmSync(join(repo.root, '.git/objects', id.slice(0, 2), id.slice(2)));
    git('config', 'core.repositoryFormatVersion', '1');
    git('config', 'extensions.partialClone', 'origin');
    git('config', 'remote.origin.url', `ext::sh -c touch% '${join(repo.root, 'ran-transport')}'`);
    git('config', 'remote.origin.promisor', 'true');
    git('config', 'protocol.ext.allow', 'always');
    git('config', 'core.sshCommand', `touch '${join(repo.root, 'ran-ssh')}'`);
    repo.write('films/box.shoot.yaml', fast);
    const { status, stderr } = compare(['HEAD']);
    expect([status, stderr]).toEqual([2, expect.stringMatching(/^shootspec: Git could not read the repo: .*\n$/)]);
    git('config', 'remote.origin.url', 'ssh://example.invalid/x');
    expect(compare(['HEAD']).status).toBe(2);
    expect(readdirSync(repo.root).filter((name) => name.startsWith('ran'))).toEqual([]);
  });

  test('a pipe that the settings of the repo name is not waited for without end', async () => {
    mkfifoSync(join(repo.root, 'pipe'));
    appendFileSync(join(repo.root, '.git/config'), `[include]\n\tpath = ${join(repo.root, 'pipe')}\n`);
    await expect(Checkout.around(repo.root, { limitMs: 300 })).rejects.toThrow('Git did not answer in time');
    // What no one says otherwise has a limit too.
    expect(usualLimitMs).toBeLessThanOrEqual(30_000);
  });

  test('nothing of a name reaches a shell or git as an option', () => {
    for (const name of ['--output=pwned', '$(touch pwned)', 'HEAD; touch pwned', '-x'])
      expect(compare(['--', name]).status).toBe(2);
    expect(spawnSync('ls', { cwd: repo.root, encoding: 'utf8' }).stdout).not.toContain('pwned');
  });
});

test.each([
  [[], 'Say what to compare'],
  [['films/box.shoot.yaml'], 'Two files are compared'],
  [['films/box.shoot.yaml', 'nowhere.shoot.yaml'], 'There is no file `nowhere.shoot.yaml`'],
  [['HEAD'], 'in no git repo'],
  [['--format', 'xml', 'HEAD'], '--format takes text, markdown, html, json'],
  [['--nonsense'], 'nonsense'],
])('wrong usage is exit code 2: %j', (args, said) => {
  const { status, stderr } = compare(args);
  expect(status).toBe(2);
  expect(stderr).toContain(said);
});

describe('the pre-commit hook', () => {
  const tryCommit = (more: NodeJS.ProcessEnv = {}) =>
    spawnSync('git', ['commit', '-qm', 'x'], {
      cwd: repo.root,
      env: { ...env, SHOOTSPEC: `${process.execPath} ${cli}`, ...more },
      encoding: 'utf8',
    });

  beforeEach(() => {
    git('init', '-q');
    git('config', 'core.hooksPath', join(project, 'hooks'));
    chmodSync(join(project, 'hooks/pre-commit'), 0o755);
    git('add', '-A');
    git('commit', '-qm', 'x', '--no-verify');
  });

  test('lets a clean spec in, and one with an error not', () => {
    repo.write('films/box.shoot.yaml', `# Looked at again.\n${box}`);
    git('add', '-A');
    expect(tryCommit()).toMatchObject({ status: 0, stdout: '', stderr: '' });
    repo.write('films/box.shoot.yaml', box.replace('lens: normal', 'lens: nowhere'));
    git('add', '-A');
    const { status, stdout, stderr } = tryCommit();
    expect(status).not.toBe(0);
    expect(`${stdout}${stderr}`).toContain('`nowhere`');
    expect(stderr).toContain('Nothing was committed');
  });

  test('looks at what is staged, not at what lies in the folder', () => {
    repo.write('films/box.shoot.yaml', fast);
    git('add', '-A');
    repo.write('films/box.shoot.yaml', 'title: [\n');
    expect(tryCommit().status).toBe(0);
    git('add', '-A');
    repo.write('films/box.shoot.yaml', box);
    expect(tryCommit().status).not.toBe(0);
  });

  test('a kit that is taken out breaks the specs that name it', () => {
    git('rm', '-q', 'kits/camera.kit.yaml');
    expect(tryCommit().status).not.toBe(0);
  });

  test('settings that somebody put beside its temporary folder do not count', () => {
    const above = mkdtempSync(join(tmpdir(), 'above-'));
    writeFileSync(join(above, 'shootspec.yaml'), 'rules:\n  name-not-defined: { severity: off }\n');
    repo.write('films/box.shoot.yaml', box.replace('lens: normal', 'lens: nowhere'));
    git('add', '-A');
    git('rm', '-q', '--cached', 'shootspec.yaml');
    const { stdout, stderr } = tryCommit({ TMPDIR: above });
    expect(stdout + stderr).toContain('`nowhere`');
    rmSync(above, { recursive: true });
  });

  test('what the last commit had already does not stop this one', () => {
    repo.write('films/old.shoot.yaml', box.replace('lens: normal', 'lens: nowhere'));
    git('add', '-A');
    git('commit', '-qm', 'an old fault', '--no-verify');
    repo.write('films/box.shoot.yaml', fast);
    git('add', '-A');
    expect(tryCommit()).toMatchObject({ status: 0, stderr: expect.not.stringContaining('nowhere') });
  });

  test('is quiet about commits without specs', () => {
    repo.write('notes.txt', 'x\n');
    git('add', '-A');
    expect(tryCommit()).toMatchObject({ status: 0, stdout: '', stderr: '' });
  });
});

test('the problem matcher reads every finding of the text output', () => {
  repo.write('films/box.shoot.yaml', fast.replace('lens: normal', 'lens: nowhere'));
  const matcher = JSON.parse(readFileSync(join(project, 'hooks/problem-matcher.json'), 'utf8')) as {
    problemMatcher: { pattern: { regexp: string }[] }[];
  };
  const regexp = new RegExp(matcher.problemMatcher[0]!.pattern[0]!.regexp);
  const run = (format: string) => shootspec(['check', '--format', format, '.'], { cwd: repo.root }).stdout;
  const read = run('text')
    .split('\n')
    .flatMap((one) => regexp.exec(one)?.slice(1) ?? [])
    .join('\n');
  const { findings } = JSON.parse(run('json')) as {
    findings: Record<'file' | 'line' | 'column' | 'severity' | 'message' | 'rule', string>[];
  };
  expect(findings.length).toBeGreaterThan(1);
  expect(read).toBe(
    findings.map((one) => [one.file, one.line, one.column, one.severity, one.message, one.rule].join('\n')).join('\n'),
  );
});
