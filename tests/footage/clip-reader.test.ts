import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { threadReader } from '../../server/footage/clip-reader.ts';

describe('what reads clips', () => {
  const folder = mkdtempSync(join(tmpdir(), 'clip-reader-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const clip = { file: 'C0001.MP4', bytes: 1000, changedMs: 0, device: 0, inode: 0 };

  test('says that it has stopped where it can not start, and blames no clip', async () => {
    const reader = threadReader(join(folder, 'not-there.cjs'));
    expect(await reader.read(clip)).toMatchObject({ why: 'what reads clips has stopped' });
    reader.end();
  });

  test('says that an index is too large where one fills its memory', async () => {
    const program = join(folder, 'greedy.cjs');
    writeFileSync(
      program,
      `require('node:worker_threads').parentPort.on('message', () => { for (const all = []; ; ) all.push(new Array(1e5).fill(0.5)); });`,
    );
    const reader = threadReader(program);
    expect(await reader.read(clip)).toMatchObject({ why: 'its index is larger than that of any clip' });
    reader.end();
  });
});
