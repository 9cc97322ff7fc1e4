/**
 * `npm test`: every check that there is, with one count at the end.
 *
 * `npm test -- NAME…` runs only the stages named. Each stage prints its own report; what it counts is read from its
 * closing line, and a stage that counts nothing is one test. What fails beside other work is run a second time by itself,
 * and the report says so: two browsers and an editor at once can make any wait too short, a fault fails alone as well.
 */
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');

/** Builds and packs, as its users get it, what all that comes later runs: nothing else may build beside. */
const building = ['packed', 'node', ['tests/packed/all.mjs']];

/** What needs nothing but the sources: as many at once as there are processors. */
const ofSources = [
  building, // It takes longest.
  types('types', '.'),
  types('types-of-the-panel', 'client/panel'),
  types('types-of-the-set-page', 'client/set-page'),
  types('types-of-the-site', 'docs/site'),
  ['lint', 'npm', ['run', '--silent', 'lint']],
  ['format', 'npx', ['oxfmt', '--check']],
  ['dead-code', 'npx', ['knip']],
  // What nothing but tests uses is as dead.
  ['dead-code-but-for-tests', 'npx', ['knip', '--production', '--include', 'files,exports,types']],
  ['layers', 'npx', ['depcruise', 'server', 'client', '--config', '.dependency-cruiser.cjs']],
  ['generated', 'node', ['scripts/generate.mjs', '--check']],
];

/** Installs the browser and the programs that tests use: it waits for the network, so it runs beside. */
const setup = ['setup-programs', 'node', ['scripts/setup-editor.mjs', 'programs']];

/** What runs the bundles: what calculates, beside the editor, which mostly waits, the first time for the network. */
const running = [
  [['unit', 'npx', ['vitest', 'run']]],
  [
    ['setup-editor', 'node', ['scripts/setup-editor.mjs', 'editor']],
    ['extension-host', 'node', ['tests/editor/run-extension-host.mjs']],
    ['workbench', 'node', ['tests/editor/drive.mjs']],
    ['in-a-browser', 'node', ['tests/editor/web.mjs']],
  ],
];
/** What goes on in whichever of these lanes is done first. */
const last = [
  ['other-editors', 'node', ['tests/clients/all.mjs']],
  // Some seconds of it; it goes on for as long as one likes.
  ['attack', 'node', ['scripts/attack.mjs', '10']],
];
const stages = [...ofSources, setup, ...running.flat(), ...last];

/** What of a stage that failed is run a second time, as its arguments, from what it printed. */
const secondRuns = {
  unit: (output) => {
    const files = found(/^\s*FAIL\s+(\S+\.test\.ts)/gm, output);
    // Without a file that failed the runner itself did.
    return files.length > 0 ? ['vitest', 'run', ...files] : undefined;
  },
  'extension-host': () => ['tests/editor/run-extension-host.mjs'],
  workbench: (output) => ['tests/editor/drive.mjs', ...found(/^FAIL {2}([a-z]+) > /gm, output)],
  'in-a-browser': () => ['tests/editor/web.mjs'],
  'other-editors': () => ['tests/clients/all.mjs'],
};
/** More failures than this are no matter of time; in an editor one of them brings others after it. */
const mostFailures = 12;

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !stages.some(([known]) => known === name));
if (unknown.length > 0) {
  console.error(`no stage ${unknown.join(', ')}; there are ${stages.map(([name]) => name).join(', ')}`);
  process.exit(2);
}

let passed = 0;
let failed = 0;
const failedStages = [];
/** Runs what has failed once more; each puts itself here. */
const again = [];
const asked = (all) => all.filter(([name]) => wanted.length === 0 || wanted.includes(name));

/** @param queue its stages are taken out one by one, so that several lanes can share it */
async function lane(queue) {
  for (let stage; (stage = queue.shift());) await runStage(stage);
}

const sources = asked(ofSources);
await Promise.all([...Array.from({ length: availableParallelism() }, () => lane(sources)), lane(asked([setup]))]);
if (wanted.length === 0) {
  process.env.SKIP_BUILD = '1';
  await Promise.all(running.map((stages) => lane([...stages]).then(() => lane(last))));
} else {
  // Each builds for itself what it runs, and two may not at once.
  await lane(asked([...running.flat(), ...last]));
}
for (const runAgain of again) await runAgain();

if (failedStages.length > 0) console.log(`\nfailed: ${failedStages.join(', ')}`);
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

/** The other `typescript` is for what reads sources by its library. */
function types(name, project) {
  return [name, 'node', ['node_modules/@typescript/native/bin/tsc', '--singleThreaded', '-p', project]];
}

async function runStage([name, command, args]) {
  const { code, output, counted } = await report(name, command, args);
  if (code === 0) {
    passed += counted?.passed ?? 1;
    return;
  }
  passed += counted?.passed ?? 0;
  // A stage that ends badly has failed, whatever it counted.
  const failures = Math.max(counted?.failed ?? 0, 1);
  const more = failures <= mostFailures ? secondRuns[name]?.(output) : undefined;
  if (more) again.push(() => runAgain(name, command, more, failures));
  else fail(name, failures);
}

/** @param failuresBefore how many tests failed when it ran beside others */
async function runAgain(name, command, args, failuresBefore) {
  const { code, counted } = await report(`${name}, a second time: ${args.join(' ')}`, command, args);
  if (code === 0) passed += failuresBefore;
  else fail(name, Math.max(counted?.failed ?? 0, 1));
}

function fail(name, count) {
  failed += count;
  failedStages.push(name);
}

async function report(name, command, args) {
  const started = Date.now();
  // Those of two lanes would be mixed up: they are shown when each is done.
  const isLive = wanted.length === 1;
  const { code, output } = await run(command, args, isLive);
  if (!isLive) console.log(`\n== ${name}\n${output.trimEnd()}`);
  console.log(
    `-- ${name}: ${code === 0 ? 'passed' : `failed (${code})`}, ${Math.round((Date.now() - started) / 1000)} s`,
  );
  return { code, output, counted: count(output) };
}

function run(command, args, isLive) {
  return new Promise((done) => {
    const child = spawn(command, args, {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: process.platform === 'win32',
    });
    let output = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.on('data', (data) => {
        output += data;
        if (isLive) process.stdout.write(data);
      });
    }
    child.on('close', (code) => done({ code: code ?? 1, output }));
  });
}

/** What each match of a pattern holds, once. */
function found(pattern, output) {
  return [...new Set([...withoutColours(output).matchAll(pattern)].map(([, one]) => one))];
}

/** The last closing line: our own runners' `N passed, N failed`, or the unit runner's `Tests  1 failed | 2 passed`. */
function count(output) {
  const plain = withoutColours(output);
  const own = [...plain.matchAll(/^(?:\w+: )?(\d+) passed, (\d+) failed/gm)].at(-1);
  if (own) return { passed: Number(own[1]), failed: Number(own[2]) };
  const unit = [...plain.matchAll(/^\s*Tests\s+(?:(\d+) failed \| )?(?:(\d+) passed)?/gm)].at(-1);
  return unit ? { passed: Number(unit[2] ?? 0), failed: Number(unit[1] ?? 0) } : undefined;
}

function withoutColours(output) {
  // eslint-disable-next-line no-control-regex -- colours of the unit runner
  return output.replace(/\u001b\[[0-9;]*m/g, '');
}
