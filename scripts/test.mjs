/**
 * `npm test`: every check that there is, one after the other, with one count at the end.
 *
 * `npm test -- NAME…` runs only the stages named. Each stage prints its own report; what it counts is read from its
 * closing line, and a stage that counts nothing is one test.
 */
import { spawn } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');

/** In the order of cost: what fails fast comes first. */
const stages = [
  ['format', 'npx', ['prettier', '--check', '--log-level=warn', '.']],
  ['lint', 'npx', ['eslint', '.', '--max-warnings=0']],
  ['types', 'npx', ['tsc']],
  ['types-of-the-panel', 'npx', ['tsc', '-p', 'client/panel']],
  ['layers', 'npx', ['depcruise', 'server', 'client', '--config', '.dependency-cruiser.cjs']],
  ['dead-code', 'npx', ['knip']],
  // What nothing but tests uses is as dead.
  ['dead-code-but-for-tests', 'npx', ['knip', '--production', '--include', 'files,exports,types']],
  ['pages', 'node', ['scripts/docs.mjs', '--check']],
  ['texts', 'node', ['scripts/l10n.mjs', '--check']],
  // Some of the units are looked at in the browser that this may install.
  ['setup-editor', 'node', ['scripts/setup-editor.mjs']],
  ['unit', 'npx', ['vitest', 'run']],
  ['extension-host', 'node', ['tests/editor/run-extension-host.mjs']],
  ['workbench', 'node', ['tests/editor/drive.mjs']],
  ['other-editors', 'node', ['tests/clients/all.mjs']],
];

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !stages.some(([known]) => known === name));
if (unknown.length > 0) {
  console.error(`no stage ${unknown.join(', ')}; there are ${stages.map(([name]) => name).join(', ')}`);
  process.exit(2);
}

let passed = 0;
let failed = 0;
const failures = [];
for (const [name, command, args] of stages) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  console.log(`\n== ${name}`);
  const started = Date.now();
  const { code, output } = await run(command, args);
  const counted = count(output);
  passed += counted ? counted.passed : Number(code === 0);
  // A stage that ends badly has failed, whatever it counted.
  failed += Math.max(counted?.failed ?? 0, Number(code !== 0));
  if (code !== 0) failures.push(name);
  console.log(
    `-- ${name}: ${code === 0 ? 'passed' : `failed (${code})`}, ${Math.round((Date.now() - started) / 1000)} s`,
  );
}
if (failures.length > 0) console.log(`\nfailed: ${failures.join(', ')}`);
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

function run(command, args) {
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
        process.stdout.write(data);
      });
    }
    child.on('close', (code) => done({ code: code ?? 1, output }));
  });
}

/** The last closing line: our own runners' `N passed, N failed`, or the unit runner's `Tests  1 failed | 2 passed`. */
function count(output) {
  // eslint-disable-next-line no-control-regex -- colours of the unit runner
  const plain = output.replace(/\u001b\[[0-9;]*m/g, '');
  const own = [...plain.matchAll(/^(?:\w+: )?(\d+) passed, (\d+) failed/gm)].at(-1);
  if (own) return { passed: Number(own[1]), failed: Number(own[2]) };
  const unit = [...plain.matchAll(/^\s*Tests\s+(?:(\d+) failed \| )?(?:(\d+) passed)?/gm)].at(-1);
  return unit ? { passed: Number(unit[2] ?? 0), failed: Number(unit[1] ?? 0) } : undefined;
}
