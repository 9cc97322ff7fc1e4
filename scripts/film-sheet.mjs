/**
 * Renews docs/film.png: frames of the film of a sample, put together from its plan alone, two seconds apart. With `takes`,
 * docs/film-from-takes.png: the same film from takes that `npm run sample-clips` made for it.
 */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'film-sheet-'));
const film = path.join(folder, 'film.mp4');
const cli = path.join(root, 'dist/cli.cjs');
const run = (program, ...args) =>
  execFileSync(program, args, { stdio: 'inherit', cwd: path.join(root, 'sample-workspace') });

const fromTakes = process.argv[2] === 'takes';
// An empty folder of footage: what lies beside the sample does not count.
const footage = fromTakes ? [] : ['--footage', folder];
const picture = path.join(root, fromTakes ? 'docs/film-from-takes.png' : 'docs/film.png');

run(process.execPath, cli, 'assemble', 'music-box.shoot.yaml', '--draft', ...footage, '-o', film);
const sheet = "select='not(mod(n-24,50))',scale=320:-1:flags=area,tile=4x3:padding=4:color=white";
run('ffmpeg', '-v', 'error', '-y', '-i', film, '-vf', sheet, '-frames:v', '1', picture);
fs.rmSync(folder, { recursive: true });
