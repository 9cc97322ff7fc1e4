/** `shootspec format`: files laid out as they lie, or only named. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { shootspec } from '../helpers/command.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
beforeEach(() => {
  repo = new DiskRepo();
});
afterEach(() => repo.remove());

const tidy = spec('');
const loose = tidy.replace(/^ {2}(?=\S)/gm, '      ').replace(/: /g, ':  ');
const run = (args: readonly string[], input?: string) =>
  shootspec(args, { cwd: repo.root, ...(input !== undefined && { input }) });
const read = (path: string) => readFileSync(join(repo.root, path), 'utf8');

test('lays out the files of a folder, and names those that it changed', () => {
  repo.write('films/a.shoot.yaml', loose);
  repo.write('films/b.shoot.yaml', tidy);
  expect(run(['format', 'films'])).toEqual({ status: 0, stdout: 'films/a.shoot.yaml\n', stderr: '' });
  expect(read('films/a.shoot.yaml')).toBe(tidy);
  expect(run(['format'])).toEqual({ status: 0, stdout: '', stderr: '' });
});

test('with --check changes nothing, and fails where it would', () => {
  repo.write('a.shoot.yaml', loose);
  expect(run(['format', '--check'])).toEqual({ status: 1, stdout: 'a.shoot.yaml\n', stderr: '' });
  expect(run(['format', '--check', '--quiet'])).toEqual({ status: 1, stdout: '', stderr: '' });
  expect(read('a.shoot.yaml')).toBe(loose);
});

test('prints standard input as it would be', () => {
  expect(run(['format', '-'], loose)).toMatchObject({ status: 0, stdout: tidy });
  expect(run(['format', '-', '--check'], loose)).toMatchObject({ status: 1, stdout: '' });
});

test('leaves alone what can’t be read, and says what is not in UTF-8', () => {
  repo.write('a.shoot.yaml', 'title:  {\n');
  const latin = join(repo.root, 'b.shoot.yaml');
  writeFileSync(latin, Buffer.from('title:   Caf\u00e9\n', 'latin1'));
  const { status, stderr } = run(['format']);
  expect([status, stderr]).toEqual([2, 'shootspec: `b.shoot.yaml` is not in UTF-8, so it was left as it is.\n']);
  expect(read('a.shoot.yaml')).toBe('title:  {\n');
  expect(readFileSync(latin, 'latin1')).toBe('title:   Caf\u00e9\n');
});
