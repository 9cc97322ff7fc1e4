/**
 * The project's own benchmark: what we add, as a ratio to a floor that was measured in the same run on the same machine.
 * `npm run bench` prints a table and exits with 1 when a ratio is over its goal.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { parseDocument } from 'yaml';
import { Checker } from '../../server/core/checker.ts';
import { LiveSpec } from '../../server/core/live/spec.ts';
import { rules } from '../../server/rules/index.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { kits, memoryHost } from '../helpers/workspace.ts';
import { another, specOf, specOfShots } from './specs.ts';

interface Row {
  readonly what: string;
  readonly ms: number;
  readonly floor: string;
  readonly floorMs: number;
  readonly goal: number;
  readonly unit?: 'MB';
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
  for (let warm = 0; warm < 400; warm++) {
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
  const line = text.split('\n').findIndex((one) => one.includes('The felt is borrowed'));
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

/** A key typed in the value of one shot of a very long spec, to all its findings with their lines. */
function liveEdits(): void {
  const base = specOf(20_000);
  const at = base.indexOf('record: 14 s', base.length / 2) + 'record: '.length;
  const checker = new Checker(memoryHost({}), rules);
  const settings = checker.settings();
  const live = new LiveSpec(checker);
  live.update(base, settings);
  let count = 0;
  const key = () => {
    // Another number each time; what was typed before is not known any more.
    const text = `${base.slice(0, at)}${14 + (++count % 3)} s${base.slice(at + 4)}`;
    const { findings, doc } = live.update(text, settings);
    for (const finding of findings) doc.lines.range(finding);
  };
  for (let warm = 0; warm < 300; warm++) key();
  // A line's worth of keys: what the floor leaves to be cleaned up is soon gone.
  const keys = 40;
  const { ms, floorMs } = interleaved(
    21,
    () => Array.from({ length: keys }, key),
    () => parse(base),
  );
  rows.push({
    what: 'a key typed in one shot of 20,000 lines, to all findings',
    ms: ms / keys,
    floor: 'yaml parse',
    floorMs,
    goal: 0.02,
  });
}

/** What a very long spec holds in memory while it is edited, beside the document that the library makes of it. */
function memory(): void {
  const text = specOf(20_000);
  const checker = new Checker(memoryHost({}), rules);
  const settings = checker.settings();
  const at = text.indexOf('record: 14 s', text.length / 2) + 'record: '.length;
  const edit = (keys: number) => {
    const live = new LiveSpec(checker);
    let result = live.update(text, settings);
    for (let key = 0; key < keys; key++) result = live.update(`${text.slice(0, at)}${key}${text.slice(at)}`, settings);
    return { live, result };
  };
  // What is compiled and known for all specs is not this one's.
  void edit(3).result.film;
  const floor = heldMb(() => parseDocument(text, { uniqueKeys: false }));
  const floorMs = { floor: 'the parsed document', floorMs: floor, goal: 3, unit: 'MB' } as const;
  rows.push({ what: 'memory of 20,000 lines being edited', ms: heldMb(() => edit(50)), ...floorMs });
  const read = () => {
    const { live, result } = edit(50);
    return [live, result, result.doc.root, result.film];
  };
  rows.push({ what: 'the same when a hover or the pictures read them too', ms: heldMb(read), ...floorMs });
  rows.push({ what: 'what is left of it when it is closed', ms: heldMb(() => void edit(50)), ...floorMs, goal: 0.1 });
}

/** How much more memory is in use while what `make` returns is held, in MB. */
function heldMb(make: () => unknown): number {
  return middle(
    Array.from({ length: 5 }, () => {
      const before = usedMb();
      const held = [make()];
      const after = usedMb();
      held.length = 0;
      return after - before;
    }),
  );
}

function usedMb(): number {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  for (let round = 0; round < 3; round++) collect();
  return process.memoryUsage().heapUsed / 1e6;
}

/** Every request of an editor on a long file that is checked, and completion right after a key. */
async function requests(): Promise<void> {
  const text = specOf(5000);
  const repo = new DiskRepo({ 'long.shoot.yaml': text });
  const client = new Client();
  await client.initialize(repo.root);
  const uri = repo.uri('long.shoot.yaml');
  await client.open(uri, text);
  await client.findings(uri, (_, version) => version === 1);
  const textDocument = { uri };
  const lines = text.split('\n');
  const place = (piece: string, more: number) => {
    const line = lines.findLastIndex((one) => one.includes(piece));
    return { line, character: lines[line]!.indexOf(piece) + more };
  };
  const [value, use, lamp] = [place('shutter: 1/50 s', 9), place('shot: shot-', 8), place('use: panel', 6)];
  const screen = { start: { line: 4000, character: 0 }, end: { line: 4060, character: 0 } };
  const asked: readonly (readonly [string, string, object])[] = [
    ['hover', 'hover', { position: value }],
    ['completion of a value', 'completion', { position: value }],
    ['completion of a key', 'completion', { position: { ...value, character: 6 } }],
    ['completion of a name', 'completion', { position: use }],
    ['hints of a screenful', 'inlayHint', { range: screen }],
    ['definition', 'definition', { position: use }],
    ['references', 'references', { position: use, context: { includeDeclaration: true } }],
    ['highlights', 'documentHighlight', { position: use }],
    ['rename', 'rename', { position: use, newName: 'another' }],
    ['rename of gear, through the repo', 'rename', { position: lamp, newName: 'another' }],
    ['symbols', 'documentSymbol', {}],
    ['folds', 'foldingRange', {}],
    ['selections', 'selectionRange', { positions: [value] }],
    ['links', 'documentLink', {}],
    ['colours', 'documentColor', {}],
  ];
  for (const [what, method, params] of asked) {
    const ask = () => client.request(`textDocument/${method}`, { textDocument, ...params });
    rows.push({ what: `${what} in 5,000 lines`, ...(await beside(() => parse(text), ask)) });
  }
  rows.push({
    what: 'symbols of a repo with 5,000 lines',
    ...(await beside(
      () => parse(text),
      () => client.request('workspace/symbol', { query: 'shot-2' }),
    )),
  });
  let version = 1;
  rows.push({
    what: 'a key typed in 5,000 lines, to the values for it',
    ...(await beside(
      () => parse(text),
      () => {
        const end = { line: value.line, character: lines[value.line]!.length };
        const range = { start: value, end };
        const changes = [{ range, text: ++version % 2 ? '1/50 s' : '1' }];
        void client.connection.sendNotification('textDocument/didChange', {
          textDocument: { uri, version },
          contentChanges: changes,
        });
        return client.request('textDocument/completion', { textDocument, position: { ...value, character: 17 } });
      },
      () => client.findings(uri, (_, pushed) => pushed === version),
    )),
  });
  await client.stop();
  repo.remove();
}

/** A word typed in 20 quick keys in 5,000 lines: what is asked after each of them is answered within a frame. */
async function burst(): Promise<void> {
  const text = specOf(5000);
  const repo = new DiskRepo({ 'long.shoot.yaml': text });
  const client = new Client(process.env['PROFILE'] ? ['--cpu-prof', `--cpu-prof-dir=${process.env['PROFILE']}`] : []);
  await client.initialize(repo.root);
  const uri = repo.uri('long.shoot.yaml');
  await client.open(uri, text);
  await client.findings(uri, (_, version) => version === 1);
  const line = text.split('\n').findIndex((one, index) => index > 2000 && one.includes('record: 14 s'));
  const times = { hover: [] as number[], completion: [] as number[] };
  let version = 1;
  for (let round = 0; round < 10; round++) {
    for (let key = 0; key < 20; key++) {
      // `14 s` becomes `1 s` and then `12 s`, as when another number is typed.
      const [from, to, put] = key % 2 === 0 ? [12, 14, '1'] : [13, 13, String((key >> 1) % 10)];
      const range = { start: { line, character: from }, end: { line, character: to } };
      void client.connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version: ++version },
        contentChanges: [{ range, text: put }],
      });
      const asked = performance.now();
      await Promise.all(
        (['completion', 'hover'] as const).map(async (what) => {
          await client.request(`textDocument/${what}`, { textDocument: { uri }, position: { line, character: 13 } });
          times[what].push(performance.now() - asked);
        }),
      );
    }
    await client.findings(uri, (_, pushed) => pushed === version);
  }
  await client.stop();
  repo.remove();
  for (const [what, all] of Object.entries(times)) {
    rows.push({
      what: `${what} after each of 20 quick keys in 5,000 lines`,
      ms: middle(all.slice(40)),
      floor: 'one frame at 60 Hz',
      floorMs: 1000 / 60,
      goal: 1,
    });
  }
}

/** The middle times of a request and of the floor, one after the other; `rest` waits until the server is at rest again. */
async function beside(
  floor: () => void,
  ask: () => Promise<unknown>,
  rest: () => Promise<unknown> = () => Promise.resolve(),
): Promise<Pick<Row, 'ms' | 'floor' | 'floorMs' | 'goal'>> {
  const [times, floors]: [number[], number[]] = [[], []];
  for (let run = 0; run < 15; run++) {
    await rest();
    floors.push(timed(floor));
    const start = performance.now();
    await ask();
    times.push(performance.now() - start);
  }
  return { ms: middle(times), floor: 'yaml parse', floorMs: middle(floors), goal: 1 };
}

/** The pictures of one shot among 200, and of the whole film, right after a check; a frame of a 60 Hz screen is the floor. */
function pictures(): void {
  const text = specOfShots(200);
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

/**
 * A thousand specs of 300 lines, checked by the command on all cores: films that differ in their titles only, as one maker
 * writes them, and films that have nothing in common word for word. The floor is what one thread takes to parse them all,
 * shared out over the cores. The memory of a run must not grow with the files.
 */
function manyFiles(): void {
  const text = specOf(300);
  const alike = Array.from({ length: 1000 }, (_, index) => text.replace('first look', `look ${index}`));
  manySpecs('that are alike', alike);
  manySpecs('with nothing in common', alike.map(another));
}

function manySpecs(which: string, texts: readonly string[]): void {
  const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-bench-'));
  mkdirSync(join(folder, 'kits'));
  for (const [path, text] of Object.entries(kits)) writeFileSync(join(folder, path), text);
  writeFileSync(join(folder, 'shootspec.yaml'), 'format: 1\n');
  for (const few of ['few', 'all']) mkdirSync(join(folder, few));
  for (const [index, one] of texts.entries()) {
    writeFileSync(join(folder, 'all', `${index}.shoot.yaml`), one);
    if (index < 200) writeFileSync(join(folder, 'few', `${index}.shoot.yaml`), one);
  }
  const check = (path: string) => () =>
    void spawnSync(process.execPath, [...checkArgs, path], { cwd: folder, stdio: 'ignore' });
  const { ms, floorMs } = interleaved(3, check('all'), () => texts.forEach(parse));
  const cores = availableParallelism();
  rows.push({
    what: `check of 1,000 specs of 300 lines ${which}`,
    ms,
    floor: `yaml parse of them all on ${cores} cores`,
    floorMs: floorMs / cores,
    goal: 1.3,
  });
  const [fewKb, allKb] = ['few', 'all'].map((path) => mostMemoryKb(folder, path)) as [number, number];
  console.log(
    `     memory: ${Math.round(fewKb / 1000)} MB for 200 specs ${which}, ${Math.round(allKb / 1000)} MB for 1,000`,
  );
  rmSync(folder, { recursive: true });
}

/** The most that a run held at once, told by the process itself at its end. */
function mostMemoryKb(folder: string, path: string): number {
  const tell = "process.on('exit', () => process.stderr.write(process.resourceUsage().maxRSS + '\\n'))";
  const watched = ['--import', `data:text/javascript,${encodeURIComponent(tell)}`];
  const { stderr } = spawnSync(process.execPath, [...watched, ...checkArgs, path], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  return Number(/(\d+)\n$/.exec(stderr)?.[1] ?? 0);
}

const checkArgs = [join(dist, 'cli.cjs'), 'check', '--format', 'github'];

const parts: Readonly<Record<string, () => void | Promise<void>>> = {
  check: checkSpec,
  pictures,
  files: manyFiles,
  keystroke,
  live: liveEdits,
  memory,
  requests,
  burst,
  start,
};
/** `npm run bench -- files start` runs these alone. */
const wanted = process.argv.slice(2);
for (const [name, part] of Object.entries(parts)) if (wanted.length === 0 || wanted.includes(name)) await part();
for (const { what, ms, floor, floorMs, goal, unit = 'ms' } of rows) {
  const ratio = ms / floorMs;
  console.log(
    `${ratio <= goal ? 'ok  ' : 'over'} ${what}: ${ms.toFixed(1)} ${unit} = ${ratio.toFixed(ratio < 0.1 ? 4 : 2)} × ${floor} (${floorMs.toFixed(1)} ${unit}); goal ${goal} ×`,
  );
}
if (rows.some(({ ms, floorMs, goal }) => ms / floorMs > goal)) process.exitCode = 1;
