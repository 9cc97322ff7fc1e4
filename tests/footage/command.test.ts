/** Clips on the command line: found where they are said to lie, else beside the sheet. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { shootspec } from '../helpers/command.ts';
import { pictureClip } from '../helpers/clips.ts';
import { planOf } from '../helpers/filmed.ts';
import { DiskRepo } from '../helpers/server.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const made: (() => void)[] = [];
afterEach(() => made.splice(0).forEach((remove) => remove()));

function aRepo(): DiskRepo {
  const text = `format: 1\n${sheet('takes:\n  box: { clip: C0012.MP4, judged: best }\n')}`;
  const repo = new DiskRepo({ [specPath]: spec(planOf()), [sheetPath]: text });
  made.push(() => repo.remove());
  return repo;
}

/** A folder with a clip of another rate than is planned. */
function clipsIn(folder: string): string {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, 'C0012.MP4');
  copyFileSync(pictureClip({ rate: '30000/1001' }), file);
  utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
  return folder;
}

function elsewhere(): string {
  const folder = mkdtempSync(join(tmpdir(), 'elsewhere-'));
  made.push(() => rmSync(folder, { recursive: true }));
  return folder;
}

function check(repo: DiskRepo, ...more: string[]) {
  const { stdout, stderr, status } = shootspec(['check', '--format', 'json', sheetPath, ...more], { cwd: repo.root });
  const rules = stdout ? (JSON.parse(stdout) as { findings: { rule: string }[] }).findings.map(({ rule }) => rule) : [];
  return { rules, stderr, status };
}

it('says nothing of clips where there is no footage', () => {
  expect(check(aRepo())).toMatchObject({ rules: [], status: 0 });
});

it('looks beside the sheet', () => {
  const repo = aRepo();
  clipsIn(join(repo.root, 'footage'));
  expect(check(repo).rules).toEqual(['recorded-rate-off']);
});

it('looks where it is told', () => {
  expect(check(aRepo(), '--footage', clipsIn(elsewhere())).rules).toEqual(['recorded-rate-off']);
});

it('follows no link that a repo has in the place of its footage', () => {
  const repo = aRepo();
  symlinkSync(clipsIn(elsewhere()), join(repo.root, 'footage'));
  expect(check(repo).rules).toEqual([]);
});

it('says that a folder is not there, which would pass for one without faults', () => {
  const { status, stderr } = check(aRepo(), '--footage', '/media/not-connected');
  expect([status, stderr]).toEqual([2, 'shootspec: --footage: there is no folder `/media/not-connected`.\n']);
});

it('checks a repo with many sheets on all cores, with clips as on one', () => {
  const repo = aRepo();
  clipsIn(join(repo.root, 'footage'));
  const text = `format: 1\n${sheet('takes:\n  box: { clip: C0012.MP4 }\n')}`;
  for (let index = 0; index < 70; index++) repo.write(`day-${index}.takes.yaml`, text);
  const { rules } = check(repo, '.', '--threads', '2');
  expect(rules.filter((rule) => rule === 'recorded-rate-off')).toHaveLength(71);
});
