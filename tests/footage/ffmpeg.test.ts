/** How the program is found and run, with programs that only say what they were told. */
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { decodeFile, findFfmpeg } from '../../server/footage/decode/ffmpeg.ts';
import type { Decoded } from '../../server/core/decoded.ts';
import { cacheFolder, decodedClips, Kept } from '../../server/footage/decode/kept.ts';

const root = mkdtempSync(join(tmpdir(), 'ffmpeg-'));
afterAll(() => rmSync(root, { recursive: true }));

/** A folder with a program of that name. */
function programIn(name: string, script: string): string {
  const folder = join(root, name);
  mkdirSync(folder);
  const file = join(folder, 'ffmpeg');
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return folder;
}

const says = (version: string) => `echo "ffmpeg version ${version} Copyright"`;

describe.skipIf(process.platform === 'win32')('the program', () => {
  test.each([
    ['4.4.2-0ubuntu0.22.04.1', undefined],
    ['5.0.1', false],
    ['n5.1.4', true],
    ['7.1-full_build-www.example.org', true],
    ['N-112000-g1a2b3c4', true],
    ['2026-10-01-git-abcdef', true],
  ])('version %s', async (version, hasFpsMode) => {
    const folder = programIn(`v-${version}`, says(version));
    expect((await findFfmpeg(folder))?.hasFpsMode).toBe(hasFpsMode);
  });

  test('is the first on the path that will do, and never one that lies beside the files', async () => {
    const [old, good] = [programIn('old', says('3.4')), programIn('good', says('6.1'))];
    expect((await findFfmpeg(`.:bin::${old}:${good}`))!.path).toBe(join(good, 'ffmpeg'));
    expect(await findFfmpeg('.:bin')).toBeUndefined();
    expect(await findFfmpeg('')).toBeUndefined();
  });

  test('is told what it may open, and knows nothing of the rest of the environment', async () => {
    process.env['FFREPORT'] = `file=${join(root, 'report.log')}`;
    const folder = programIn(
      'tells',
      'if [ "$2" = "-version" ]; then echo "ffmpeg version 6.0"; else printf "%s\\n" "$@"; env; fi',
    );
    const program = (await findFfmpeg(folder))!;
    const chunks: Buffer[] = [];
    const take = (chunk: Buffer) => chunks.push(chunk);
    await decodeFile(program, "/clips/-i x;$(id)'.mp4", { output: ['-f', 'null'] }, take, { mostS: 20 });
    delete process.env['FFREPORT'];
    const said = Buffer.concat(chunks).toString();
    expect(said).toContain('-nostdin\n');
    expect(said).toContain('-protocol_whitelist\nfile,pipe\n');
    expect(said).toContain("-i\nfile:/clips/-i x;$(id)'.mp4\n");
    expect(said).not.toContain('FFREPORT');
  });

  test('that takes too long, or puts out too much, is ended', async () => {
    const slow = (await findFfmpeg(
      programIn('slow', 'if [ "$2" = "-version" ]; then echo "ffmpeg version 6.0"; else exec sleep 100; fi'),
    ))!;
    const nothing = { output: [] };
    expect((await decodeFile(slow, '/x', nothing, () => undefined, { mostS: 0.3 })).why).toBe('took longer than 0.3 s');
    const much = (await findFfmpeg(
      programIn('much', 'if [ "$2" = "-version" ]; then echo "ffmpeg version 6.0"; else exec yes; fi'),
    ))!;
    const ended = await decodeFile(much, '/x', nothing, () => undefined, { mostS: 60, mostBytes: 100_000 });
    expect(ended.why).toBe('is larger than what is looked at');
  });
});

describe('what was measured', () => {
  const kept = new Kept<Decoded>(decodedClips, join(root, 'cache'));
  const at = { file: '/clips/A.MP4', bytes: 100, changedMs: 5 };

  test('is known of the same file only', () => {
    kept.write(at, { failed: 'nothing' });
    expect(kept.read(at)).toEqual({ failed: 'nothing' });
    expect(kept.read({ ...at, bytes: 101 })).toBeUndefined();
    expect(kept.read({ ...at, changedMs: 6 })).toBeUndefined();
    expect(kept.read({ ...at, file: '/clips/B.MP4' })).toBeUndefined();
  });

  test('is kept where the system keeps what can be made again, never by a relative name', () => {
    expect(cacheFolder({ XDG_CACHE_HOME: '/var/cache/me' })).toBe('/var/cache/me/shoot-spec');
    expect(cacheFolder({ XDG_CACHE_HOME: 'here' })).not.toContain('here');
  });

  test('does not matter where it can not be kept', () => {
    writeFileSync(join(root, 'a-file'), '');
    const nowhere = new Kept<Decoded>(decodedClips, join(root, 'a-file'));
    nowhere.write(at, {});
    expect(nowhere.read(at)).toBeUndefined();
    expect(existsSync(join(root, 'a-file'))).toBe(true);
    expect(readFileSync(join(root, 'a-file'), 'utf8')).toBe('');
  });
});
