/** Ignore files are read as git reads them, and in time linear in what a repo may bring. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Ignored } from '../../server/ignored.ts';
import { ignoreLines } from '../../server/ignore-lines.ts';
import { gitEnv } from '../helpers/git.ts';
import { growth } from '../helpers/quick.ts';
import { Random } from '../hostile/random.ts';

const parts = [
  'a',
  'b',
  'ab',
  '*',
  '**',
  'a*',
  '*b',
  '?',
  '[ab]',
  '[!a]',
  '[a-c]*',
  '\\*',
  'a b',
  '[[:alpha:]]',
  '\\a',
  'a**b',
  '***',
];
const names = ['a', 'b', 'ab', 'abb', 'c', 'a b', '*', 'ba'];

describe('as git does', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'ignored-'));
    execFileSync('git', ['init', '-q', folder], { env: gitEnv });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  // The reference is git itself, asked once for all.
  test('150 random ignore files, and a path for each of 40 shapes', () => {
    const random = new Random(20_261_129);
    const some = (all: readonly string[], most: number) =>
      Array.from({ length: 1 + random.below(most) }, () => random.of(all)).join('/');
    const rounds = Array.from({ length: 150 }, (_, index) => {
      const own = `round-${index}`;
      for (const name of names) mkdirSync(join(folder, own, name, 'a', 'b'), { recursive: true });
      const lines = Array.from({ length: 1 + random.below(3) }, () => {
        const [back, root, end] = [random.below(4) === 0, random.below(4) === 0, random.below(4) === 0];
        return `${back ? '!' : ''}${root ? '/' : ''}${some(parts, 3)}${end ? '/' : ''}`;
      });
      writeFileSync(join(folder, own, '.gitignore'), lines.join('\n'));
      const shapes = Array.from({ length: 40 }, () =>
        `${some(names, 3)}.x`.replace(/\.x$/, random.below(2) ? '' : 'b'),
      );
      return { own, lines, paths: [...new Set(shapes)] };
    });
    const input = rounds.flatMap(({ own, paths }) => paths.map((path) => `${own}/${path}`)).join('\0');
    const args = ['check-ignore', '--no-index', '-z', '--stdin'];
    const said = execFileSync('git', args, { cwd: folder, env: gitEnv, input, encoding: 'utf8' });
    const theirs = new Set(said.split('\0').filter(Boolean));
    const ignored = new Ignored(folder);
    for (const { own, lines, paths } of rounds)
      expect(
        paths.filter((path) => isIgnored(ignored, own, path)),
        lines.join(' | '),
      ).toEqual(paths.filter((path) => theirs.has(`${own}/${path}`)));
    expect(theirs.size).toBeGreaterThan(100);
  });

  /** Git looks whether a path is a folder. */
  function isIgnored(ignored: Ignored, own: string, path: string): boolean {
    const isFolder = names.some((name) => [name, `${name}/a`, `${name}/a/b`].includes(path));
    return isFolder ? ignored.hasFolder(join(folder, own, path)) : ignored.has(join(folder, own, path));
  }
});

test.each([
  ['folders', (size: number) => [`${'**/a/'.repeat(7)}b`, Array.from({ length: size }, () => 'a')] as const],
  ['letters', (size: number) => [`${'*a'.repeat(7)}*b`, ['a'.repeat(size)]] as const],
])('a path of twice as many %s takes twice as long', (_, of) => {
  expect(
    growth(2000, (size) => {
      const [pattern, path] = of(size);
      return ignoreLines(pattern)(path, false);
    }),
  ).toBeLessThan(3);
});
