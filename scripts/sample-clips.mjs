/**
 * `npm run sample-clips`: makes the clips that `sample-workspace/music-box.takes.yaml` names, by ffmpeg, with what its plan
 * asks and two faults that a day brings home: one was recorded at 29.97, one at half the size. They are never kept in git.
 */
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const folder = path.resolve(import.meta.dirname, '../sample-workspace/footage/music-box/day-1');

/** One second of each kind is encoded and then repeated, which takes no time. */
const kinds = {
  planned: { raster: '3840x2160', rate: '25' },
  otherRate: { raster: '3840x2160', rate: '30000/1001' },
  small: { raster: '1920x1080', rate: '25' },
};

const clips = [
  ['C0012.MP4', 'planned', 14, '09:41:10'],
  ['C0013.MP4', 'planned', 15, '09:52:31'],
  ['C0014.MP4', 'planned', 14, '09:58:02'],
  ['C0015.MP4', 'planned', 95, '10:40:20'],
  ['C0016.MP4', 'planned', 11, '11:30:00'],
  ['C0017.MP4', 'otherRate', 11, '11:34:12'],
  ['C0018.MP4', 'small', 12, '13:05:45'],
];

function ffmpeg(...args) {
  const { status, error } = spawnSync('ffmpeg', ['-v', 'error', '-y', ...args], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  if (status !== 0) {
    console.error(error ? 'This needs ffmpeg.' : 'ffmpeg could not make it.');
    process.exit(1);
  }
}

function second(name, { raster, rate }) {
  const file = path.join(folder, `${name}.part.mp4`);
  const picture = [
    '-f',
    'lavfi',
    '-i',
    `gradients=size=${raster}:rate=${rate}:c0=#7a3b2e:c1=#d9d4c8:duration=1:speed=0.00001`,
  ];
  const marks = ['-color_primaries', 'bt709', '-color_trc', 'bt709', '-colorspace', 'bt709'];
  const codec = ['-c:v', 'libx265', '-preset', 'ultrafast', '-pix_fmt', 'yuv422p10le', '-tag:v', 'hvc1'];
  ffmpeg(...picture, ...codec, ...marks, '-x265-params', 'log-level=error:bframes=0:keyint=60', file);
  return file;
}

fs.mkdirSync(folder, { recursive: true });
const seconds = Object.fromEntries(Object.entries(kinds).map(([name, kind]) => [name, second(name, kind)]));
for (const [name, kind, length, clock] of clips) {
  const repeated = ['-stream_loop', String(length - 1), '-i', seconds[kind], '-c', 'copy', '-tag:v', 'hvc1'];
  ffmpeg(...repeated, '-metadata', `creation_time=2026-12-02T${clock}Z`, path.join(folder, name));
}
for (const file of Object.values(seconds)) fs.rmSync(file);
ffmpeg('-f', 'lavfi', '-i', 'sine=frequency=523:sample_rate=48000:duration=98', path.join(folder, 'S0001.WAV'));
console.log(`${clips.length} clips and a sound in ${path.relative(process.cwd(), folder)}`);
