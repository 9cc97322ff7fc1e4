/**
 * The project's own benchmark: what we add, as a ratio to a floor that was measured in the same run on the same machine.
 * `npm run bench` prints a table and exits with 1 when a ratio is over its goal.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseDocument } from 'yaml';
import { Checker } from '../../server/core/checker.ts';
import { rules } from '../../server/rules/index.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { memoryHost } from '../helpers/workspace.ts';
import { specOf } from './specs.ts';

interface Row {
  readonly what: string;
  readonly ms: number;
  readonly floor: string;
  readonly floorMs: number;
  readonly goal: number;
}

const rows: Row[] = [];
const dist = join(process.cwd(), 'dist');

/** The middle one of several times, in ms; the floor is timed in between, so that both see the same machine. */
function interleaved(runs: number, one: () => void, floor: () => void): { ms: number; floorMs: number } {
  const times: number[] = [];
  const floors: number[] = [];
  for (let run = 0; run < runs; run++) {
    floors.push(timed(floor));
    times.push(timed(one));
  }
  return { ms: middle(times), floorMs: middle(floors) };
}

function timed(run: () => void): number {
  const start = performance.now();
  run();
  return performance.now() - start;
}

function middle(times: number[]): number {
  return times.sort((a, b) => a - b)[times.length >> 1]!;
}

function parse(text: string): void {
  parseDocument(text, { uniqueKeys: false });
}

function checkSpec(): void {
  const text = specOf(300);
  const checker = new Checker(memoryHost({}), rules);
  const run = () => void checker.checkAs('shoot', text);
  for (let warm = 0; warm < 60; warm++) {
    run();
    parse(text);
  }
  rows.push({
    what: 'check of a 300-line spec, warm',
    floor: 'yaml parse',
    goal: 2,
    ...interleaved(41, run, () => parse(text)),
  });
}

async function keystroke(): Promise<void> {
  const text = specOf(5000);
  const repo = new DiskRepo();
  const client = new Client();
  await client.initialize(repo.root);
  const uri = repo.uri('long.shoot.yaml');
  await client.open(uri, text);
  await client.findings(uri, (_, version) => version === 1);
  const line = text.split('\n').findIndex((one) => one.includes('notes: The crank'));
  const times: number[] = [];
  const floors: number[] = [];
  for (let version = 2; version < 40; version++) {
    floors.push(timed(() => parse(text)));
    const start = performance.now();
    void client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range: { start: { line, character: 11 }, end: { line, character: 11 } }, text: 'x' }],
    });
    await client.findings(uri, (_, pushed) => pushed === version);
    times.push(performance.now() - start);
  }
  await client.stop();
  repo.remove();
  rows.push({
    what: 'a key typed in 5,000 lines, to its findings in the editor',
    ms: middle(times),
    floor: 'yaml parse',
    floorMs: middle(floors),
    goal: 2,
  });
}

/** The pictures of one shot among 200, and of the whole film, right after a check; a frame of a 60 Hz screen is the floor. */
function pictures(): void {
  const text = spec200();
  const checker = new Checker(memoryHost({}), rules);
  const about = { shot: 'a shot', film: 'the film' } as const;
  for (const kind of ['shot', 'film'] as const) {
    const names = views.filter((view) => view.about === kind).map((view) => view.name);
    const times = Array.from({ length: 40 }, (_, run) => {
      const result = checker.checkAs('shoot', text);
      return timed(() => {
        for (const name of names) pictureText(draw(name, result, { shot: `shot-${(run * 37) % 200}` })!);
      });
    });
    rows.push({
      what: `all ${names.length} pictures of ${about[kind]} with 200 shots, after its check`,
      ms: middle(times.slice(10)),
      floor: 'one frame at 60 Hz',
      floorMs: 1000 / 60,
      goal: 1,
    });
  }
}

/** Ten lines a shot, and the head. */
function spec200(): string {
  return specOf(2000 + specOf(1).split('\n').length - 10);
}

function start(): void {
  const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-bench-'));
  const [spec, empty] = [join(folder, 'a.shoot.yaml'), join(folder, 'empty.cjs')];
  writeFileSync(spec, specOf(40).replace(/^kit: .*\n/m, ''));
  writeFileSync(empty, '');
  const node =
    (...args: string[]) =>
    () =>
      void spawnSync(process.execPath, args, { cwd: folder });
  const times = interleaved(25, node(join(dist, 'cli.cjs'), 'check', spec), node(empty));
  rmSync(folder, { recursive: true });
  rows.push({ what: '`shootspec check` of one small file', floor: 'an empty node process', goal: 2, ...times });
}

checkSpec();
pictures();
await keystroke();
start();
for (const { what, ms, floor, floorMs, goal } of rows) {
  const ratio = ms / floorMs;
  console.log(
    `${ratio <= goal ? 'ok  ' : 'over'} ${what}: ${ms.toFixed(1)} ms = ${ratio.toFixed(2)} × ${floor} (${floorMs.toFixed(1)} ms); goal ${goal} ×`,
  );
}
if (rows.some(({ ms, floorMs, goal }) => ms / floorMs > goal)) process.exitCode = 1;
