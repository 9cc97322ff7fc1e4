/**
 * The project's own benchmark: what we add, as a ratio to a floor that was measured in the same run on the same machine.
 * `npm run bench` prints a table and exits with 1 when a ratio is over its goal.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { parseDocument } from 'yaml';
import { Checker } from '../../server/core/checker.ts';
import { litShowing } from '../../server/core/derived/lit/index.ts';
import { showingsOf } from '../../server/core/derived/showings.ts';
import { actionsAt } from '../../server/features/actions.ts';
import { hoverAt } from '../../server/features/hover.ts';
import { threadReader } from '../../server/footage/clip-reader.ts';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { FootageStore } from '../../server/footage/footage-store.ts';
import { rules } from '../../server/rules/index.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { paintLit } from '../../server/views/lit/paint.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { kits, memoryHost } from '../helpers/workspace.ts';
import { clipCount, dayOfClips } from './clips.ts';
import { another, messySpecOf, specOf, specOfShots } from './specs.ts';

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

/** A key typed in specs of three lengths, to its findings in the editor; messy ones have a finding for every ten lines. */
async function keystroke(): Promise<void> {
  const lengths = [
    { lines: 190, goal: 3.5, keys: 60 },
    { lines: 1000, goal: 3, keys: 40 },
    { lines: 20_000, goal: 3, keys: 7 },
  ].filter(({ lines }) => wantedLines.length === 0 || wantedLines.includes(lines));
  for (const [kind, textOf] of [
    ['messy', messySpecOf],
    ['clean', specOf],
  ] as const) {
    const timesMs = new Map<number, number>();
    for (const { lines, goal, keys } of lengths) {
      const row = await keysIn(textOf(lines), keys);
      timesMs.set(lines, row.ms);
      rows.push({ what: `a key in ${lines} ${kind} lines, to its findings in the editor`, ...row, goal });
    }
    const [floorMs, ms] = [timesMs.get(1000), timesMs.get(20_000)];
    if (floorMs === undefined || ms === undefined) continue;
    rows.push({ what: `a key in 20,000 ${kind} lines`, ms, floor: 'a key in 1,000', floorMs, goal: 22 });
  }
}

/**
 * The floor is the same key sent to a server that parses the text and does nothing else, by turns with ours: both are
 * equally new, as the engine makes code fast while it runs.
 */
async function keysIn(text: string, keys: number): Promise<Pick<Row, 'ms' | 'floor' | 'floorMs'>> {
  const floor = await Typist.begin(text, new Client([], join(process.cwd(), 'out/parse-server.cjs')));
  const ours = await Typist.begin(text, new Client());
  const here: number[] = [];
  for (let version = 2; version < keys + 2; version++) {
    here.push(timed(() => parse(text)));
    await floor.key(version);
    await ours.key(version);
  }
  await floor.end();
  await ours.end();
  // The engine makes the code fast in the first third.
  const [hereMs, floorMs, ms, floorUsedMs, usedMs] = [here, floor.times, ours.times, floor.used, ours.used].map(
    (times) => middle(times.slice(keys / 3)),
  ) as [number, number, number, number, number];
  const lines = text.split('\n').length;
  console.log(
    `     ${lines} lines: ${ms.toFixed(1)} ms a key, ${floorMs.toFixed(1)} ms to a server that parses, ${hereMs.toFixed(1)} ms parsed in this process`,
  );
  console.log(
    `     processor time of their main threads: ${usedMs.toFixed(1)} ms = ${(usedMs / floorUsedMs).toFixed(2)} × ${floorUsedMs.toFixed(1)} ms`,
  );
  return { ms, floor: 'a key to a server that parses it', floorMs };
}

/** Types figures into a text that a server has open, and waits for what it says of each. */
class Typist {
  readonly times: number[] = [];
  /** What the main thread of the server used for each key: on a machine that does much else it tells more than the clock. */
  readonly used: number[] = [];
  readonly #repo: DiskRepo;
  readonly #client: Client;
  readonly #uri: string;
  readonly #start: { readonly line: number; readonly character: number };

  private constructor(text: string, client: Client) {
    this.#repo = new DiskRepo();
    this.#client = client;
    this.#uri = this.#repo.uri('one.shoot.yaml');
    const lines = text.split('\n');
    const line = lines.findIndex((one, index) => index > 20 && one.includes('reset: 2 min'));
    this.#start = { line, character: lines[line]!.indexOf('2 min') };
  }

  static async begin(text: string, client: Client): Promise<Typist> {
    const typist = new Typist(text, client);
    await client.initialize(typist.#repo.root);
    await client.open(typist.#uri, text);
    await client.findings(typist.#uri, (_, version) => version === 1);
    return typist;
  }

  async key(version: number): Promise<void> {
    const [before, usedBefore] = [performance.now(), this.#usedMs()];
    const end = { ...this.#start, character: this.#start.character + 1 };
    void this.#client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: this.#uri, version },
      contentChanges: [{ range: { start: this.#start, end }, text: String(version % 9) }],
    });
    await this.#client.findings(this.#uri, (_, pushed) => pushed === version);
    this.times.push(performance.now() - before);
    this.used.push(this.#usedMs() - usedBefore);
  }

  /** Told by Linux alone. */
  #usedMs(): number {
    const file = `/proc/${this.#client.process.pid}/schedstat`;
    return existsSync(file) ? Number(readFileSync(file, 'utf8').split(' ')[0]) / 1e6 : NaN;
  }

  async end(): Promise<void> {
    await this.#client.stop();
    this.#repo.remove();
  }
}

/** The menu of fixes for all of a messy spec: five are tried before it is shown. */
function menu(): void {
  const text = messySpecOf(1000);
  const checker = new Checker(memoryHost({}), rules);
  const check = (now: string) => checker.checkAs('shoot', now);
  const result = check(text);
  const list = () => {
    const work = actionsAt(result, { start: 0, end: text.length }, check, { untried: true, accepts: true });
    while (!work.next().done);
  };
  for (let warm = 0; warm < 10; warm++) list();
  const times = interleaved(9, list, () => void check(text));
  rows.push({ what: 'the fixes of all of 1,000 messy lines, listed', floor: 'a check of them', goal: 6, ...times });
}

/** What a very long spec holds in memory when it was checked, hovered and drawn, beside the document of the library. */
async function memory(): Promise<void> {
  const text = specOf(20_000);
  const checker = new Checker(memoryHost({}), rules);
  const read = () => {
    const result = checker.checkAs('shoot', text);
    hoverAt(result, text.indexOf('distance'), () => undefined);
    for (const { name } of views) draw(name, result, { shot: 'shot-3' });
    return result;
  };
  // What is compiled and known for all specs is not this one's.
  read();
  const floor = await heldMb(() => parseDocument(text, { uniqueKeys: false }));
  const floorMs = { floor: 'the parsed document', floorMs: floor, goal: 3, unit: 'MB' } as const;
  rows.push({ what: 'memory of 20,000 lines with hovers and pictures', ms: await heldMb(read), ...floorMs });
  rows.push({
    what: 'what is left of it when it is closed',
    ms: await heldMb(() => void read()),
    ...floorMs,
    goal: 0.1,
  });
}

/** How much more memory is in use while what `make` returns is held, in MB. */
async function heldMb(make: () => unknown): Promise<number> {
  const all: number[] = [];
  for (let run = 0; run < 5; run++) {
    const before = usedMb();
    const held = [make()];
    // What a run let go is kept until its turn of the event loop is over.
    await new Promise((next) => setTimeout(next, 20));
    all.push(usedMb() - before);
    held.length = 0;
  }
  return middle(all);
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

/** A word typed in 20 quick keys in 5,000 messy lines: a hover that is asked for meanwhile waits for one check at most. */
async function burst(): Promise<void> {
  const text = messySpecOf(5000);
  const repo = new DiskRepo({ 'long.shoot.yaml': text });
  const client = new Client();
  await client.initialize(repo.root);
  const uri = repo.uri('long.shoot.yaml');
  await client.open(uri, text);
  await client.findings(uri, (_, version) => version === 1);
  const line = text.split('\n').findIndex((one, index) => index > 2000 && one.includes('reset: 2 min'));
  const character = text.split('\n')[line]!.indexOf('2 min');
  const change = (version: number) =>
    void client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [
        { range: { start: { line, character }, end: { line, character: character + 1 } }, text: String(version % 9) },
      ],
    });
  const [hovers, checks]: [number[], number[]] = [[], []];
  let version = 1;
  for (let round = 0; round < 6; round++) {
    for (let key = 0; key < 20; key++) change(++version);
    const asked = performance.now();
    await client.request('textDocument/hover', { textDocument: { uri }, position: { line, character } });
    hovers.push(performance.now() - asked);
    await client.findings(uri, (_, pushed) => pushed === version);
    const start = performance.now();
    change(++version);
    await client.findings(uri, (_, pushed) => pushed === version);
    checks.push(performance.now() - start);
  }
  await client.stop();
  repo.remove();
  rows.push({
    what: 'a hover after 20 quick keys in 5,000 messy lines',
    ms: middle(hovers),
    floor: 'a key to its findings',
    floorMs: middle(checks),
    goal: 1.3,
  });
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

/** Pictures as lit, from a scene that is reckoned already. On a machine that does nothing else the floor takes about 50 ms. */
function litPictures(): void {
  const { film } = new Checker(memoryHost({}), rules).checkAs('shoot', specOf(300));
  const showing = showingsOf([...film!.shots.values()][0]!, film!)[0]!;
  const scene = litShowing(film!, showing)!;
  for (const [width, goal] of [
    [960, 1.6],
    [1920, 5.5],
  ] as const) {
    const paint = () => void paintLit(scene, width, Math.round(width / scene.aspect));
    for (let warm = 0; warm < 5; warm++) {
      paint();
      squareRoots();
    }
    const what = `a picture as lit, ${width} wide, on one core`;
    rows.push({ what, floor: '20 million square roots', goal, ...interleaved(15, paint, squareRoots) });
  }
}

function squareRoots(): void {
  let sum = 0;
  for (let index = 0; index < 2e7; index++) sum += Math.sqrt(index);
  if (Number.isNaN(sum)) throw new Error('no floor');
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
    goal: 3.5,
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

/** A sheet of 300 clips of four minutes, checked by the command: starting, reading every index, and all that is said of them. */
async function clips(): Promise<void> {
  const { folder, sheet } = dayOfClips();
  const run = () => spawnSync(process.execPath, [...checkArgs, sheet], { cwd: folder, encoding: 'utf8' });
  // The first run finds nothing of them in memory.
  const [first, ...times] = Array.from({ length: 5 }, () => timed(run)) as [number, ...number[]];
  const said = run().stdout;
  if (said.includes('clip-not')) throw new Error(said);
  const floor = { floor: 'three seconds', floorMs: 3000, goal: 1 };
  rows.push({ what: `check of a sheet with ${clipCount} clips of four minutes, first`, ms: first, ...floor });
  rows.push({ what: `check of a sheet with ${clipCount} clips of four minutes`, ms: middle(times), ...floor });
  console.log(`     processor time of it all: ${(usedMs(folder, sheet) / 1000).toFixed(1)} s, start included`);
  const reader = threadReader(join(dist, 'clips.cjs'));
  const store = new FootageStore({ clips: new FootageFolder(join(folder, 'footage')), reader });
  for (const { path } of store.entries()) store.clip(path);
  await store.settled();
  reader.end();
  rmSync(folder, { recursive: true });
  console.log(`     read of a clip of 1 GB and four minutes: ${Math.round(store.bytesRead / clipCount / 1000)} kB`);
}

/** Processor time of a check, all threads together: on a machine that does much else it tells more than the clock. */
function usedMs(folder: string, path: string): number {
  const tell =
    "process.on('exit', () => { const { user, system } = process.cpuUsage(); process.stderr.write((user + system) / 1000 + '\\n') })";
  const watched = ['--import', `data:text/javascript,${encodeURIComponent(tell)}`];
  const { stderr } = spawnSync(process.execPath, [...watched, ...checkArgs, path], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  return Number(/([\d.]+)\n$/.exec(stderr)?.[1] ?? 0);
}

const checkArgs = [join(dist, 'cli.cjs'), 'check', '--format', 'github'];

const parts: Readonly<Record<string, () => void | Promise<void>>> = {
  check: checkSpec,
  pictures,
  lit: litPictures,
  files: manyFiles,
  keystroke,
  menu,
  memory,
  requests,
  burst,
  start,
  clips,
};
/** `npm run bench -- files start` runs these alone, and `npm run bench -- keystroke 190` keys in specs of 190 lines. */
const wantedLines = process.argv.slice(2).map(Number).filter(Number.isFinite);
const wanted = process.argv.slice(2).filter((word) => !wantedLines.includes(Number(word)));
for (const [name, part] of Object.entries(parts)) if (wanted.length === 0 || wanted.includes(name)) await part();
for (const { what, ms, floor, floorMs, goal, unit = 'ms' } of rows) {
  const ratio = ms / floorMs;
  console.log(
    `${ratio <= goal ? 'ok  ' : 'over'} ${what}: ${ms.toFixed(1)} ${unit} = ${ratio.toFixed(ratio < 0.1 ? 4 : 2)} × ${floor} (${floorMs.toFixed(1)} ${unit}); goal ${goal} ×`,
  );
}
if (rows.some(({ ms, floorMs, goal }) => ms / floorMs > goal)) process.exitCode = 1;
