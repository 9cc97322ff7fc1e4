/** The bundled `shootspec` command, run as a shell would run it. */
import { schemaRules } from '../../server/core/schema/check.ts';
import { shootspec } from '../helpers/command.ts';
import { mkfifoSync } from '../helpers/fifo.ts';
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
beforeEach(() => {
  repo = new DiskRepo();
});
afterEach(() => repo.remove());

function run(...args: string[]) {
  return shootspec(args, { cwd: repo.root });
}

const fast = spec(`shots:
  spin:
    record: 12 s
    camera: { shutter: 1/200 s }
    turn: { speed: 2 rpm }
cut:
  - { shot: spin, length: 10 s }
`);

describe('check', () => {
  test('a clean spec is exit code 0', () => {
    repo.write('box.shoot.yaml', spec(''));
    expect(run('check', 'box.shoot.yaml')).toEqual({ status: 0, stdout: '1 file: no findings.\n', stderr: '' });
  });

  test('prints the place, the finding, the line with its characters marked, and the fixes', () => {
    repo.write('box.shoot.yaml', fast);
    const { status, stdout } = run('check', 'box.shoot.yaml');
    expect(status).toBe(0);
    const line = fast.split('\n').findIndex((one) => one.includes('1/200')) + 1;
    expect(stdout).toContain(`box.shoot.yaml:${line}:24 warning spin: 1/200 s at 25 is 45°`);
    expect(stdout).toContain(`  ${line} |     camera: { shutter: 1/200 s }\n`);
    expect(stdout).toContain(`|${' '.repeat(24)}^^^^^^^\n`);
    expect(stdout).toContain('  fix: Set shutter to 1/50 s');
  });

  test('warnings fail only where that is asked for: by option, or by the settings', () => {
    repo.write('box.shoot.yaml', fast);
    expect(run('check', '--fail-on', 'warning', 'box.shoot.yaml').status).toBe(1);
    repo.write('shootspec.yaml', 'fail-at: warning\n');
    expect(run('check', 'box.shoot.yaml').status).toBe(1);
    expect(run('check', '--fail-on', 'error', 'box.shoot.yaml').status).toBe(0);
  });

  test('json is one object with lines and columns from 1', () => {
    repo.write('box.shoot.yaml', fast);
    const { findings } = JSON.parse(run('check', '--format', 'json', '.').stdout) as {
      findings: Record<string, unknown>[];
    };
    const [found] = findings.filter((one) => one['rule'] === 'shutter-off-half-frame');
    const line = fast.split('\n').findIndex((one) => one.includes('1/200')) + 1;
    expect(found).toMatchObject({
      file: 'box.shoot.yaml',
      severity: 'warning',
      line,
      column: 24,
      endLine: line,
      endColumn: 31,
    });
    expect((found!['fixes'] as object[])[0]).toMatchObject({
      safe: false,
      edits: [{ line, column: 24, endLine: line, endColumn: 31, text: '1/50 s' }],
    });
  });

  test('alone it is the folder where it is run', () => {
    repo.write('films/box.shoot.yaml', fast);
    expect(run('check')).toEqual(run('check', '.'));
  });

  test('a folder without any file of ours is named', () => {
    mkdirSync(join(repo.root, 'empty'));
    const said = 'shootspec: There is no spec, kit or settings file in `empty`.\n';
    expect(run('check', 'empty')).toEqual({ status: 0, stdout: '0 files: no findings.\n', stderr: said });
  });

  test('a kit that is not there: the folder that was looked in is named', () => {
    repo.write('films/box.shoot.yaml', spec(''));
    const from = (cwd: string) => shootspec(['check'], { cwd: join(repo.root, cwd) }).stdout;
    expect(from('films')).toContain(
      'The kit `kits/camera.kit.yaml` is not there: its path starts at the folder `films`, as no `shootspec.yaml` marks ' +
        'the top folder.',
    );
    repo.write('films/shootspec.yaml', 'format: 1\n');
    expect(from('films')).toContain('starts at the folder `films`, where `shootspec.yaml` is.');
  });

  test('folders are searched, without those of packages, and links out are not followed', () => {
    repo.write('films/a.shoot.yaml', fast);
    repo.write('node_modules/x/b.shoot.yaml', fast);
    const outside = new DiskRepo({ 'c.shoot.yaml': fast });
    symlinkSync(outside.root, join(repo.root, 'films/outside'));
    const { findings } = JSON.parse(run('check', '--format', 'json', '.').stdout) as { findings: { file: string }[] };
    expect([...new Set(findings.map((one) => one.file))]).toEqual(['films/a.shoot.yaml']);
    outside.remove();
  });

  test('kit paths start at the folder of the settings file, wherever one stands', () => {
    repo.write('shootspec.yaml', 'format: 1\n');
    repo.write('films/box.shoot.yaml', spec(''));
    const { status, stdout } = shootspec(['check', 'box.shoot.yaml'], { cwd: join(repo.root, 'films') });
    expect([status, stdout]).toEqual([0, '1 file: no findings.\n']);
  });

  test('a kit that is a link out of the repo, or no ordinary file, is not opened', () => {
    const outside = new DiskRepo();
    symlinkSync(join(outside.root, 'kits/camera.kit.yaml'), join(repo.root, 'kits/link.kit.yaml'));
    mkfifoSync(join(repo.root, 'kits/pipe.kit.yaml'));
    for (const [kit, said] of [
      ['link', 'leads out of the repo'],
      ['pipe', 'no ordinary file'],
    ] as const) {
      repo.write('box.shoot.yaml', spec('').replace('kits/camera.kit.yaml', `kits/${kit}.kit.yaml`));
      const { status, stdout } = run('check', 'box.shoot.yaml');
      expect(status).toBe(1);
      expect(stdout).toContain(said);
    }
    outside.remove();
  });

  test('escapes in a spec are printed as text', () => {
    repo.write(
      'box.shoot.yaml',
      spec('')
        .replace('title: Music box', 'title: "Music\u001b[31m box"')
        .replace('lens: normal', 'lens: "nor\u001b]0;x\u0007mal"'),
    );
    const { stdout } = run('check', 'box.shoot.yaml');
    // eslint-disable-next-line no-control-regex -- none may be left
    expect(stdout).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
    expect(stdout).toContain('\\u{1b}');
  });

  test('a file over 1 MiB, an empty one and a binary one are a finding each', () => {
    repo.write('big.shoot.yaml', `title: Big\nnotes: ${'x'.repeat(1024 * 1024)}\n`);
    repo.write('empty.shoot.yaml', '');
    repo.write('binary.shoot.yaml', '\u0000\u0001\u0002PNG');
    const { findings } = JSON.parse(run('check', '--format', 'json', '.').stdout) as {
      findings: { file: string; rule: string }[];
    };
    expect(findings.map(({ file, rule }) => `${file} ${rule}`)).toEqual([
      'big.shoot.yaml spec-too-big',
      'binary.shoot.yaml not-text',
      'empty.shoot.yaml empty-file',
    ]);
  });
});

describe('wrong usage is exit code 2, and says what to do', () => {
  test.each([
    [['check', 'nowhere.shoot.yaml'], 'There is no file or folder `nowhere.shoot.yaml`'],
    [['check', 'kits/../notes.txt'], 'There is no file'],
    [['check', '--format', 'xml', '.'], '--format takes text, json'],
    [['check', '--fail-on', 'bad', '.'], '--fail-on takes error, warning, info, hint'],
    [['check', '--nonsense', '.'], 'nonsense'],
    [['chek'], 'There is no command `chek`. Did you mean `check`?'],
    [['help', 'drwa'], 'There is no command `drwa`. Did you mean `draw`?'],
    [['check', '--fomat', 'json'], "Unknown option '--fomat'. Did you mean `--format`?"],
    [['__proto__'], 'There is no command `__proto__`'],
    [['explain'], 'Say which rule'],
    [['explain', 'toString'], 'There is no rule `toString`'],
    [['explain', 'shuter-off-half-frame'], 'Did you mean `shutter-off-half-frame`?'],
    [['rules', 'color'], 'There is no family `color`. Did you mean `colour`?'],
    [['rules', 'nonsense'], 'There are time, exposure, colour'],
    [['rules', 'mixed-light'], '`shootspec explain mixed-light`'],
    [['serve'], '`shootspec serve --stdio`'],
    [['draw', 'a.shoot.yaml', '--view', 'frame', '-o', 'pictures/a.png'], 'write `-o pictures/a.svg`'],
  ])('%j', (args, said) => {
    const { status, stderr } = run(...args);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });
});

describe('help', () => {
  const commands = [
    'begin',
    'check',
    'compare',
    'rules',
    'explain',
    'compute',
    'sheet',
    'draw',
    'assemble',
    'hand-over',
    'serve',
  ];

  test.each(commands)('%s says what it takes', (name) => {
    for (const words of [
      [name, '--help'],
      [name, '-h'],
      ['help', name],
    ]) {
      const { status, stdout, stderr } = run(...words);
      expect([status, stderr]).toEqual([0, '']);
      expect(stdout).toMatch(new RegExp(`^Usage:\\n {2}shootspec ${name}\\b`));
      expect(run('help').stdout).toContain(`\n  ${name} `);
    }
  });

  test('after `--` it is a name', () => {
    expect(run('check', '--', '--help')).toMatchObject({ status: 2, stdout: '' });
  });
});

describe('rules and pages', () => {
  test('rules are listed family by family with their sources', () => {
    const { status, stdout } = run('rules');
    expect(status).toBe(0);
    expect(stdout).toMatch(/^time\n {2}shutter-off-half-frame \(warning\)\n/);
    expect(stdout).toContain('Source: ');
  });

  test('one family of them', () => {
    const { stdout } = run('rules', 'time');
    expect(stdout).toMatch(/^time\n {2}shutter-off-half-frame /);
    expect(stdout).not.toMatch(/^exposure$/m);
    const { rules } = JSON.parse(run('rules', 'time', '--format', 'json').stdout) as { rules: { family: string }[] };
    expect(new Set(rules.map(({ family }) => family))).toEqual(new Set(['time']));
  });

  test('explain says what a finding about the form means', () => {
    for (const id of [...schemaRules, 'syntax', 'accept-unused'])
      expect(run('explain', id)).toMatchObject({ status: 0, stdout: expect.stringMatching(`^# ${id}\n\n\\S`) });
  });

  test('explain prints the page', () => {
    expect(run('explain', 'shutter-off-half-frame').stdout).toMatch(
      /^# shutter-off-half-frame\n[\s\S]*## When to turn it off/,
    );
  });

  test('help and version', () => {
    expect(run('help').stdout).toContain('shootspec COMMAND');
    expect(run('version').stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});
