/** The finished film is the file that its deliverable is, and is judged as its master. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { shootspec } from '../helpers/command.ts';
import { aFolder, assembled } from '../helpers/assembled.ts';
import { drawnClip, litBy } from '../helpers/film-clips.ts';
import { planOf } from '../helpers/filmed.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const takes = 'takes:\n  box: { clip: A.MP4, judged: best }\n';
const planWith = (deliver: string, length = '2 s') =>
  planOf(
    {},
    `deliver:\n  film: { rate: 25, sound: none, ${deliver} }\nshots:\n  box: { record: 2 s, handles: 0 s }\ncut:\n  - { shot: box, length: ${length} }\n`,
  );

/** What another program reads in its head. */
function streamOf(file: string): Record<string, unknown> {
  const { stdout } = spawnSync(
    'ffprobe',
    ['-v', 'error', '-select_streams', 'v', '-show_streams', '-of', 'json', file],
    { encoding: 'utf8' },
  );
  return (JSON.parse(stdout) as { streams: Record<string, unknown>[] }).streams[0]!;
}

/** Some containers do not say: they are counted. */
function framesIn(file: string): number {
  const args = ['-v', 'error', '-select_streams', 'v', '-count_packets', '-show_entries', 'stream=nb_read_packets'];
  return Number(spawnSync('ffprobe', [...args, '-of', 'csv=p=0', file], { encoding: 'utf8' }).stdout.trim());
}

it.each([
  [
    'codec: h264, profile: main, codec-level: 3.1, raster: 320x180, bitrate: 1 Mb/s',
    { codec_name: 'h264', profile: 'Main', level: 31, pix_fmt: 'yuv420p', width: 320 },
  ],
  [
    'codec: h264, profile: high-4-2-2, bits: 10, chroma: 4:2:2, raster: 320x180',
    { codec_name: 'h264', profile: 'High 4:2:2', pix_fmt: 'yuv422p10le' },
  ],
  [
    'codec: h265, profile: main-10, codec-level: 4.0, bits: 10, raster: 320x180',
    { codec_name: 'hevc', profile: 'Main 10', level: 120, pix_fmt: 'yuv420p10le', codec_tag_string: 'hvc1' },
  ],
  ['container: webm, codec: vp9, raster: 320x180', { codec_name: 'vp9', profile: 'Profile 0', pix_fmt: 'yuv420p' }],
  ['container: webm, codec: av1, raster: 320x180', { codec_name: 'av1', profile: 'Main', pix_fmt: 'yuv420p' }],
  ['container: mp4, codec: av1, bits: 10, raster: 320x180', { codec_name: 'av1', pix_fmt: 'yuv420p10le' }],
])('is coded as the plan says: %s', async (deliver, expected) => {
  const plan = planWith(deliver, '10 frames');
  const file = await assembled({ plan, takes, clips: { 'A.MP4': drawnClip({ seconds: 1 }) } });
  const marks = { color_primaries: 'bt709', color_transfer: 'bt709', color_space: 'bt709', color_range: 'tv' };
  expect(streamOf(file)).toMatchObject({ ...expected, ...marks, r_frame_rate: '25/1' });
  expect(framesIn(file)).toBe(10);
});

it('says what the checks of masters find in it', () => {
  const root = aFolder();
  const flashing = drawnClip({ seconds: 2, light: litBy((frame) => (frame % 4 < 2 ? 2.5 : 0.1)) });
  mkdirSync(join(root, 'footage'));
  copyFileSync(flashing, join(root, 'footage/A.MP4'));
  utimesSync(join(root, 'footage/A.MP4'), new Date('2026-01-01'), new Date('2026-01-01'));
  writeFileSync(join(root, specPath), spec(planWith('codec: h264, raster: 160x90, bitrate: 1 Mb/s')));
  writeFileSync(join(root, sheetPath), `format: 1\n${sheet(takes)}`);
  const env = { ...process.env, XDG_CACHE_HOME: aFolder() };
  const { status, stderr } = shootspec(['assemble', specPath, '-o', 'film.mp4'], { cwd: root, env });
  expect(status).toBe(0);
  expect(stderr).toMatch(/^shootspec: (error|warning): `film\.mp4` .*\[master-flashes\]$/m);
});
