/**
 * `node scripts/film-memory.mjs SPEC [ARGUMENTS…]`: assembles a film and prints the most memory that the command and each
 * ffmpeg that it ran had at once, in MB. Linux alone: it reads what /proc says.
 */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'film-memory-'));
const cli = path.resolve(import.meta.dirname, '../dist/cli.cjs');
const args = [cli, 'assemble', ...process.argv.slice(2), '-o', path.join(folder, 'film.mp4')];
const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] });

const most = { ours: 0, ffmpeg: 0, together: 0 };
const peakMb = (pid) => Number(/VmHWM:\s*(\d+)/.exec(fs.readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024;
const nowMb = (pid) => Number(/VmRSS:\s*(\d+)/.exec(fs.readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024;
const childrenOf = (pid) =>
  fs
    .readdirSync(`/proc/${pid}/task`)
    .flatMap((task) => fs.readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8').split(' '))
    .filter(Boolean);

const looking = setInterval(() => {
  try {
    most.ours = Math.max(most.ours, peakMb(child.pid));
    const programs = childrenOf(child.pid);
    for (const one of programs) most.ffmpeg = Math.max(most.ffmpeg, peakMb(one));
    most.together = Math.max(
      most.together,
      programs.reduce((sum, one) => sum + nowMb(one), 0),
    );
  } catch {
    // One of them has just ended.
  }
}, 50);

child.on('exit', (code) => {
  clearInterval(looking);
  fs.rmSync(folder, { recursive: true });
  const [ours, ffmpeg, together] = [most.ours, most.ffmpeg, most.together].map(Math.round);
  console.log(`the command ${ours} MB, the largest ffmpeg ${ffmpeg} MB, all of them at once ${together} MB`);
  process.exitCode = code ?? 1;
});
