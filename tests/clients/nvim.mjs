/**
 * Checks that another editor gets what ours gets: Neovim opens a spec through `shootspec serve --stdio`, and its
 * findings must be those of `shootspec check --format json`; then it takes a hover and applies one fix.
 */
import { execFile, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import assert from 'node:assert/strict';
import { build, root } from '../../scripts/editor.mjs';

const spec = 'music-box.shoot.yaml';
const cli = path.join(root, 'dist/cli.cjs');
const severities = ['error', 'warning', 'info', 'hint'];

if (spawnSync('nvim', ['--version']).status !== 0) {
  console.error('Neovim is not installed. `npm run setup-editor` can install it on Debian.');
  process.exit(1);
}
build();
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-nvim-'));
fs.cpSync(path.join(root, 'tests/editor/workspace'), folder, { recursive: true });
let said;
let checked;
try {
  checked = check();
  said = await runNeovim();
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}

const steps = [
  ['gets the findings of the command line, at the same characters', sameFindings],
  ['shows what a key means', () => assert.match(step('hover').text, /white/i)],
  ['applies a fix, and the finding goes', () => assert.match(step('fixed').line, /^ {2}shutter: 1\/50 s$/)],
  ['stops the server', () => step('stopped')],
];
let passed = 0;
for (const [name, test] of steps) {
  try {
    test();
    passed++;
    console.log(`ok    ${name}`);
  } catch (error) {
    console.log(`FAIL  ${name}: ${error.message}`);
  }
}
console.log(`${passed} passed, ${steps.length - passed} failed`);
process.exitCode = passed === steps.length ? 0 : 1;

function sameFindings() {
  const { findings } = step('findings');
  assert.ok(findings.length > 0, 'there are findings');
  const plain = (f) => `${f.line}:${f.column}-${f.endLine}:${f.endColumn} ${f.rule} ${f.severity}`;
  const fromEditor = findings.map((f) => plain({ ...f, severity: severities[f.severity - 1] })).sort();
  assert.deepEqual(fromEditor, checked.map(plain).sort());
  assert.ok(findings.every((f) => f.source === 'shoot spec'));
}

function step(name) {
  const found = said.find((line) => line.step === name);
  assert.ok(found, said.find((line) => line.step === 'failed')?.message ?? `Neovim did not get to "${name}"`);
  return found;
}

function check() {
  const { stdout, stderr, status } = spawnSync(process.execPath, [cli, 'check', '--format', 'json', spec], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 30_000,
  });
  assert.ok(status === 0 || status === 1, `the check ended with ${status}: ${stderr}`);
  return JSON.parse(stdout).findings;
}

/** The lines of JSON that nvim.lua prints, in order. */
function runNeovim() {
  const script = path.join(root, 'tests/clients/nvim.lua');
  const args = ['--headless', '--clean', '-n', spec, '-c', `luafile ${script}`];
  const env = { ...process.env, NODE: process.execPath, CLI: cli };
  return new Promise((resolve) => {
    execFile('nvim', args, { cwd: folder, env, timeout: 60_000 }, (_error, stdout, stderr) => {
      const lines = `${stdout}\n${stderr}`.split(/\r?\n/).filter((line) => line.startsWith('{'));
      resolve(lines.map((line) => JSON.parse(line)));
    });
  });
}
