/** What `shootspec check` does beyond printing findings: fixing, ignoring, comparing with a baseline, watching, threads. */
import { spawn, spawnSync, type SpawnSyncOptions } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  closeSync,
  existsSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { cli, shootspec } from '../helpers/command.ts';
import { acting, hostileTexts, logCommand } from '../helpers/hostile.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
beforeEach(() => {
  repo = new DiskRepo();
});
afterEach(() => repo.remove());

const run = (args: readonly string[], options: SpawnSyncOptions = {}) =>
  shootspec(args, { cwd: repo.root, ...options });

const check = (...args: string[]) => run(['check', ...args]);

const fast = spec(`shots:
  spin:
    record: 12 s
    camera: { shutter: 1/200 s }
    turn: { speed: 2 rpm }
cut:
  - { shot: spin, length: 10 s }
`);

/** More findings than GitHub shows. */
const manyFast = spec(
  `shots:\n${Array.from(
    { length: 14 },
    (_, index) => `  s-${index}: { record: 4 s, camera: { shutter: 1/${200 + index} s }, turn: { speed: 2 rpm } }\n`,
  ).join('')}cut:\n  - { shot: s-1, length: 2 s }\n`,
);

/** An odd height has a safe fix: one line fewer (rule \`odd-dimensions\`). */
const odd = spec('').replace('raster: 1920x1080', 'raster: 1920x1081');

/** As somebody to whom permissions apply, where that is not who runs the tests; the repo is theirs. */
function asNobody(): SpawnSyncOptions {
  if (process.getuid?.() !== 0) return {};
  const nobody = 65_534;
  chmodSync(repo.root, 0o755);
  spawnSync('chown', ['-R', `${nobody}:${nobody}`, repo.root]);
  return { uid: nobody, gid: nobody };
}

const names = (stdout: string) => [
  ...new Set((JSON.parse(stdout) as { findings: { file: string }[] }).findings.map((one) => one.file)),
];

describe('--fix', () => {
  test('makes the safe fixes and reports what is left', () => {
    const file = repo.write('a.shoot.yaml', odd);
    expect(check('--fix', '.')).toEqual({ status: 0, stdout: '3 files: no findings.\n', stderr: '' });
    expect(readFileSync(file, 'utf8')).toBe(odd.replace('1920x1081', '1920x1080'));
    expect(readdirSync(repo.root).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('keeps line ends, byte order mark, comments, permissions and the link', () => {
    const text = `\ufeff${odd.replace('region: DE', 'region: DE # by the window')}`.replaceAll('\n', '\r\n');
    const file = repo.write('real/a.shoot.yaml', text);
    chmodSync(file, 0o640);
    symlinkSync(file, join(repo.root, 'link.shoot.yaml'));
    expect(check('--fix', 'link.shoot.yaml').status).toBe(0);
    expect(readFileSync(file, 'utf8')).toBe(text.replace('1920x1081', '1920x1080'));
    expect(statSync(file).mode & 0o777).toBe(0o640);
    expect(lstatSync(join(repo.root, 'link.shoot.yaml')).isSymbolicLink()).toBe(true);
  });

  test('a file that can not be fixed is said, and the others are fixed and checked', () => {
    const latin = Buffer.concat([Buffer.from(odd), Buffer.from('# caf\xe9\n', 'latin1')]);
    writeFileSync(join(repo.root, 'a.shoot.yaml'), latin);
    repo.write('kits/b.kit.yaml', `# ${'x'.repeat(1 << 20)}\n`);
    const file = repo.write('c.shoot.yaml', odd);
    const { status, stdout, stderr } = check('--fix', '.');
    expect(readFileSync(file, 'utf8')).toBe(odd.replace('1920x1081', '1920x1080'));
    expect(stderr).toBe('shootspec: `a.shoot.yaml` is not in UTF-8, so it was left as it is.\n');
    expect([status, stdout]).toEqual([2, expect.stringMatching(/larger than 1 MiB[\s\S]*5 files: /)]);
  });

  test('what breaks a file is no safe fix: words behind a colour stay a comment', () => {
    const cut = odd
      .replace('colour: "#d9d4c8", size', 'size')
      .replace('backdrop: {', 'backdrop:\n  colour: #2b1712 dark brown\n  kind: {');
    const file = repo.write('a.shoot.yaml', cut);
    expect(check('--fix', '.').stderr).toBe('');
    expect(readFileSync(file, 'utf8')).toContain('  colour: "#2b1712" # dark brown\n');
    expect(readFileSync(file, 'utf8')).toContain('1920x1080');
  });

  test('an interrupt leaves the file whole, old or new, and nothing beside it', async () => {
    for (let index = 0; index < 40; index++) repo.write(`f-${index}.shoot.yaml`, odd);
    const child = spawn(process.execPath, [cli, 'check', '--fix', '.'], { cwd: repo.root });
    const ended = once(child, 'close');
    // As soon as the first has been written.
    for (let index = 0; readFileSync(join(repo.root, 'f-0.shoot.yaml'), 'utf8') === odd && index < 3000; index++)
      await new Promise((wake) => setTimeout(wake, 2));
    child.kill('SIGINT');
    await ended;
    expect(readdirSync(repo.root).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('does not touch a file that has no safe fix', () => {
    const file = repo.write('a.shoot.yaml', fast);
    const before = statSync(file).mtimeMs;
    check('--fix', '.');
    expect([readFileSync(file, 'utf8'), statSync(file).mtimeMs]).toEqual([fast, before]);
  });

  test('leaves a file alone that is not UTF-8', () => {
    const bytes = Buffer.concat([Buffer.from(odd), Buffer.from('# caf\xe9\n', 'latin1')]);
    const file = join(repo.root, 'a.shoot.yaml');
    writeFileSync(file, bytes);
    check('--fix', '.');
    expect(readFileSync(file).equals(bytes)).toBe(true);
  });

  test('--dry-run prints a diff that git applies, and changes nothing', () => {
    const file = repo.write('a.shoot.yaml', odd);
    const { status, stdout } = check('--dry-run', '.');
    expect(status).toBe(0);
    expect(stdout).toMatch(/^--- a\/a\.shoot\.yaml\n\+\+\+ b\/a\.shoot\.yaml\n@@ /);
    expect(readFileSync(file, 'utf8')).toBe(odd);
    spawnSync('git', ['apply', '-'], { cwd: repo.root, input: stdout });
    expect(readFileSync(file, 'utf8')).toBe(odd.replace('1920x1081', '1920x1080'));
  });
});

describe('--dry-run with nothing to do', () => {
  test('says so beside the empty diff, and names no wrong exit code', () => {
    repo.write('a.shoot.yaml', fast);
    const said = 'shootspec: --fix would change nothing.\n';
    expect(check('--fix', '--dry-run', '.')).toEqual({ status: 0, stdout: '', stderr: said });
    expect(check('--dry-run', '--quiet', '.')).toEqual({ status: 0, stdout: '', stderr: '' });
  });
});

describe('--quiet', () => {
  test('says only what makes the exit code 1, and nothing where nothing does', () => {
    repo.write('a.shoot.yaml', fast);
    repo.write('b.shoot.yaml', fast.replace('shutter:', 'shuter:'));
    const { status, stdout } = check('-q', '.');
    expect(status).toBe(1);
    expect(stdout.match(/^\S+\.yaml:.*/gm)).toEqual([
      expect.stringMatching(/^b\.shoot\.yaml:\d+:\d+ error .*`shuter`/),
    ]);
    expect(check('--quiet', 'a.shoot.yaml')).toEqual({ status: 0, stdout: '', stderr: '' });
  });

  test('counts a threshold and the most warnings as without it', () => {
    repo.write('a.shoot.yaml', fast);
    expect(check('-q', '--fail-on', 'warning', '.').stdout).toContain('1/200 s');
    const tooMany = check('-q', '--max-warnings', '0', '.');
    expect([tooMany.status, tooMany.stdout]).toEqual([1, expect.stringContaining('1/200 s') as string]);
  });
});

describe('which files', () => {
  beforeEach(() => {
    for (const name of ['a', 'old/b', 'old/keep/c', 'drafts/d']) repo.write(`films/${name}.shoot.yaml`, fast);
  });

  test('ignore files take out what git would ignore, and what is ours to ignore', () => {
    repo.write('.gitignore', 'drafts/\n');
    repo.write('films/.shootspecignore', 'old/*\n!old/keep/\n');
    expect(names(check('--format', 'json', '.').stdout)).toEqual(['films/a.shoot.yaml', 'films/old/keep/c.shoot.yaml']);
  });

  test('a file that is named is checked, ignored or not', () => {
    repo.write('.gitignore', 'drafts/\n');
    expect(names(check('--format', 'json', 'films/drafts/d.shoot.yaml').stdout)).toEqual(['films/drafts/d.shoot.yaml']);
  });

  test('the ignore files above count up to the top of the checkout, and no further', () => {
    repo.write('.gitignore', 'drafts/\n');
    repo.write('films/old/.gitignore', 'keep/\n');
    mkdirSync(join(repo.root, 'films/.git'));
    expect(names(check('--format', 'json', 'films/').stdout)).toEqual([
      'films/a.shoot.yaml',
      'films/drafts/d.shoot.yaml',
      'films/old/b.shoot.yaml',
    ]);
  });

  test('patterns', () => {
    expect(names(check('--format', 'json', 'films/*/*.shoot.yaml').stdout)).toEqual([
      'films/drafts/d.shoot.yaml',
      'films/old/b.shoot.yaml',
    ]);
    expect(check('nothing/*.shoot.yaml')).toMatchObject({
      status: 2,
      stderr: 'shootspec: No spec, kit or settings file fits `nothing/*.shoot.yaml`.\n',
    });
  });

  test('the same file in two arguments is one, and the order of arguments is the order of the output', () => {
    const { stdout } = check('--format', 'json', 'films/old', 'films/a.shoot.yaml', 'films');
    expect(names(stdout)).toEqual([
      'films/old/b.shoot.yaml',
      'films/old/keep/c.shoot.yaml',
      'films/a.shoot.yaml',
      'films/drafts/d.shoot.yaml',
    ]);
  });

  test('a link to a file outside is not followed where a folder is searched', () => {
    const outside = new DiskRepo({ 'secret.shoot.yaml': fast });
    symlinkSync(join(outside.root, 'secret.shoot.yaml'), join(repo.root, 'films/link.shoot.yaml'));
    expect(names(check('--format', 'json', 'films').stdout)).not.toContain('films/link.shoot.yaml');
    outside.remove();
  });
});

describe('what is named', () => {
  const outside = () => new DiskRepo({ 'secret.shoot.yaml': odd });

  test('a link out of the repo is neither read nor fixed', () => {
    const other = outside();
    symlinkSync(join(other.root, 'secret.shoot.yaml'), join(repo.root, 'link.shoot.yaml'));
    symlinkSync(other.root, join(repo.root, 'folder'));
    mkdirSync(join(repo.root, '.git'));
    for (const path of ['link.shoot.yaml', 'folder', 'folder/secret.shoot.yaml']) {
      const { status, stdout, stderr } = check('--fix', path);
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toContain(`\`${path}\` is a link that leads out of its repo`);
    }
    expect(readFileSync(join(other.root, 'secret.shoot.yaml'), 'utf8')).toBe(odd);
    other.remove();
  });

  test('an empty path is none', () => {
    expect(check('')).toMatchObject({ status: 2, stderr: expect.stringContaining('A path is empty') });
  });

  test('what can not be looked at is said, and the rest is checked', () => {
    repo.write('a.shoot.yaml', spec(''));
    mkdirSync(Buffer.concat([Buffer.from(`${repo.root}/caf`), Buffer.from([0xe9])]));
    mkdirSync(join(repo.root, 'locked'), { mode: 0 });
    const { status, stdout, stderr } = run(['check', '.'], asNobody());
    expect([status, stdout]).toEqual([2, '3 files: no findings.\n']);
    expect(stderr).toContain("locked` can't be read: EACCES.");
    expect(stderr).toMatch(/the name `caf\ufffd` is not in UTF-8/);
  });
});

describe('a file that only lacks a name', () => {
  test('is told beside what is checked, and is no fault', () => {
    repo.write('a.shoot.yaml', spec(''));
    repo.write('films/shoot.yaml', odd);
    repo.write('films/takes.yaml', 'format: 1\n');
    repo.write('kit.yaml', 'format: 1\n');
    const passed = (file: string, name: string) => `${file} is not checked: call it NAME.${name}.\n`;
    const lines = [passed('films/shoot.yaml', 'shoot.yaml'), passed('films/takes.yaml', 'takes.yaml')];
    const stdout = `${lines.join('')}${passed('kit.yaml', 'kit.yaml')}3 files: no findings.\n`;
    expect(check('.')).toEqual({ status: 0, stdout, stderr: '' });
    expect(check('--quiet', '.')).toEqual({ status: 0, stdout: '', stderr: '' });
    repo.write('.gitignore', 'films\nkit.yaml\n');
    expect(check('.').stdout).toBe('3 files: no findings.\n');
  });

  test('is refused by its name, with the one that it needs', () => {
    repo.write('shoot.yaml', odd);
    const { status, stderr } = check('shoot.yaml');
    expect(status).toBe(2);
    expect(stderr).toContain('`shoot.yaml` is none of ours');
    expect(stderr).toContain('Rename it to `NAME.shoot.yaml`, with a name of yours.');
    expect(check('*.yaml').stdout).not.toContain('NAME');
  });
});

describe('standard input', () => {
  const piped = (...args: string[]) => run(['check', ...args], { input: fast });

  test('is checked as the file that it is said to be, with its settings', () => {
    repo.write('films/shootspec.yaml', 'rules:\n  shutter-off-half-frame: { severity: hint }\n');
    const { stdout } = piped('--format', 'json', '-', '--stdin-name', 'films/a.shoot.yaml');
    const { findings } = JSON.parse(stdout) as { findings: { file: string; rule: string; severity: string }[] };
    expect(findings.find((one) => one.rule === 'shutter-off-half-frame')).toMatchObject({
      file: 'films/a.shoot.yaml',
      severity: 'hint',
    });
  });

  test('is read no further than a file of ours goes', () => {
    const endless = spawn('sh', ['-c', `yes | "${process.execPath}" "${cli}" check - --stdin-name a.shoot.yaml`], {
      cwd: repo.root,
    });
    let seen = '';
    endless.stdout.on('data', (data: Buffer) => (seen += data.toString()));
    return once(endless, 'close').then(([status]) => {
      expect([status, seen]).toEqual([1, expect.stringContaining('larger than 1 MiB')]);
    });
  });

  test('can be shown fixed, not written', () => {
    expect(run(['check', '-', '--stdin-name', 'a.shoot.yaml', '--dry-run'], { input: odd }).stdout).toContain(
      '+++ b/a.shoot.yaml',
    );
    expect(existsSync(join(repo.root, 'a.shoot.yaml'))).toBe(false);
  });
});

/** More than a text of the runtime can hold (2²⁹ − 24 characters); it takes no room on the disk. */
describe('a file of 600 MiB', () => {
  const sparse = (path: string) => truncateSync(repo.write(path, ''), 600 * 1024 * 1024);

  test('is a finding, fixed or shown fixed or named as what stands on standard input, and the others are fixed', () => {
    sparse('a.shoot.yaml');
    const file = repo.write('b.shoot.yaml', odd);
    const dry = check('--dry-run', '.');
    expect([dry.status, dry.stdout, dry.stderr]).toEqual([1, expect.stringContaining('+++ b/b.shoot.yaml'), '']);
    const { status, stdout, stderr } = check('--fix', '.');
    expect([status, stdout, stderr]).toEqual([1, expect.stringMatching(/^a\.shoot\.yaml:.*larger than 1 MiB/), '']);
    expect(readFileSync(file, 'utf8')).toBe(odd.replace('1920x1081', '1920x1080'));
    const input = openSync(join(repo.root, 'a.shoot.yaml'), 'r');
    expect(run(['check', '-', '--stdin-name', 'a.shoot.yaml'], { stdio: [input, 'pipe', 'pipe'] })).toMatchObject({
      status: 1,
      stdout: expect.stringContaining('larger than 1 MiB'),
      stderr: '',
    });
    closeSync(input);
  });

  test('is no baseline', () => {
    sparse('known.json');
    repo.write('a.shoot.yaml', fast);
    const { status, stderr } = check('--baseline', 'known.json', 'a.shoot.yaml');
    expect([status, stderr]).toEqual([
      2,
      'shootspec: `known.json` is larger than any baseline; --write-baseline writes it anew.\n',
    ]);
  });
});

describe('thresholds', () => {
  test('--max-warnings', () => {
    repo.write('a.shoot.yaml', fast);
    const { findings } = JSON.parse(check('--format', 'json', '.').stdout) as { findings: { severity: string }[] };
    const warnings = findings.filter((one) => one.severity === 'warning').length;
    expect(warnings).toBeGreaterThan(0);
    expect(check('--max-warnings', `${warnings}`, '.').status).toBe(0);
    const over = check('--max-warnings', `${warnings - 1}`, '.');
    expect([over.status, over.stderr]).toEqual([
      1,
      `shootspec: ${warnings} warnings, and --max-warnings allows ${warnings - 1}.\n`,
    ]);
  });

  test('each file has the threshold of its folder', () => {
    repo.write('shootspec.yaml', 'format: 1\n');
    repo.write('drafts/a.shoot.yaml', fast);
    expect(check('.').status).toBe(0);
    repo.write('client/shootspec.yaml', 'fail-at: warning\n');
    expect(check('.').status).toBe(0);
    repo.write('client/a.shoot.yaml', fast);
    expect(check('.').status).toBe(1);
    expect(check('drafts').status).toBe(0);
  });
});

describe('--baseline', () => {
  test('what was there does not count, what is new does, what is gone is told', () => {
    repo.write('shootspec.yaml', 'format: 1\n');
    repo.write('films/a.shoot.yaml', fast);
    expect(check('--fail-on', 'warning', 'films').status).toBe(1);
    const first = check('--baseline', 'ci/known.json', '--write-baseline', 'films');
    expect(first.status).toBe(2);
    mkdirSync(join(repo.root, 'ci'));
    check('--baseline', 'ci/known.json', '--write-baseline', 'films');
    const later = () => check('--fail-on', 'warning', '--baseline', 'ci/known.json', 'films');
    expect(later()).toMatchObject({ status: 0, stdout: expect.stringContaining('known from the baseline') });

    // Lines above do not matter, nor where one stands.
    repo.write('films/a.shoot.yaml', `# moved\n\n${fast}`);
    expect(later().status).toBe(0);
    expect(
      run(['check', '--fail-on', 'warning', '--baseline', '../ci/known.json', '.'], { cwd: join(repo.root, 'films') })
        .status,
    ).toBe(0);

    // A second shot with the same fault is new.
    repo.write('films/b.shoot.yaml', fast);
    expect(later().status).toBe(1);

    repo.write('films/b.shoot.yaml', spec(''));
    repo.write('films/a.shoot.yaml', fast.replace('1/200 s', '1/50 s'));
    const { stdout } = later();
    expect(stdout).toContain('In the baseline, but no longer found');
    expect(stdout).toContain('../films/a.shoot.yaml shutter-off-half-frame');
    const written = readFileSync(join(repo.root, 'ci/known.json'), 'utf8');
    check('--baseline', 'ci/known.json', '--write-baseline', 'films');
    expect(readFileSync(join(repo.root, 'ci/known.json'), 'utf8')).not.toBe(written);
    expect(later().stdout).not.toContain('no longer found');
  });

  test('is the same file whatever the order of the arguments', () => {
    for (const name of ['a', 'b', 'c']) repo.write(`${name}.shoot.yaml`, fast);
    check('--baseline', '1.json', '--write-baseline', 'a.shoot.yaml', 'b.shoot.yaml', 'c.shoot.yaml');
    check('--baseline', '2.json', '--write-baseline', 'c.shoot.yaml', 'a.shoot.yaml', 'b.shoot.yaml');
    const [one, two] = ['1.json', '2.json'].map((name) => readFileSync(join(repo.root, name), 'utf8'));
    expect(one).toBe(two);
    expect(one).not.toContain('line');
  });

  test('a file that is none is said to be none', () => {
    repo.write('known.json', '{"entries": [{"file": 1}]}');
    expect(check('--baseline', 'known.json', '.')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('is no baseline'),
    });
    expect(check('--baseline', 'nowhere.json', '.')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('There is no baseline'),
    });
  });
});

describe('what is printed', () => {
  test('--output writes a file, whole, and prints nothing', () => {
    repo.write('a.shoot.yaml', fast);
    const printed = check('--format', 'sarif', '.').stdout;
    expect(check('--format', 'sarif', '--output', 'out.sarif', '.')).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(readFileSync(join(repo.root, 'out.sarif'), 'utf8')).toBe(printed);
    expect(check('--output', 'no/such/folder/out', '.')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining("can't be written"),
    });
  });

  test('of a long line only what is around the finding is printed, and of a long value only its start', () => {
    const long = 'x'.repeat(500_000);
    repo.write(
      'a.shoot.yaml',
      odd.replace('lens: normal', `lens: ${long}`).replace('{ material: paper', `{ ${long}: 1, material: paper`),
    );
    repo.write('b.shoot.yaml', fast);
    for (const format of ['text', 'json', 'github', 'sarif', 'junit', 'gitlab']) {
      const { status, stdout } = check('--format', format, '.');
      expect(status).toBe(1);
      expect(stdout.length, format).toBeLessThan(100_000);
      expect(/x{250}/.exec(stdout), format).toBeNull();
      expect(stdout).toContain('shutter-off-half-frame');
    }
    expect(check('.').stdout).toMatch(/^ {2}\d+ \| .{80,400}x…$/m);
  });

  test('the summary of a step holds what is more than GitHub shows', () => {
    repo.write('a.shoot.yaml', manyFast);
    const file = repo.write('summary.md', 'before\n');
    const { stdout } = run(['check', '--format', 'github', '.'], {
      env: { ...process.env, GITHUB_STEP_SUMMARY: file },
    });
    expect(stdout.match(/^::warning/gm)).toHaveLength(10);
    expect(readFileSync(file, 'utf8')).toMatch(
      /^before\n### Findings that are not shown[\s\S]*a\.shoot\.yaml:\d+ \| warning \| s-/,
    );
  });

  test('what reads an output at the top of the repo finds files from there, wherever the command was run', () => {
    mkdirSync(join(repo.root, '.git'));
    repo.write('shootspec.yaml', 'format: 1\n');
    repo.write('films/a.shoot.yaml', fast);
    const baseline = ['--baseline', '../known.json'];
    const inside = (format: string, ...more: string[]) =>
      run(['check', '--format', format, ...more], { cwd: join(repo.root, 'films') }).stdout;
    const places: Readonly<Record<string, RegExp>> = {
      github: /^::warning file=films\/a\.shoot\.yaml,/m,
      sarif: /"uri": "films\/a\.shoot\.yaml"/,
      junit: /<testsuite name="films\/a\.shoot\.yaml"/,
      gitlab: /"path": "films\/a\.shoot\.yaml"/,
      // For people, and for what people start where they are.
      text: /^a\.shoot\.yaml:\d/m,
      json: /"file": "a\.shoot\.yaml"/,
    };
    for (const [format, place] of Object.entries(places)) expect(inside(format), format).toMatch(place);
    expect(inside('gitlab')).toBe(check('--format', 'gitlab').stdout);
    // A baseline is of its own folder in each of them.
    expect(inside('github', ...baseline, '--write-baseline')).toBe('1 file: no findings.\n');
    expect(inside('text', ...baseline)).toContain('known from the baseline');
  });

  test('people are told of the fixes that programs are given, and of no others', () => {
    const draft = (...more: string[]) =>
      run(['check', 'first-draft.shoot.yaml', ...more], { cwd: join(import.meta.dirname, '../../sample-workspace') })
        .stdout;
    const { findings } = JSON.parse(draft('--format', 'json')) as { findings: { fixes: { title: string }[] }[] };
    const titles = [...draft().matchAll(/^ {2}fix: (.*)$/gm)].map(([, title]) => title);
    expect(titles).toEqual(findings.flatMap(({ fixes }) => fixes.map(({ title }) => title)));
    expect(titles.length).toBeGreaterThan(10);
  });

  test('no colours where it is piped, and none on a terminal that wants none', () => {
    repo.write('a.shoot.yaml', fast);
    expect(run(['check', '.'], { env: { ...process.env, FORCE_COLOR: '1' } }).stdout).not.toContain('\u001b');
    // `script` gives the command a terminal of its own.
    const onTerminal = (env: object) =>
      spawnSync('script', ['-qec', `"${process.execPath}" "${cli}" check .`, '/dev/null'], {
        cwd: repo.root,
        encoding: 'utf8',
        env: { ...process.env, TERM: 'xterm', NO_COLOR: '', ...env },
      });
    const terminal = onTerminal({});
    if (terminal.error) return;
    expect(terminal.stdout).toContain('\u001b[33mwarning');
    // A slow machine shows how far it is meanwhile, which moves the cursor and has no colour.
    // eslint-disable-next-line no-control-regex -- colours are control characters
    expect(onTerminal({ NO_COLOR: '1' }).stdout).not.toMatch(/\u001b\[[\d;]*m/);
  });

  test('nothing in a spec or the name of a file acts in any format', () => {
    for (const [index, text] of hostileTexts.entries()) {
      const scalar = JSON.stringify(text);
      repo.write(
        `${index}.shoot.yaml`,
        fast
          .replace('title: Music box, a first look', `title: ${scalar}\nx-y: ${scalar}`)
          .replace('lens: normal', `lens: ${scalar}`),
      );
    }
    repo.write('::error::\u001b[31m\u202e.shoot.yaml', fast);
    repo.write('raw.shoot.yaml', `title: \u001b[31m\u202e\n::error::x\n##[error]\n`);
    for (const format of ['text', 'json', 'sarif', 'junit', 'gitlab', 'github']) {
      const { stdout, status } = check('--format', format, '.');
      expect(status).toBe(1);
      expect(stdout).not.toMatch(acting);
      if (format === 'github')
        expect(
          stdout.split('\n').every((line) => /^(?:::(?:error|warning|notice) file=|\d+ files: |$)/.test(line)),
        ).toBe(true);
      else expect(stdout).not.toMatch(logCommand);
    }
  });
});

describe('the same bytes', () => {
  test('in another time zone and language, with the arguments turned round, with one thread and with several', () => {
    const files = Array.from({ length: 70 }, (_, index) => `f${index % 7}/s-${index}.shoot.yaml`);
    for (const [index, file] of files.entries()) repo.write(file, fast.replace('1/200 s', `1/${101 + index} s`));
    const one = ['--threads', '1'];
    const several = ['--threads', '3'];
    const other = { ...process.env, TZ: 'Pacific/Kiritimati', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' };
    // Every format is made of the same reports, and this one tries no fixes.
    const args = ['check', '--format', 'text', '.'];
    const first = run([...args, ...several]);
    expect(first.stdout.length).toBeGreaterThan(1000);
    expect(run([...args, ...one], { env: other }).stdout).toBe(first.stdout);
    const sorted = (...args: string[]) =>
      check('--format', 'github', ...args)
        .stdout.split('\n')
        .sort();
    expect(sorted(...[...files].reverse())).toEqual(sorted(...files));
  });
});

describe('--watch', () => {
  function watching(path: string) {
    const child = spawn(process.execPath, [cli, 'check', '--watch', path], { cwd: repo.root });
    let seen = '';
    child.stdout.on('data', (data: Buffer) => (seen += data.toString()));
    child.stderr.on('data', (data: Buffer) => (seen += data.toString()));
    const until = async (text: string) => {
      // Once it says that it watches, it does; that and what it finds come through two pipes, in any order.
      const isThere = () => seen.includes(text) && seen.includes('Watching for changes.\n');
      for (const end = Date.now() + 60_000; !isThere() && Date.now() < end;)
        await new Promise((wake) => setTimeout(wake, 20));
      if (!isThere()) throw new Error(`no \`${text}\` in: ${seen}`);
      seen = '';
    };
    return { child, until };
  }

  test('goes on when a file can not be read any more, or is gone', async () => {
    const file = repo.write('films/a.shoot.yaml', spec(''));
    const { child, until } = watching('films/a.shoot.yaml');
    await until('1 file: no findings.');
    rmSync(file);
    await until('There is no file');
    mkdirSync(file);
    rmSync(file, { recursive: true });
    repo.write('films/a.shoot.yaml', fast);
    await until('shutter-off-half-frame');
    expect(child.exitCode).toBeNull();
    child.kill();
  });

  test('checks again when a paper comes, and when files are ignored', async () => {
    const rights = 'rights:\n  song: { kind: music, covers: [film], proof: rights/song.pdf }\n';
    repo.write('rights/notes.txt', 'x');
    repo.write('films/a.shoot.yaml', spec(rights));
    const { child, until } = watching('films');
    await until('rights/song.pdf');
    repo.write('rights/song.pdf', 'x');
    await until('1 file');
    repo.write('films/.shootspecignore', '*.shoot.yaml\n');
    await until('0 files');
    child.kill();
  });

  test('checks again when a spec, a kit or a new folder changes', async () => {
    repo.write('films/a.shoot.yaml', spec(''));
    const { child, until } = watching('films');
    await until('1 file: no findings.');
    repo.write('films/a.shoot.yaml', fast);
    await until('shutter-off-half-frame');
    // Moved in, so that nobody sees the folder without its file.
    repo.write('new/b.shoot.yaml', fast);
    renameSync(join(repo.root, 'new'), join(repo.root, 'films/new'));
    await until('films/new/b.shoot.yaml');
    repo.write('films/new/b.shoot.yaml', spec('').replace('lens: normal', 'lens: nowhere'));
    await until('nowhere');
    child.kill();
  });
});

describe('a reader that is gone before the end', () => {
  /** Runs the command with a reader that closes its end at once. */
  async function unread(...args: string[]) {
    const child = spawn(process.execPath, [cli, 'check', ...args], { cwd: repo.root });
    child.stdout.destroy();
    let stderr = '';
    child.stderr.on('data', (data: Buffer) => (stderr += data.toString()));
    const [status] = (await once(child, 'close')) as [number];
    return { status, stderr };
  }

  test('is no fault, and the exit code is that of the findings', async () => {
    repo.write('a.shoot.yaml', fast);
    expect(await unread('.')).toEqual({ status: 0, stderr: '' });
    expect(await unread('--fail-on', 'warning', '.')).toEqual({ status: 1, stderr: '' });
  });

  test('ends the watching', async () => {
    repo.write('a.shoot.yaml', fast);
    expect(await unread('--watch', '.')).toEqual({ status: 0, stderr: 'Watching for changes.\n' });
  });
});

describe('what the system refuses', () => {
  test('a file that can not be read is a finding, and the others are checked and fixed', () => {
    chmodSync(repo.write('a.shoot.yaml', fast), 0);
    repo.write('b.shoot.yaml', fast.replace('raster: 1920x1080', 'raster: 1920x1081'));
    const files = ['a.shoot.yaml', 'b.shoot.yaml'];
    const { status, stdout, stderr } = run(['check', '--fix', ...files], asNobody());
    expect([status, stderr]).toEqual([1, '']);
    expect(stdout).toMatch(/^a\.shoot\.yaml:1:1 error This file can't be read \(E\w+\)/);
    expect(stdout).toContain('[shutter-off-half-frame]');
    expect(stdout).not.toContain('odd-dimensions');
    const dry = run(['check', '--dry-run', ...files], asNobody());
    expect(dry).toMatchObject({ status: 1, stderr: expect.stringMatching(/a\.shoot\.yaml` can't be read: E\w+\.\n$/) });
  });

  test('is said in one line with its path, and never as a fault of ours', () => {
    repo.write('a.shoot.yaml', fast);
    const said = (...args: string[]) => {
      const { status, stderr } = check(...args);
      return [status, stderr.split('\n').length, stderr];
    };
    if (existsSync('/dev/full')) {
      const full = openSync('/dev/full', 'w');
      expect(run(['check', 'a.shoot.yaml'], { stdio: ['ignore', full, 'pipe'] })).toMatchObject({
        status: 2,
        stderr: expect.stringMatching(/^shootspec: The system could not do it: ENOSPC.*\n$/),
      });
      closeSync(full);
    }
    expect(said('--baseline', 'kits', 'a.shoot.yaml')).toEqual([2, 2, "shootspec: `kits` can't be read: EISDIR.\n"]);
    expect(said(`${'x'.repeat(300)}.shoot.yaml`)).toEqual([
      2,
      2,
      expect.stringContaining('could not do it: ENAMETOOLONG'),
    ]);
  });

  test('what does not come into the summary of a step is printed', () => {
    repo.write('a.shoot.yaml', manyFast);
    const file = join(repo.root, 'nowhere/summary.md');
    const env = { ...process.env, GITHUB_STEP_SUMMARY: '' };
    const { status, stdout } = run(['check', '--format', 'github', '.'], { env });
    expect(stdout.match(/^::warning/gm)).toHaveLength(14);
    expect(run(['check', '--format', 'github', '.'], { env: { ...env, GITHUB_STEP_SUMMARY: file } })).toEqual({
      status,
      stdout,
      stderr: `shootspec: \`${file}\` can't be written: ENOENT.\n`,
    });
  });
});

describe('wrong usage is exit code 2', () => {
  test.each([
    [['--fix', '-', '--stdin-name', 'a.shoot.yaml'], 'neither watched nor fixed'],
    [['-'], 'Say which file it is'],
    [['-', 'films', '--stdin-name', 'a.shoot.yaml'], 'stands alone'],
    [['.', '--stdin-name', 'a.shoot.yaml'], 'goes with `-`'],
    [['-', '--stdin-name', 'notes.txt'], 'none of ours'],
    [['--write-baseline', '.'], 'Say where the baseline is kept'],
    [['--max-warnings', 'few', '.'], '--max-warnings takes a whole number'],
    [['--format'], 'format'],
    [['--fix=yes', '.'], 'fix'],
    [['--watch', '--output', 'x', '.'], '--watch goes neither'],
    [['\u001b]31m'], '`\\u{1b}]31m`'],
  ])('%j', (args, said) => {
    const { status, stderr, stdout } = check(...args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
  });
});
