/** Music listened to: from files of several kinds, in the editor when it is asked for, and on the command line. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, test } from 'vitest';
import { Listener } from '../../server/footage/decode/listener.ts';
import { Kept, musicHeard } from '../../server/footage/decode/kept.ts';
import { RepoMusic } from '../../server/footage/repo-music.ts';
import { madeClip } from '../helpers/clips.ts';
import { shootspec } from '../helpers/command.ts';
import { played, waltz } from '../helpers/music.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { spec, specPath } from '../helpers/workspace.ts';

const text = `format: 1\n${spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, loudness: -14 LUFS }
music: { track: tune, tempo: 103 bpm, first-beat: 0.4 s }
rights:
  tune: { kind: music, owner: own, file: music/tune.flac }
`)}`;
const cache = mkdtempSync(join(tmpdir(), 'cache-'));
const usual = process.env['XDG_CACHE_HOME'];
let repo: DiskRepo;

/** A waltz at 100 bpm whose first beat is at 0.4 s. */
function tune(ending: string, args: readonly string[] = []): string {
  const sound = played(14, 24_000, waltz({ bpm: 100, firstS: 0.4, seconds: 14, seed: 3 }));
  const raw = ['-f', 'f32le', '-ar', '24000', '-ac', '1', '-i', 'pipe:0'];
  return madeClip(ending, [...raw, ...args], Buffer.from(sound.buffer));
}

beforeAll(() => {
  process.env['XDG_CACHE_HOME'] = cache;
  repo = new DiskRepo({ [specPath]: text });
  mkdirSync(join(repo.root, 'music'));
  copyFileSync(tune('flac'), join(repo.root, 'music/tune.flac'));
  copyFileSync(tune('mp3', ['-b:a', '96k']), join(repo.root, 'music/tune.mp3'));
  copyFileSync(tune('m4a', ['-b:a', '96k', '-ac', '2']), join(repo.root, 'music/tune.m4a'));
  writeFileSync(join(repo.root, 'music/words.wav'), 'RIFF is how such a file begins, and this is none.');
});
afterAll(() => {
  if (usual === undefined) delete process.env['XDG_CACHE_HOME'];
  else process.env['XDG_CACHE_HOME'] = usual;
  repo.remove();
  rmSync(cache, { recursive: true });
});

test.each(['flac', 'mp3', 'm4a'])(
  'a waltz at 100 bpm is heard in a %s file, and what was heard is kept',
  async (ending) => {
    const kept = new Kept<never>(musicHeard, join(cache, 'here'));
    const music = new RepoMusic(new Listener(kept));
    expect(music.known(repo.root, `music/tune.${ending}`)).toBeUndefined();
    await music.listen(repo.root, `music/tune.${ending}`);
    const { rows, durationS } = music.known(repo.root, `music/tune.${ending}`)!;
    expect(rows[0]!.bpm).toBeCloseTo(100, 1);
    expect(Math.abs(rows[0]!.firstS - 0.4)).toBeLessThan(0.01);
    expect(durationS).toBeCloseTo(14, 0);
    const another = new RepoMusic(new Listener(kept, () => Promise.resolve(undefined)));
    expect(another.known(repo.root, `music/tune.${ending}`)?.rows).toHaveLength(rows.length);
  },
);

test('what is no music, is not there or lies elsewhere is not heard', async () => {
  const music = new RepoMusic(new Listener());
  for (const path of ['music/words.wav', 'music/none.wav', '../tune.wav', 'music']) {
    await music.listen(repo.root, path);
    expect(music.known(repo.root, path), path).toBeUndefined();
  }
});

it('is listened to in the editor when that is asked for, and in a trusted folder alone', async () => {
  for (const trusted of [false, true]) {
    const client = new Client();
    await client.initialize(repo.root, {}, undefined, { trusted });
    await client.open(repo.uri(specPath), text, 1, 'shoot-spec');
    const asked = { textDocument: { uri: repo.uri(specPath) } };
    const heard = await client.connection.sendRequest('shootSpec/listen', asked);
    const words = expect.stringMatching(/^100 bpm, first beat at 0\.(4|40\d|39\d) s$/) as string;
    expect(heard).toEqual(trusted ? { outcome: 'done', heard: words } : { outcome: 'nothing' });
    const isSaid = (found: readonly { code?: unknown }[]) => found.some(({ code }) => code === 'music-not-as-heard');
    if (trusted) await client.findings(repo.uri(specPath), isSaid);
    await client.stop();
  }
});

it('is listened to by the command with --decode alone', () => {
  const check = (...args: string[]) => shootspec(['check', specPath, ...args], { cwd: repo.root }).stdout;
  expect(check()).not.toContain('music-not-as-heard');
  expect(check('--decode')).toContain('is heard at 100 bpm, not 103 bpm');
});
