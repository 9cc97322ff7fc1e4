/** Files are replaced whole or not at all; a long run tells a terminal how far it is. */
import {
  chmodSync,
  chownSync,
  linkSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { paintFor } from '../../server/commands/paint.ts';
import { progressOn } from '../../server/commands/progress.ts';
import { replaceFile, writeOutput } from '../../server/commands/write.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import { fixToEnd } from '../../server/features/fix-to-end.ts';
import { plain } from '../../server/formats/text.ts';
import { DiskRepo } from '../helpers/server.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
let file: string;
beforeEach(() => {
  repo = new DiskRepo();
  file = repo.write('a.shoot.yaml', 'old\n');
});
afterEach(() => repo.remove());

const read = (path: string) => readFileSync(path, 'utf8');
const names = () => readdirSync(repo.root).sort();

describe('replacing a file', () => {
  test('one that was changed since it was read stays as it is, and nothing is left beside it', () => {
    const before = readFileSync(file);
    writeFileSync(file, 'changed by somebody\n');
    expect(() => replaceFile(file, before, 'new\n')).toThrow('changed by somebody else');
    expect([read(file), names()]).toEqual(['changed by somebody\n', ['a.shoot.yaml', 'kits']]);
  });

  test('keeps permissions, whatever the mask', () => {
    chmodSync(file, 0o666);
    const mask = process.umask(0o077);
    replaceFile(file, readFileSync(file), 'new\n');
    process.umask(mask);
    expect([read(file), statSync(file).mode & 0o777]).toEqual(['new\n', 0o666]);
  });

  test('keeps the owner where one may give files away', () => {
    if (process.getuid?.() !== 0) return;
    const { uid, gid } = { uid: 12_345, gid: 54_321 };
    const owned = repo.write('owned.shoot.yaml', 'old\n');
    chownSync(owned, uid, gid);
    replaceFile(owned, readFileSync(owned), 'new\n');
    expect(statSync(owned)).toMatchObject({ uid, gid });
  });

  test('goes through a link, to the file', () => {
    const link = join(repo.root, 'link.shoot.yaml');
    symlinkSync(file, link);
    replaceFile(link, readFileSync(link), 'new\n');
    expect(read(file)).toBe('new\n');
    expect(names()).toEqual(['a.shoot.yaml', 'kits', 'link.shoot.yaml']);
  });

  test('somebody who has the old file open still reads it whole', () => {
    const other = join(repo.root, 'other-name');
    linkSync(file, other);
    replaceFile(file, readFileSync(file), 'new\n');
    expect([read(other), read(file)]).toEqual(['old\n', 'new\n']);
  });
});

test('an output that can not be written is said, and leaves nothing', () => {
  expect(() => writeOutput(join(repo.root, 'kits'), 'x')).toThrow("can't be written: EISDIR");
  expect(names()).toEqual(['a.shoot.yaml', 'kits']);
  writeOutput(join(repo.root, 'new.txt'), 'x');
  expect(read(join(repo.root, 'new.txt'))).toBe('x');
});

describe('progress', () => {
  function run(isTTY: boolean, stepMs: number) {
    let now = 0;
    const written: string[] = [];
    const progress = progressOn({ isTTY, write: (text) => written.push(text) }, 100, () => now);
    for (let done = 1; done <= 100; done++) {
      now += stepMs;
      progress.tell(done);
    }
    progress.end();
    return written;
  }

  test('is told on a terminal when a run is long, and wiped at the end', () => {
    const written = run(true, 50);
    expect(written[0]).toBe('\r14 of 100 files\u001b[K');
    expect(written.length).toBeLessThan(50);
    expect(written.at(-1)).toBe('\r\u001b[K');
  });

  test('tells which clip is decoded, with nothing of its name that a terminal would obey', () => {
    const written: string[] = [];
    let now = 0;
    const progress = progressOn({ isTTY: true, write: (text) => written.push(text) }, 1, () => (now += 1000));
    progress.decoding({ file: '/films/C0013\u001b[2J.MP4', done: 1, all: 7, share: 0.405 });
    expect(written).toEqual(['\rdecoding C0013\\u{1b}[2J.MP4, 2 of 7, 40 %\u001b[K']);
  });

  test('is not told of a short run, nor into a pipe', () => {
    expect(run(true, 5)).toEqual([]);
    expect(run(false, 500)).toEqual([]);
  });
});

test('colours are for terminals that want them', async () => {
  const red = async (isTTY: boolean, direct: boolean, env: Record<string, string>) =>
    (await paintFor({ isTTY }, direct, env)).severity('error', 'x');
  expect(await red(true, true, {})).toBe('\u001b[31mx\u001b[39m');
  for (const other of [
    red(false, true, {}),
    red(true, false, {}),
    red(true, true, { NO_COLOR: '1' }),
    red(true, true, { TERM: 'dumb' }),
  ])
    expect(await other).toBe(plain.severity('error', 'x'));
});

describe('fixes to the end', () => {
  test('one that makes room for another is followed, and the end has none left', () => {
    const odd = spec('').replace('1920x1080', '1921x1081');
    const { text, passes } = fixToEnd(odd, checkSpec);
    expect(checkSpec(text).findings.flatMap((finding) => finding.fixes.filter((fix) => fix.safe))).toEqual([]);
    expect(passes).toBeGreaterThan(0);
    expect(passes).toBeLessThan(10);
  });

  /** A file whose only finding is fixed by writing something in its place. */
  const result = (text: string, next: string, broken = false): CheckResult => ({
    ...checkSpec(text),
    doc: { ...checkSpec('').doc, text, broken },
    findings: [
      {
        rule: 'x',
        severity: 'error',
        message: '',
        start: 0,
        end: text.length,
        related: [],
        fixes: [{ title: '', safe: true, edits: [{ start: 0, end: text.length, text: next }] }],
      },
    ],
  });

  test('fixes that undo each other come to an end', () => {
    expect(fixToEnd('a', (text) => result(text, text === 'a' ? 'b' : 'a')).passes).toBe(50);
  });

  test('a fix that breaks the file is not made, and is told', () => {
    const { text, passes, left } = fixToEnd('a', (now) => result(now, 'b', now === 'b'));
    expect([text, passes, left.map(({ finding }) => finding.rule)]).toEqual(['a', 0, ['x']]);
  });

  test('those beside it are made', () => {
    const check = (text: string): CheckResult => {
      const { findings, ...rest } = result(text, '', text.includes('B'));
      const at = (letter: string) => {
        const start = text.indexOf(letter);
        const edits = [{ start, end: start + 1, text: letter.toUpperCase() }];
        return start < 0 ? [] : [{ ...findings[0]!, fixes: [{ title: '', safe: true, edits }] }];
      };
      return { ...rest, findings: ['a', 'b', 'c', 'd'].flatMap(at) };
    };
    const { text, left } = fixToEnd('a b c d', check);
    expect([text, left.length]).toEqual(['A b C D', 1]);
  });
});
