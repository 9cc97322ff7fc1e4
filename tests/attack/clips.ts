/**
 * `npm run attack-clips -- NUMBER SEED`: spoilt containers, each through the thread that reads clips as it ships. Every one
 * must have an answer, within a second of reckoning, and the process must not grow beyond its limit. It prints how many of
 * each answer there were, the longest and the largest.
 */
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { threadReader } from '../../server/footage/clip-reader.ts';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { Random } from '../hostile/random.ts';
import { spoiltClip, wholeClips } from '../hostile/spoilt-clips.ts';

const [number = '20000', seed = '20261129'] = process.argv.slice(2);
const random = new Random(Number(seed));
const folder = mkdtempSync(join(tmpdir(), 'spoilt-clips-'));
const reader = threadReader(resolve('dist/clips.cjs'));
const inFolder = new FootageFolder(folder);
const clips = wholeClips();
const mostMb = 200;

const answers = new Map<string, number>();
const failures: string[] = [];
let [longestMs, largestMb, bytesRead] = [0, 0, 0];
// What the program and the first clips take is there before.
await readOne(clips[0]!.bytes);
const startMb = heldMb();

for (let index = 0; index < Number(number); index++) {
  const { name, bytes } = random.of(clips);
  const spoilt = spoiltClip(bytes, random);
  const started = process.cpuUsage();
  const { facts, why, bytesRead: read } = await readOne(spoilt.bytes);
  const { user, system } = process.cpuUsage(started);
  const tookMs = (user + system) / 1000;
  const answer = why ?? (facts ? 'read all the same' : 'nothing');
  answers.set(answer, (answers.get(answer) ?? 0) + 1);
  longestMs = Math.max(longestMs, tookMs);
  bytesRead = Math.max(bytesRead, read);
  const grownMb = heldMb() - startMb;
  largestMb = Math.max(largestMb, grownMb);
  if (answer === 'nothing') failures.push(`${index} ${name} ${spoilt.way}: no answer`);
  if (tookMs > 1500) failures.push(`${index} ${name} ${spoilt.way}: ${Math.round(tookMs)} ms`);
  if (grownMb > mostMb) failures.push(`${index} ${name} ${spoilt.way}: ${Math.round(grownMb)} MB more`);
  if (index % 2000 === 1999)
    console.log(`${index + 1} read, longest ${Math.round(longestMs)} ms, ${Math.round(largestMb)} MB more`);
}
reader.end();
rmSync(folder, { recursive: true });

console.log(`seed ${seed}, ${number} spoilt containers`);
for (const [answer, count] of [...answers].sort((a, b) => b[1] - a[1])) console.log(`  ${count} ${answer}`);
console.log(
  `longest ${Math.round(longestMs)} ms, at most ${Math.round(largestMb)} MB more, at most ${bytesRead} bytes read of one`,
);
for (const failure of failures.slice(0, 40)) console.log(`FOUND ${failure}`);
process.exitCode = failures.length > 0 ? 1 : 0;

/** What the process holds besides what this attack itself makes. */
function heldMb(): number {
  const { rss, heapTotal, external } = process.memoryUsage();
  return (rss - heapTotal - external) / 1e6;
}

async function readOne(bytes: Uint8Array) {
  const file = join(folder, 'clip');
  writeFileSync(file, bytes);
  const at = inFolder.locate('clip');
  if ('problem' in at || statSync(file).size !== bytes.length) throw new Error('the clip is not there');
  return reader.read(at);
}
