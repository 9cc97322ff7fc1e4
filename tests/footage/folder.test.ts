/** Where clips may be opened, and where not: the ways in which a sheet might lead the reading elsewhere. */
import {
  linkSync,
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
  symlinkSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { FootageStore } from '../../server/footage/footage-store.ts';
import type { ClipReader } from '../../server/footage/clip-reader.ts';
import { mkfifoSync } from '../helpers/fifo.ts';

const home = mkdtempSync(join(tmpdir(), 'footage-'));
const root = join(home, 'footage');
mkdirSync(join(root, 'day-1'), { recursive: true });
mkdirSync(join(root, 'proxies/day-1'), { recursive: true });
mkdirSync(join(home, 'elsewhere'));
writeFileSync(join(root, 'day-1/C0001.MP4'), 'clip');
writeFileSync(join(root, 'proxies/day-1/C0001.MP4'), 'small');
writeFileSync(join(root, 'day-1/notes.txt'), 'no clip');
writeFileSync(join(home, 'elsewhere/SECRET.MP4'), 'secret');
symlinkSync(join(home, 'elsewhere/SECRET.MP4'), join(root, 'day-1/link.MP4'));
symlinkSync(join(home, 'elsewhere'), join(root, 'other'));
symlinkSync(root, join(root, 'day-1/round'));
symlinkSync(join(root, 'day-1/C0001.MP4'), join(root, 'day-1/same.MP4'));
symlinkSync(join(home, 'nowhere'), join(root, 'day-1/gone.MP4'));
mkdirSync(join(root, 'day-1/folder.MP4'));
mkfifoSync(join(root, 'day-1/pipe.MP4'));
afterAll(() => rmSync(home, { recursive: true }));

const folder = new FootageFolder(root);
const problem = (path: string) => {
  const at = folder.locate(path);
  return 'problem' in at ? at.problem : 'found';
};

describe('what is below the folder', () => {
  it.each([
    ['day-1/C0001.MP4', 'found'],
    ['day-1/same.MP4', 'found'],
    ['day-1/C0002.MP4', 'missing'],
    ['day-1', 'not-a-file'],
    ['day-1/folder.MP4', 'not-a-file'],
    ['day-1/pipe.MP4', 'not-a-file'],
  ])('%s: %s', (path, expected) => expect(problem(path)).toBe(expected));

  it.each([
    '../elsewhere/SECRET.MP4',
    'day-1/../../elsewhere/SECRET.MP4',
    '/etc/passwd',
    'C:/clips/C0001.MP4',
    '\\\\server\\share\\C0001.MP4',
    '~/C0001.MP4',
    'http://example.org/C0001.MP4',
    'concat:day-1/C0001.MP4|/etc/passwd',
    'file:///etc/passwd',
    'day-1/link.MP4',
    'other/SECRET.MP4',
    'day-1/gone.MP4',
    'day-1/C0001.MP4\0.txt',
    '%2e%2e/elsewhere/SECRET.MP4',
    '',
  ])('nothing outside is opened: %j', (path) => expect(problem(path)).toBe('outside'));

  it('lists clips alone, follows no folder that is a link, and leaves the small copies out', () => {
    const paths = folder.list().map(({ path }) => path);
    expect(paths).toEqual(['day-1/C0001.MP4', 'day-1/same.MP4']);
  });

  it('is none where there is no such folder', () => {
    expect(FootageFolder.at(join(home, 'nowhere'))).toBeUndefined();
    expect(FootageFolder.at(join(root, 'day-1/C0001.MP4'))).toBeUndefined();
  });
});

describe('what the store says of a file', () => {
  const old = new Date('2026-01-01');
  const put = (name: string, text: string, changed?: Date) => {
    const file = join(root, name);
    writeFileSync(file, text);
    if (changed) utimesSync(file, changed, changed);
    return file;
  };
  /** Says of every clip the same, and counts how often it was asked. */
  const reader = (answer: Partial<Awaited<ReturnType<ClipReader['read']>>>) => {
    const asked: string[] = [];
    const read: ClipReader['read'] = ({ file }) => {
      asked.push(file);
      return Promise.resolve({ hasChanged: false, bytesRead: 10, ...answer });
    };
    return { asked, reader: { read, end: () => undefined } };
  };
  const facts = { bytes: 4, container: 'MP4', durationS: 1, indexAt: 'start', audio: [] } as const;

  it('is pending until it is read, and then known without another look', async () => {
    put('one.MP4', 'clip', old);
    const { asked, reader: read } = reader({ facts });
    let news = 0;
    const store = new FootageStore({ clips: folder, reader: read, onNews: () => news++ });
    expect(store.clip('one.MP4')).toEqual({ kind: 'pending' });
    expect(store.clip('one.MP4')).toEqual({ kind: 'pending' });
    await store.settled();
    expect(store.clip('one.MP4')).toEqual({ kind: 'facts', facts });
    expect([asked.length, news]).toEqual([1, 1]);
  });

  it('reads again what has become another', async () => {
    put('two.MP4', 'clip', old);
    const { asked, reader: read } = reader({ facts });
    const store = new FootageStore({ clips: folder, reader: read });
    store.clip('two.MP4');
    await store.settled();
    expect(store.look()).toBe(false);
    put('two.MP4', 'a longer clip', old);
    expect(store.look()).toBe(true);
    expect(store.clip('two.MP4')).toEqual({ kind: 'pending' });
    await store.settled();
    expect(asked).toHaveLength(2);
  });

  it('tells a clip that is still written from one that is broken', async () => {
    const { reader: read } = reader({ why: 'it ends before its index does' });
    const store = new FootageStore({ clips: folder, reader: read });
    put('fresh.MP4', 'half');
    put('broken.MP4', 'half', old);
    put('fresh-empty.MP4', '');
    put('empty.MP4', '', old);
    for (const name of ['fresh.MP4', 'broken.MP4']) store.clip(name);
    await store.settled();
    const states = ['fresh.MP4', 'broken.MP4', 'fresh-empty.MP4', 'empty.MP4'].map((name) => store.clip(name).kind);
    expect(states).toEqual(['growing', 'unreadable', 'growing', 'empty']);
  });

  it('finds a clip again that has another name now, by its length and time of recording', async () => {
    put('day-1/C0007.MP4', 'the same', old);
    const { reader: read } = reader({ facts: { ...facts, bytes: 8, recordedAtMs: 5000 } });
    const store = new FootageStore({ clips: folder, reader: read });
    store.clip('day-1/C0007.MP4');
    await store.settled();
    renameSync(join(root, 'day-1/C0007.MP4'), join(root, 'day-1/lid-opens.MP4'));
    expect(store.look()).toBe(true);
    expect([store.clip('day-1/C0007.MP4').kind, store.found('day-1/C0007.MP4')]).toEqual(['missing', []]);
    await store.settled();
    expect(store.found('day-1/C0007.MP4').map(({ path }) => path)).toEqual(['day-1/lid-opens.MP4']);
    unlinkSync(join(root, 'day-1/lid-opens.MP4'));
  });

  it('takes one clip that lies in two folders for two files', () => {
    linkSync(join(root, 'day-1/C0001.MP4'), join(root, 'C0001.MP4'));
    const paths = folder.list().map(({ path }) => path);
    expect(paths.filter((path) => path.endsWith('C0001.MP4'))).toEqual(['C0001.MP4', 'day-1/C0001.MP4']);
  });

  it('opens no master below the footage folder, and no clip below that of masters', () => {
    const { asked, reader: read } = reader({ facts });
    const store = new FootageStore({ masters: folder, reader: read });
    expect([store.clip('day-1/C0001.MP4').kind, store.entries(), asked]).toEqual(['missing', [], []]);
    expect(store.master('day-1/C0001.MP4').kind).toBe('pending');
  });
});
