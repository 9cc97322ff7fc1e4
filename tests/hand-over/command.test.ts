/** `shootspec hand-over`, as a shell runs it. */
import { copyFileSync, mkdirSync, readFileSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { shootspec } from '../helpers/command.ts';
import { planOf } from '../helpers/filmed.ts';
import { numberedClip } from '../helpers/numbered.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
beforeEach(() => {
  repo = new DiskRepo();
  repo.write('box.shoot.yaml', spec(planOf()));
});
afterEach(() => repo.remove());

function handOver(...args: string[]) {
  return shootspec(['hand-over', ...args], { cwd: repo.root });
}

interface Clip {
  readonly source_range: { readonly start_time: object };
  readonly media_references: {
    readonly DEFAULT_MEDIA: { readonly target_url: string; readonly available_range: object };
  };
}

test('a clip that is here stands by its place, with its own rate and as many frames as it has', () => {
  repo.write(
    'box.takes.yaml',
    'format: 1\nspec: box.shoot.yaml\ntakes:\n  box: { clip: "day 1/C0001.MP4", judged: best }\n',
  );
  const clip = join(repo.root, 'footage/day 1/C0001.MP4');
  mkdirSync(join(clip, '..'), { recursive: true });
  copyFileSync(numberedClip(200, '50'), clip);
  utimesSync(clip, new Date('2026-01-01'), new Date('2026-01-01'));
  expect(handOver('box.shoot.yaml', '--as', 'otio', '-o', 'box.otio')).toEqual({ status: 0, stdout: '', stderr: '' });
  const timeline = JSON.parse(readFileSync(join(repo.root, 'box.otio'), 'utf8')) as {
    tracks: { children: { children: Clip[] }[] };
  };
  const [made] = timeline.tracks.children[0]!.children;
  const { target_url, available_range } = made!.media_references.DEFAULT_MEDIA;
  expect(target_url).toBe(pathToFileURL(clip).href);
  expect(available_range).toMatchObject({ duration: { rate: 50, value: 200 } });
  expect(made!.source_range.start_time).toMatchObject({ rate: 50, value: 0 });
});

test('what is other than one may expect is said beside the file', () => {
  const { status, stdout, stderr } = handOver('box.shoot.yaml', '--as', 'edl');
  expect([status, stderr]).toEqual([0, 'shootspec: `box` has no take yet: its place is kept.\n']);
  expect(stdout).toMatch(/^TITLE: /);
});

describe('wrong usage is exit code 2, and says what to do', () => {
  test.each([
    [['box.shoot.yaml'], 'Say as what, otio, edl, webvtt, calendar, csv, json'],
    [['box.shoot.yaml', '--as', 'aaf'], '--as takes otio'],
    [['--as', 'otio'], 'Say which spec'],
    [['box.shoot.yaml', '--as', 'otio', '-o', 'box.json'], 'ends in `.otio`'],
    [['box.shoot.yaml', '--as', 'edl', '--what', 'takes'], '`--what` is for `--as csv`'],
    [['box.shoot.yaml', '--as', 'csv', '--what', 'bills'], '--what takes shots, packing, takes'],
    [['box.shoot.yaml', '--as', 'csv', '--zone', 'UTC'], '`--zone` is for `--as calendar`'],
    [['box.shoot.yaml', '--as', 'calendar', '--zone', 'Mars/North'], '`Mars/North` is no time zone'],
    [['box.shoot.yaml', '--as', 'calendar'], 'This spec says no date'],
    [['box.shoot.yaml', '--as', 'edl', '--deliverable', 'film2'], '--deliverable takes film'],
    [['box.shoot.yaml', '--as', 'edl', '--footage', 'nowhere'], 'there is no folder `nowhere`'],
  ])('%j', (args, said) => {
    const { status, stderr } = handOver(...args);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });
});
