/** What is made from the table of commands: help, what shells complete, the manual page. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { manualPage } from '../../scripts/generate/manual.ts';
import { scriptFor } from '../../server/commands/completion-scripts.ts';
import { commandNames, type CommandSpec, shells, table } from '../../server/commands/table.ts';
import { severities } from '../../server/core/finding.ts';
import { kindNames } from '../../server/hand-over/kind-names.ts';
import { views } from '../../server/views/index.ts';

const root = join(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-shells-'));
afterAll(() => rmSync(folder, { recursive: true }));

const names = { rule: ['mixed-light', 'mains-light-flickers'], family: ['time'], topic: ['mired'] };
const scripts = Object.fromEntries(
  shells.map((shell) => {
    const file = join(folder, `shootspec.${shell}`);
    writeFileSync(file, scriptFor(shell, names));
    return [shell, file];
  }),
);

const has = (command: string) => spawnSync('sh', ['-c', `command -v ${command}`]).status === 0;

function run(command: string, ...args: string[]): string {
  const { stdout, stderr } = spawnSync(command, args, { encoding: 'utf8', cwd: root, timeout: 60_000 });
  expect(stderr).toBe('');
  return stdout;
}

test('the table has the commands that there are, and the words that they take', () => {
  const cli = readFileSync(join(root, 'server/cli.ts'), 'utf8');
  const there = [...cli.matchAll(/^ {2}'?([a-z-]+)'?: (?:async )?\(/gm)].map((match) => match[1]!);
  expect(there.filter((name) => name !== 'worker' && !name.startsWith('-')).sort()).toEqual([...commandNames].sort());
  expect(table.draw.options.view.words).toEqual(views.map(({ name }) => name));
  expect(table['hand-over'].options.as.words).toEqual(kindNames);
  expect(table.check.options['fail-on'].words).toEqual(severities);
});

/** What each shell offers for a line that ends where somebody presses Tab. */
const offered: readonly [string, readonly string[]][] = [
  ['shootspec ch', ['check']],
  ['shootspec check --fo', ['--format', '--footage']],
  ['shootspec check --format s', ['sarif']],
  ['shootspec explain mi', ['mixed-light']],
  ['shootspec completion f', ['fish']],
  ['shootspec check README', ['README.md']],
];

describe.runIf(has('bash'))('bash', () => {
  test.each(offered)('%s', (line, all) => {
    const words = line.split(' ').map((word) => `'${word}'`);
    const ask = `COMP_WORDS=(${words.join(' ')}); COMP_CWORD=${words.length - 1}; _shootspec; printf '%s\\n' "\${COMPREPLY[@]}"`;
    expect(run('bash', '-c', `source ${scripts['bash']}; ${ask}`).trim().split('\n')).toEqual(all);
  });
});

describe.runIf(has('fish'))('fish', () => {
  test('all of them', () => {
    const asks = offered.map(([line]) => `complete -C '${line}'; echo ==`).join('; ');
    const answers = run('fish', '--no-config', '-c', `source ${scripts['fish']}; ${asks}`).split('==\n').slice(0, -1);
    expect(
      answers.map((one) =>
        one
          .trim()
          .split('\n')
          .map((line) => line.split('\t')[0]!)
          .sort(),
      ),
    ).toEqual(offered.map(([, all]) => [...all].sort()));
  });
});

describe.runIf(has('zsh'))('zsh', () => {
  test('all of them', () => {
    // What the shell's own functions would be told.
    const told = `
      compdef() { }
      _describe() { local name=$2; print -r -- \${(P)name} }
      compadd() { shift; print -r -- $@ }
      _files() { print -r -- files }
      source ${scripts['zsh']}
      ask() { words=(shootspec "$@"); CURRENT=\${#words}; _shootspec; print @@ }`;
    const asks = offered.map(([line]) => `ask ${line.split(' ').slice(1).join(' ')}`).join('\n');
    const answers = run('zsh', '-f', '-c', `${told}\n${asks}`).split('@@\n').slice(0, -1);
    for (const [index, [, all]] of offered.entries())
      for (const one of all) expect(answers[index]).toContain(one.endsWith('.md') ? 'files' : one);
  });
});

test('PowerShell is told the same words', () => {
  const script = readFileSync(scripts['powershell']!, 'utf8');
  for (const name of commandNames) expect(script).toContain(`  '${name}' = @{ Options = @(`);
  expect(script).toContain("'--format' = @('text', 'json', 'github', 'sarif', 'junit', 'gitlab')");
});

describe('the manual page', () => {
  const page = manualPage('1.2.3', '2026-11-27');

  test('tells each command with its options', () => {
    for (const spec of Object.values<CommandSpec>(table)) {
      for (const usage of spec.usage) expect(page).toContain(`.B ${usage.split(' ')[0]!.replaceAll('-', '\\-')}`);
      for (const name of Object.keys(spec.options)) expect(page).toContain(`\\-\\-${name.replaceAll('-', '\\-')}`);
    }
  });

  test.runIf(has('mandoc'))('has nothing against it in a checker of such pages', () => {
    const file = join(folder, 'shootspec.1');
    writeFileSync(file, page);
    expect(run('mandoc', '-Tlint', '-Wwarning', file)).toBe('');
    expect(run('mandoc', '-Tascii', file).replace(/.[\b]/g, '')).toMatch(/EXIT STATUS\n\s+0 clean, 1 findings/);
  });
});
