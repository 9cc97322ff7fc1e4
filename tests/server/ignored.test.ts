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

  // The reference is git itself.
  test('150 random ignore files, and a path for each of 40 shapes', () => {
    const random = new Random(20_261_129);
    const some = (all: readonly string[], most: number) =>
      Array.from({ length: 1 + random.below(most) }, () => random.of(all)).join('/');
    for (const name of names) mkdirSync(join(folder, name, 'a', 'b'), { recursive: true });
    for (let round = 0; round < 150; round++) {
      const lines = Array.from({ length: 1 + random.below(3) }, () => {
        const [back, root, end] = [random.below(4) === 0, random.below(4) === 0, random.below(4) === 0];
        return `${back ? '!' : ''}${root ? '/' : ''}${some(parts, 3)}${end ? '/' : ''}`;
      });
      writeFileSync(join(folder, '.gitignore'), lines.join('\n'));
      const paths = [
        ...new Set(Array.from({ length: 40 }, () => `${some(names, 3)}.x`.replace(/\.x$/, random.below(2) ? '' : 'b'))),
      ];
      const input = paths.join('\0');
      let said = '';
      try {
        said = execFileSync('git', ['check-ignore', '--no-index', '-z', '--stdin'], {
          cwd: folder,
          env: gitEnv,
          input,
          encoding: 'utf8',
        });
      } catch (error) {
        if ((error as { status: number }).status !== 1) throw error;
      }
      const ignored = new Ignored(folder);
      const ours = paths.filter((path) => isIgnored(ignored, path));
      expect(ours, lines.join(' | ')).toEqual(said.split('\0').filter(Boolean));
    }
  });

  /** Git looks whether a path is a folder. */
  function isIgnored(ignored: Ignored, path: string): boolean {
    const isFolder = names.some((name) => [name, `${name}/a`, `${name}/a/b`].includes(path));
    return isFolder ? ignored.hasFolder(join(folder, path)) : ignored.has(join(folder, path));
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
