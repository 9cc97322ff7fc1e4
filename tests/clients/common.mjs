/**
 * Another editor on a copy of the test repo, with the set-up that docs/editors.md gives for it and `shootspec` on the
 * PATH: its findings must be those of `shootspec check --format json`; then it takes a hover and applies one fix.
 */
import { execFile, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import assert from 'node:assert/strict';
import { root } from '../../scripts/editor.mjs';

export const spec = 'music-box.shoot.yaml';
const cli = path.join(root, 'dist/cli.cjs');
const severities = ['error', 'warning', 'info', 'hint'];

/**
 * @param {{ name: string, command: string, language: string, args: (setup: string) => string[] }} editor
 * @returns {Promise<[string, () => unknown][]>} what to ask of the one run that this makes
 */
export async function stepsIn({ name, command, language, args }) {
  if (spawnSync(command, ['--version']).status !== 0)
    return [['is installed', () => assert.fail('`npm run setup-editor` can install it on Debian.')]];
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), `shoot-spec-${command}-`));
  let said;
  let checked;
  try {
    const repo = path.join(folder, 'repo');
    fs.cpSync(path.join(root, 'tests/editor/workspace'), repo, { recursive: true });
    const env = { ...process.env, PATH: `${commandFolder(folder)}${path.delimiter}${process.env.PATH}` };
    checked = check(repo);
    said = await run(command, args(setupFile(folder, language)), { cwd: repo, env });
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
  return stepsOf(name, said, checked);
}

/** A folder with nothing but `shootspec` in it. */
function commandFolder(folder) {
  const bin = path.join(folder, 'bin');
  fs.mkdirSync(bin);
  fs.writeFileSync(path.join(bin, 'shootspec'), `#!/bin/sh\nexec "${process.execPath}" "${cli}" "$@"\n`, {
    mode: 0o755,
  });
  return bin;
}

/** The set-up exactly as docs/editors.md has it. */
function setupFile(folder, language) {
  const docs = fs.readFileSync(path.join(root, 'docs/editors.md'), 'utf8');
  const block = new RegExp(`^\`\`\`${language}\n([\\s\\S]*?)^\`\`\`$`, 'm').exec(docs);
  assert.ok(block, `docs/editors.md has a set-up in ${language}`);
  const file = path.join(folder, `setup.${language}`);
  fs.writeFileSync(file, block[1]);
  return file;
}

function check(repo) {
  const { stdout, stderr, status } = spawnSync(process.execPath, [cli, 'check', '--format', 'json', spec], {
    cwd: repo,
    encoding: 'utf8',
    timeout: 120_000,
  });
  assert.ok(status === 0 || status === 1, `the check ended with ${status}: ${stderr}`);
  return JSON.parse(stdout).findings;
}

/** The lines of JSON that the editor's script prints, in order. */
function run(command, args, options) {
  return new Promise((resolve) => {
    execFile(command, args, { ...options, timeout: 600_000 }, (_error, stdout, stderr) => {
      const lines = `${stdout}\n${stderr}`.split(/\r?\n/).filter((line) => line.startsWith('{'));
      if (lines.length === 0) console.error(stderr);
      resolve(lines.map((line) => JSON.parse(line)));
    });
  });
}

function stepsOf(name, said, checked) {
  const step = (wanted) => {
    const found = said.find((line) => line.step === wanted);
    assert.ok(found, said.find((line) => line.step === 'failed')?.message ?? `${name} did not get to "${wanted}"`);
    return found;
  };
  const plain = (f) => `${f.line}:${f.column}-${f.endLine}:${f.endColumn} ${f.rule} ${f.severity}`;
  const sameFindings = () => {
    const { findings } = step('findings');
    assert.ok(findings.length > 0, 'there are findings');
    const fromEditor = findings.map((f) => plain({ ...f, severity: severities[f.severity - 1] })).sort();
    assert.deepEqual(fromEditor, checked.map(plain).sort());
    assert.ok(findings.every((f) => f.source === 'shoot spec'));
  };
  return [
    ['gets the findings of the command line, at the same characters', sameFindings],
    ['shows what a key means', () => assert.match(step('hover').text, /white/i)],
    ['applies a fix, and the finding goes', () => assert.match(step('fixed').line, /^ {2}shutter: 1\/50 s$/)],
    ['stops the server', () => step('stopped')],
  ];
}
