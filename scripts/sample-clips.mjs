/**
 * `npm run sample-clips`: makes the clips that `sample-workspace/music-box.takes.yaml` names, by ffmpeg, with what its plan
 * asks and two faults that a day brings home: one was recorded at 29.97, one at half the size. Each shows its shot as the plan
 * draws it, with grain, and a mark that runs along its foot once a second. They are never kept in git.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const samples = path.resolve(import.meta.dirname, '../sample-workspace');
const folder = path.join(samples, 'footage/music-box/day-1');

/** One second of each kind is encoded and then repeated, which takes no time. */
const kinds = {
  planned: { raster: '3840x2160', rate: '25' },
  otherRate: { raster: '3840x2160', rate: '30000/1001' },
  small: { raster: '1920x1080', rate: '25' },
};

const clips = [
  ['C0012.MP4', 'opening', 'planned', 14, '09:41:10'],
  ['C0013.MP4', 'opening', 'planned', 15, '09:52:31'],
  ['C0014.MP4', 'opening', 'planned', 14, '09:58:02'],
  ['C0015.MP4', 'hand-turns', 'planned', 95, '10:40:20'],
  ['C0016.MP4', 'teeth', 'planned', 11, '11:30:00'],
  ['C0017.MP4', 'teeth', 'otherRate', 11, '11:34:12'],
  ['C0018.MP4', 'from-above', 'small', 12, '13:05:45'],
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

function second(shot, { raster, rate }) {
  const name = path.join(folder, `${shot}-${raster}-${rate.replace('/', '-')}.part`);
  const [width] = raster.split('x');
  const cli = path.resolve(import.meta.dirname, '../dist/cli.cjs');
  const draw = ['draw', 'music-box.shoot.yaml', '--as', 'lit', '--shot', shot, '--width', width, '-o', `${name}.png`];
  execFileSync(process.execPath, [cli, ...draw], { cwd: samples, stdio: 'inherit' });
  const still = ['-loop', '1', '-framerate', rate, '-t', '1', '-i', `${name}.png`];
  const mark = ['-f', 'lavfi', '-i', `color=#e8d9b0:s=${width / 40}x${width / 80}:r=${rate}:d=1`];
  const film = `[0]scale=${raster.replace('x', ':')}:out_color_matrix=bt709,noise=alls=5:allf=t[s];[s][1]overlay=x=(W-w)*t:y=H-h`;
  const marks = ['-color_primaries', 'bt709', '-color_trc', 'bt709', '-colorspace', 'bt709'];
  const codec = ['-c:v', 'libx265', '-preset', 'ultrafast', '-pix_fmt', 'yuv422p10le', '-tag:v', 'hvc1'];
  const params = ['-x265-params', 'log-level=error:bframes=0:keyint=60'];
  ffmpeg(...still, ...mark, '-filter_complex', film, ...codec, ...marks, ...params, `${name}.mp4`);
  fs.rmSync(`${name}.png`);
  return `${name}.mp4`;
}

fs.mkdirSync(folder, { recursive: true });
const seconds = new Map();
for (const [name, shot, kind, length, clock] of clips) {
  const key = `${shot} ${kind}`;
  if (!seconds.has(key)) seconds.set(key, second(shot, kinds[kind]));
  const repeated = ['-stream_loop', String(length - 1), '-i', seconds.get(key), '-c', 'copy', '-tag:v', 'hvc1'];
  ffmpeg(...repeated, '-metadata', `creation_time=2026-12-02T${clock}Z`, path.join(folder, name));
}
for (const file of seconds.values()) fs.rmSync(file);
ffmpeg('-f', 'lavfi', '-i', 'sine=frequency=523:sample_rate=48000:duration=98', path.join(folder, 'S0001.WAV'));
console.log(`${clips.length} clips and a sound in ${path.relative(process.cwd(), folder)}`);
