/** `shootspec compare` on files and on a git repo, and what docs/ci.md offers: the hook and the problem matcher. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { commitAll, git as run, gitEnv as env } from '../helpers/git.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const project = join(import.meta.dirname, '../..');
const bundle = join(project, 'dist/cli.cjs');

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
  const { status, stdout, stderr } = spawnSync(process.execPath, [bundle, 'compare', ...args], {
    cwd,
    env,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}

const git = (...args: string[]) => run(repo.root, ...args);
const commit = () => commitAll(repo.root);

const line = /^ {2}reveal: shutter 1\/50 s → 1\/100 s, 180° → 90°, 1 stop darker; depth of field (\S+ \S+) → \1$/m;

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
  [['--format', 'xml', 'HEAD'], '--format takes text, markdown, json'],
  [['--nonsense'], 'nonsense'],
])('wrong usage is exit code 2: %j', (args, said) => {
  const { status, stderr } = compare(args);
  expect(status).toBe(2);
  expect(stderr).toContain(said);
});

describe('the pre-commit hook', () => {
  const tryCommit = () =>
    spawnSync('git', ['commit', '-qm', 'x'], {
      cwd: repo.root,
      env: { ...env, SHOOTSPEC: `"${process.execPath}" "${bundle}"`.replaceAll('"', '') },
      encoding: 'utf8',
    });

  beforeEach(() => {
    git('init', '-q');
    git('config', 'core.hooksPath', join(project, 'hooks'));
    chmodSync(join(project, 'hooks/pre-commit'), 0o755);
    git('add', '-A');
    expect(tryCommit().status).toBe(0);
  });

  test('lets a clean spec in, and one with an error not', () => {
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
  const run = (format: string) =>
    spawnSync(process.execPath, [bundle, 'check', '--format', format, '.'], { cwd: repo.root, encoding: 'utf8' })
      .stdout;
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
