/** The problem matcher over what the command prints, read as the editor reads the output of a task: line by line. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { oneLine } from '../../server/formats/escape.ts';
import { shootspec } from '../helpers/command.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const root = join(import.meta.dirname, '../..');
const { contributes } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const [matcher] = contributes.problemMatchers;
const [pattern] = contributes.problemPatterns;

interface Problem {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly severity: string;
  readonly message: string;
  readonly code: string;
}

/** What the editor takes from each line; the pattern says which group is what. */
function problemsIn(output: string): Problem[] {
  const regexp = new RegExp(pattern.regexp);
  return output.split(/\r\n|\r|\n/).flatMap((line) => {
    const match = regexp.exec(line);
    if (!match) return [];
    const group = (name: string) => match[pattern[name]]!;
    return {
      file: group('file'),
      line: Number.parseInt(group('line'), 10),
      column: Number.parseInt(group('column'), 10),
      severity: severityOf(group('severity')),
      message: group('message'),
      code: group('code'),
    };
  });
}

/** The words that the editor knows; it takes any other for the matcher's own. */
function severityOf(word: string): string {
  const known: Readonly<Record<string, string>> = { error: 'error', warning: 'warning', info: 'info', hint: 'info' };
  return known[word] ?? matcher.severity;
}

let repo: DiskRepo;

beforeEach(() => {
  repo = new DiskRepo();
});
afterEach(() => repo.remove());

function check(...args: string[]): string {
  return shootspec(['check', ...args, '--', '.'], { cwd: repo.root }).stdout;
}

/** The findings as the command's other output has them, in the order of the printed lines. */
function told(): Problem[] {
  const { findings } = JSON.parse(check('--format', 'json')) as { findings: (Problem & { rule: string })[] };
  return findings.map(({ file, line, column, severity, message, rule }) => {
    return { file, line, column, severity: severityOf(severity), message: oneLine(message), code: rule };
  });
}

const wrong = (shot: string) =>
  spec(`shots:
  ${shot}: { record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: 1/200 s } }
cut:
  - { shot: ${shot}, length: 10 s }
`);

describe('the problem matcher', () => {
  it('is for files of the folder that the task runs in', () => {
    expect(matcher).toMatchObject({ pattern: `$${pattern.name}`, fileLocation: ['relative', '${workspaceFolder}'] });
  });

  it('finds a finding at its place, with what is said and the rule’s name', () => {
    repo.write('box.shoot.yaml', wrong('spin'));
    const text = wrong('spin').split('\n');
    const line = text.findIndex((one) => one.includes('1/200 s'));
    const found = problemsIn(check()).filter(({ code }) => code === 'shutter-off-half-frame');
    expect(found).toEqual([
      {
        file: 'box.shoot.yaml',
        line: line + 1,
        column: text[line]!.indexOf('1/200 s') + 1,
        severity: 'warning',
        message: expect.stringMatching(/^spin: 1\/200 s at 25 is 45° where 180° is usual/),
        code: 'shutter-off-half-frame',
      },
    ]);
  });

  it.each([
    'first film.shoot.yaml',
    'films (old)/box (2), final [a].shoot.yaml',
    'box.shoot.yaml (copy)/box.shoot.yaml',
    'at 1:2 error/a:3:4 warning b.shoot.yaml',
    'Zürich – Größe.shoot.yaml',
    'kits/new kit (2).kit.yaml',
  ])('finds all findings of `%s`', (path) => {
    repo.write(path, path.endsWith('.kit.yaml') ? 'title: A\nlenss: {}\n' : wrong('spin'));
    const found = problemsIn(check());
    expect(found.some(({ file }) => file === path)).toBe(true);
    expect(found).toEqual(told());
    expect(found.every(({ file }) => existsSync(join(repo.root, file)))).toBe(true);
  });

  it.each([
    '"a:3:4 error b [c]"',
    '"x.shoot.yaml:3:4 error: b [cut-jars]"',
    '"a\\nb.shoot.yaml:1:1 error c [d]"',
    '"spin [2]"',
  ])('is not led astray by a shot that is called %s', (shot) => {
    // What is printed of the text itself is no finding either.
    const comment = '# box.shoot.yaml:1:1 error made up [cut-jars]';
    repo.write('box.shoot.yaml', wrong(shot).replace('1/200 s } }', `$& ${comment}`));
    const found = problemsIn(check());
    expect(found.some(({ code }) => code === 'shutter-off-half-frame')).toBe(true);
    expect(found).toEqual(told());
  });

  it('knows every severity', () => {
    repo.write('box.shoot.yaml', wrong('spin'));
    const found = ['error', 'warning', 'info', 'hint'].map((severity) => {
      repo.write('shootspec.yaml', `rules:\n  shutter-off-half-frame: { severity: ${severity} }\n`);
      return problemsIn(check()).find(({ code }) => code === 'shutter-off-half-frame')?.severity;
    });
    expect(found).toEqual(['error', 'warning', 'info', 'info']);
  });
});
