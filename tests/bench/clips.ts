/** Clips as a long day leaves them: real indexes of four minutes behind media that take no room on the disk. */
import {
  closeSync,
  ftruncateSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  utimesSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pictureClip } from '../helpers/clips.ts';
import { kits, spec } from '../helpers/workspace.ts';

export const clipCount = 300;
const mediaBytes = 1024 * 1024 * 1024;
const takesOfShot = 6;
/** One after the other, in one long day. */
const secondsApart = 245;

/** A repo with a sheet of all clips, which lie in `footage/`. */
export function dayOfClips(): { readonly folder: string; readonly sheet: string } {
  const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-clips-'));
  const { head, index } = partsOf(pictureClip({ seconds: 240, sound: 2, clock: '2026-12-02T01:00:00Z' }));
  mkdirSync(join(folder, 'footage'));
  const names = Array.from({ length: clipCount }, (_, number) => `C${String(number).padStart(4, '0')}.MP4`);
  for (const [number, name] of names.entries())
    writeSparse(join(folder, 'footage', name), head, recordedLater(index, number * secondsApart));
  mkdirSync(join(folder, 'kits'));
  for (const [path, text] of Object.entries(kits)) writeFileSync(join(folder, path), text);
  writeFileSync(join(folder, 'shootspec.yaml'), 'format: 1\n');
  const shots = Array.from({ length: clipCount / takesOfShot }, (_, number) => `shot-${number}`);
  const plan = `shots:\n${shots.map((shot) => `  ${shot}: { record: 12 s }\n`).join('')}cut:\n  - { shot: shot-0, length: 10 s }\n`;
  writeFileSync(join(folder, 'film.shoot.yaml'), spec(plan));
  const takes = shots.map((shot, number) => {
    const clips = names.slice(number * takesOfShot, (number + 1) * takesOfShot);
    return `  ${shot}:\n${clips.map((clip) => `    - { clip: ${clip}, judged: good }\n`).join('')}`;
  });
  writeFileSync(
    join(folder, 'film.takes.yaml'),
    `format: 1\nspec: film.shoot.yaml\nday: 2026-12-02\ntakes:\n${takes.join('')}`,
  );
  return { folder, sheet: join(folder, 'film.takes.yaml') };
}

/** What stands before the media, and the index behind them. */
function partsOf(file: string): { head: Buffer; index: Buffer } {
  const bytes = readFileSync(file);
  let at = 0;
  let head = bytes.subarray(0, 0);
  while (at < bytes.length) {
    const [length, type] = [bytes.readUInt32BE(at), bytes.toString('latin1', at + 4, at + 8)];
    if (type === 'mdat') head = bytes.subarray(0, at);
    if (type === 'moov') return { head, index: bytes.subarray(at, at + length) };
    at += length;
  }
  throw new Error('the clip has no index');
}

/** The same index with another time of recording: `mvhd` is its first box. */
function recordedLater(index: Buffer, seconds: number): Buffer {
  const later = Buffer.from(index);
  later.writeUInt32BE(index.readUInt32BE(20) + seconds, 20);
  return later;
}

function writeSparse(file: string, head: Buffer, index: Buffer): void {
  const media = Buffer.alloc(16);
  media.writeUInt32BE(1);
  media.write('mdat', 4, 'latin1');
  media.writeBigUInt64BE(BigInt(mediaBytes), 8);
  const descriptor = openSync(file, 'w');
  writeSync(descriptor, head, 0, head.length, 0);
  writeSync(descriptor, media, 0, media.length, head.length);
  ftruncateSync(descriptor, head.length + mediaBytes);
  writeSync(descriptor, index, 0, index.length, head.length + mediaBytes);
  closeSync(descriptor);
  utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
}
