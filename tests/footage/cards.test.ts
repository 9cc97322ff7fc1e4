/** Cards that may be wiped, and every way in which they may not. */
import { linkSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { judgeCards, type Volume } from '../../server/core/cards.ts';
import { volumeAt } from '../../server/footage/volume.ts';
import { shootspec } from '../helpers/command.ts';
import { DiskRepo } from '../helpers/server.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

type Files = Readonly<Record<string, string>>;

/** What a file holds stands for its hash; `?` can't be read. */
function volume(name: string, drive: string, files: Files, unread: readonly string[] = []): Volume {
  const all = Object.entries(files).map(([path, text]) => ({ path, bytes: text.length, changedMs: 0 }));
  const hash = (path: string) => (files[path]!.includes('?') ? undefined : files[path]);
  return { name, root: `/${name}`, drive, files: all, unread, hash: ({ path }) => Promise.resolve(hash(path)) };
}

const onCard: Files = { 'DCIM/C0012.MP4': 'turns', 'DCIM/C0013.MP4': 'teeth', 'DCIM/INDEX.XML': 'list' };
const copied: Files = { 'day-1/C0012.MP4': 'turns', 'day-1/C0013.MP4': 'teeth', 'day-1/INDEX.XML': 'list' };
const clips = ['day-1/C0012.MP4', 'day-1/C0013.MP4'];

async function why(said: {
  card?: Files;
  unread?: readonly string[];
  copies?: readonly Volume[];
  one?: Files;
  two?: Files;
  named?: readonly string[];
}): Promise<readonly string[]> {
  const { card = onCard, one = copied, two = copied, named = clips } = said;
  const copies = said.copies ?? [volume('one', '1', one), volume('two', '2', two)];
  const [verdict] = await judgeCards([volume('card', '0', card, said.unread)], copies, named);
  return verdict!.why;
}

describe('a card', () => {
  it('may be wiped when two other drives have every byte of it', async () => {
    expect(await why({})).toEqual([]);
  });

  it('may be when a copy has other names for other files, and when a file of the card is empty', async () => {
    expect(await why({ card: { ...onCard, 'DCIM/EMPTY.LOG': '' } })).toEqual([]);
    const { 'day-1/INDEX.XML': list, ...rest } = copied;
    expect(await why({ two: { ...rest, 'notes/day.xml': list! } })).toEqual([]);
  });

  const { 'day-1/C0013.MP4': teeth, ...short } = copied;
  it.each([
    ['lacks a file in one copy', { two: short }, '`DCIM/C0013.MP4` is not on `two`'],
    [
      'has a file that is cut short in a copy',
      { one: { ...copied, 'day-1/C0013.MP4': 'teet' } },
      'is another file than `day-1/C0013.MP4` on `one` (0 kB instead of 0 kB)',
    ],
    [
      'has a file of which one bit is another',
      { one: { ...copied, 'day-1/C0013.MP4': 'teeTh' } },
      '`DCIM/C0013.MP4` is another file than `day-1/C0013.MP4` on `one`',
    ],
    [
      'has a file that cannot be read',
      { card: { ...onCard, 'DCIM/C0013.MP4': 'tee?h' } },
      '`DCIM/C0013.MP4` could not be read to its end',
    ],
    [
      'has a copy that cannot be read',
      { two: { ...copied, 'day-1/C0013.MP4': 'tee?h' } },
      '`day-1/C0013.MP4` on `two` could not be read',
    ],
    ['has a folder that cannot be read', { unread: ['PRIVATE'] }, '`PRIVATE` could not be looked at'],
    ['has one copy', { copies: [volume('one', '1', copied)] }, 'there is one copy, and two are wanted'],
    [
      'has two copies on one drive',
      { copies: [volume('one', '1', copied), volume('two', '1', copied)] },
      'both copies lie on one drive',
    ],
    [
      'has a copy on itself',
      { copies: [volume('one', '0', copied), volume('two', '2', copied)] },
      'the copy `one` lies on the same drive as the card',
    ],
    ['is empty', { card: {} }, 'there is no file on it: is it the right folder?'],
    ['is another one', { card: { 'DCIM/C9.MP4': teeth! } }, 'is it a card of another day?'],
    ['is of sheets that name nothing', { named: [] }, 'the take sheets name no clip'],
    [
      'is of a sheet that names what is nowhere',
      { named: [...clips, 'S1.WAV'] },
      'the take sheet names `S1.WAV`, which is not on `one`',
    ],
    [
      'is of a sheet whose clip may be two',
      { named: ['C0012.MP4'], one: { ...copied, 'day-2/C0012.MP4': 'x' } },
      'several files on `one` could be `C0012.MP4`',
    ],
    [
      'has a clip that differs from copy to copy',
      { two: { ...copied, 'day-1/C0012.MP4': 'turnt', 'x.mp4': 'turns' } },
      '`day-1/C0012.MP4` of the take sheet is not the same in both copies',
    ],
  ] as const)('may not when it %s', async (_, said, message) => {
    expect((await why(said)).join('\n')).toContain(message);
  });
});

describe('on disks', () => {
  let root: string;
  let repo: DiskRepo;
  beforeAll(() => {
    root = mkdtempSync(join(tmpdir(), 'cards-'));
    repo = new DiskRepo({
      [specPath]: spec(''),
      [sheetPath]: `format: 1\n${sheet('takes:\n  box: { clip: C0012.MP4, judged: best }\n')}`,
    });
    for (const name of ['card', 'one', 'two']) {
      mkdirSync(join(root, name));
      writeFileSync(join(root, name, 'C0012.MP4'), 'some frames');
    }
  });
  afterAll(() => {
    repo.remove();
    rmSync(root, { recursive: true });
  });

  test('a link is no file, what systems keep is left out, and SHA-256 is that of FIPS 180-4', async () => {
    mkdirSync(join(root, 'odd'));
    // The first example of FIPS 180-4: "abc".
    writeFileSync(join(root, 'odd/abc.bin'), 'abc');
    writeFileSync(join(root, 'odd/.DS_Store'), 'x');
    symlinkSync(join(root, 'one/C0012.MP4'), join(root, 'odd/C0012.MP4'));
    linkSync(join(root, 'one/C0012.MP4'), join(root, 'odd/hard.mp4'));
    const odd = volumeAt(join(root, 'odd'))!;
    expect(odd.files.map(({ path }) => path)).toEqual(['abc.bin', 'hard.mp4']);
    expect(odd.unread).toEqual(['C0012.MP4']);
    expect(await odd.hash(odd.files[0]!)).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(volumeAt(join(root, 'none'))).toBeUndefined();
  });

  test('the command says no of copies on one drive, and what is wrong with how it is asked', () => {
    const run = (...args: string[]) => shootspec(['cards', ...args], { cwd: repo.root });
    const at = (name: string) => join(root, name);
    const both = ['--copy', at('one'), '--copy', at('two')];
    const { status, stdout } = run(sheetPath, '--card', at('card'), ...both);
    expect(status).toBe(1);
    expect(stdout).toContain('card: not yet.\n');
    expect(stdout).toContain('both copies lie on one drive');
    expect(stdout).not.toContain('may be wiped');
    for (const [args, words] of [
      [[sheetPath, '--card', at('card'), '--copy', at('card'), '--copy', at('two')], 'are in one another'],
      [[sheetPath, '--card', at('none'), ...both], 'There is no folder'],
      [[specPath, '--card', at('card'), ...both], 'is no take sheet'],
      [['--card', at('card'), ...both], 'Say the take sheets'],
    ] as const) {
      const { status: code, stderr } = run(...args);
      expect(code).toBe(2);
      expect(stderr).toContain(words);
    }
  });
});
