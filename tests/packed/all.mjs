/**
 * `npm test -- packed`: what is shipped, installed in empty folders as its users install it, and never the clone itself.
 * The package for npm, the hook and the action that it brings, and the packed extension.
 */
import assert from 'node:assert/strict';
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'yaml';
import { packageExtension, root } from '../../scripts/editor.mjs';
import { goThrough, tellCount } from '../helpers/steps.mjs';

const work = fs.mkdtempSync(path.join(os.tmpdir(), 'shootspec-packed-'));
const repo = path.join(work, 'films');
const command = path.join(repo, 'node_modules/.bin/shootspec');
const inPackage = (name) => path.join(repo, 'node_modules/shootspec', name);
const manifest = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8'));

const steps = [
  ['the package holds what it needs, and installs without anything else', installs],
  ['the installed command checks, explains, draws and writes a sheet', commandWorks],
  ['the example of the README gives exactly what it says', readmeIsRight],
  ['its manual page and its completions are there', helpsAreThere],
  ['its language server links each finding to the page that is shipped', serverWorks],
  ['its schemas name every kind of file', schemasAreThere],
  ['its hook finds the command among the packages of the repo, and stops what is new and wrong alone', hookWorks],
  ['its hook says where there is no command', hookSaysWhatIsMissing],
  ['the steps of its action check a repo', actionWorks],
  ['the line for hook managers runs the command', hookLineWorks],
  ['it carries the licence of each library', (folder = inPackage('.')) => carriesLicences(folder)],
  ['the packed extension has whole links, pictures and notices', extensionIsWhole],
  ['what stands for names that do not exist yet is in one file', namesAreInOnePlace],
];
await goThrough(steps, { bearsTheRest: (step) => step === installs });
fs.rmSync(work, { recursive: true, force: true });
tellCount();

function run(command, args, options = {}) {
  const { status, stdout, stderr, error } = spawnSync(command, args, { cwd: repo, encoding: 'utf8', ...options });
  if (error) throw error;
  return { status, stdout, stderr, all: stdout + stderr };
}

/** Of the plans those alone that are named here: hook and action check all that there are. */
function isNeeded(file) {
  return !/\.(?:shoot|takes)\.yaml$/.test(file) || /(?:first-draft|clay-whistle|bud-vase)\.shoot\.yaml$/.test(file);
}

/** As everything finds it that is installed: npm's own way to it takes longer than the command. */
function shootspec(...args) {
  return run(command, args);
}

function installs() {
  const packed = run('npm', ['pack', '--pack-destination', work], { cwd: root });
  assert.equal(packed.status, 0, packed.all);
  // Managers of hooks take all that it prints for the name.
  assert.match(packed.stdout, /^shootspec-[\d.]+\.tgz\n$/);
  const filename = packed.stdout.trim();
  process.env.SKIP_BUILD = '1'; // That has built what is packed later.
  fs.cpSync(path.join(root, 'sample-workspace'), repo, { recursive: true, filter: isNeeded });
  fs.writeFileSync(path.join(repo, 'package.json'), '{ "private": true }\n');
  const installed = run('npm', ['install', '--offline', '--no-audit', '--no-fund', path.join(work, filename)]);
  assert.equal(installed.status, 0, installed.all);
  assert.deepEqual(
    fs.readdirSync(path.join(repo, 'node_modules')).filter((name) => !name.startsWith('.')),
    ['shootspec'],
  );
}

function commandWorks() {
  assert.equal(run('npx', ['--no-install', 'shootspec', 'version']).stdout.trim(), manifest.version);
  assert.match(shootspec('check', 'first-draft.shoot.yaml').stdout, /^first-draft\.shoot\.yaml:\d+:\d+ error /m);
  assert.equal(shootspec('check', 'clay-whistle.shoot.yaml').status, 0);
  assert.match(shootspec('explain', 'depth-of-field-short').stdout, /Why/);
  for (const file of ['sheet.html', 'sheet.pdf']) {
    const { status, all } = shootspec('sheet', 'clay-whistle.shoot.yaml', '-o', file);
    assert.equal(status, 0, all);
    assert.ok(fs.statSync(path.join(repo, file)).size > 2000);
  }
  assert.match(shootspec('hand-over', 'clay-whistle.shoot.yaml', '--as', 'edl').stdout, /^TITLE: /);
  assert.match(shootspec('draw', 'clay-whistle.shoot.yaml', '--view', 'set-above').stdout, /^<svg/);
}

/** The plan of the README, its slip, and the answer that stands below it. */
function readmeIsRight() {
  const readme = fs.readFileSync(inPackage('README.md'), 'utf8');
  const plan = /```yaml\n(title: [\s\S]*?)```/.exec(readme)[1];
  const [, said, fix] = /```\n([\w ]+: 1\/200 s [\s\S]*?)\n {2}fix: (.*)\n```/.exec(readme);
  const check = (text) => {
    fs.writeFileSync(path.join(repo, 'whistle.shoot.yaml'), text);
    return shootspec('check', 'whistle.shoot.yaml').stdout;
  };
  assert.equal(check(plan), '1 file: no findings.\n');
  const lines = check(plan.replace('shutter: 1/50 s', 'shutter: 1/200 s')).split('\n');
  assert.ok(
    lines.some((line) => line.includes(` ${said} [`)),
    lines.join('\n'),
  );
  assert.ok(lines.includes(`  fix: ${fix}`), lines.join('\n'));
  fs.rmSync(path.join(repo, 'whistle.shoot.yaml'));
}

function helpsAreThere() {
  assert.match(fs.readFileSync(inPackage(manifest.man), 'utf8'), /^\.TH SHOOTSPEC 1 /);
  const script = path.join(work, 'completion.bash');
  fs.writeFileSync(script, shootspec('completion', 'bash').stdout);
  const ask = 'COMP_WORDS=(shootspec explain mixed-); COMP_CWORD=2; _shootspec; echo "${COMPREPLY[@]}"';
  assert.equal(run('bash', ['-c', `source ${script}; ${ask}`]).all, 'mixed-light\n');
}

async function serverWorks() {
  const server = spawn(command, ['serve', '--stdio'], { cwd: repo });
  const send = (message) => {
    const body = JSON.stringify({ jsonrpc: '2.0', ...message });
    server.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
  };
  const rootUri = pathToFileURL(repo).href;
  const capabilities = { textDocument: { publishDiagnostics: { codeDescriptionSupport: true } } };
  send({ id: 1, method: 'initialize', params: { capabilities, processId: null, rootUri } });
  const text = fs.readFileSync(path.join(repo, 'first-draft.shoot.yaml'), 'utf8');
  const textDocument = { uri: `${rootUri}/first-draft.shoot.yaml`, languageId: 'shoot-spec', version: 1, text };
  for await (const { id, method, params, result } of messagesOf(server.stdout)) {
    if (id === 1) {
      assert.deepEqual(result.serverInfo, { name: 'shootspec', version: manifest.version });
      send({ method: 'initialized', params: {} });
      send({ method: 'textDocument/didOpen', params: { textDocument } });
    }
    if (method !== 'textDocument/publishDiagnostics') continue;
    const links = params.diagnostics.flatMap(({ codeDescription }) => codeDescription?.href ?? []);
    assert.ok(links.length > 5);
    for (const link of links) {
      const { pathname, hash } = new URL(link);
      const lines = fs.readFileSync(decodeURIComponent(pathname), 'utf8').split('\n');
      assert.match(lines[Number(hash.slice(2)) - 1], /^# [a-z-]+$/);
    }
    break;
  }
  server.kill();
}

async function* messagesOf(stream) {
  let kept = Buffer.alloc(0);
  for await (const data of stream) {
    kept = Buffer.concat([kept, data]);
    for (let head; (head = /^Content-Length: (\d+)\r\n\r\n/.exec(kept.toString('latin1', 0, 64)));) {
      const end = head[0].length + Number(head[1]);
      if (kept.length < end) break;
      yield JSON.parse(kept.toString('utf8', head[0].length, end));
      kept = kept.subarray(end);
    }
  }
}

function schemasAreThere() {
  const kinds = manifest.contributes.languages.flatMap(({ extensions = [] }) => extensions);
  assert.ok(kinds.length >= 2);
  for (const name of ['config', ...kinds.map((ending) => ending.split('.')[1])])
    assert.ok(fs.existsSync(inPackage(`schemas/${name}.schema.json`)), `no schema for ${name}`);
}

/** A commit of a spec with a lens that no kit has, through a hook. */
function hookWorks() {
  const git = (...args) => run('git', ['-c', 'user.name=Maker', '-c', 'user.email=maker@example.org', ...args]);
  fs.writeFileSync(path.join(repo, '.gitignore'), 'node_modules\n');
  git('init', '-q');
  git('add', '-A');
  git('commit', '-qm', 'Films', '--no-verify');
  fs.copyFileSync(inPackage('hooks/pre-commit'), path.join(repo, '.git/hooks/pre-commit'));
  fs.chmodSync(path.join(repo, '.git/hooks/pre-commit'), 0o755);
  withNoSuchLens(() => {
    git('add', '-A');
    const { status, all } = git('commit', '-qm', 'A lens that is nowhere');
    assert.notEqual(status, 0);
    assert.match(all, /clay-whistle\.shoot\.yaml:\d+:\d+ error .*`nowhere`/);
    assert.doesNotMatch(all, /first-draft/, 'what was there before does not count');
  });
  // A file that nobody touched has errors since the last commit.
  const notes = path.join(repo, 'bud-vase.shoot.yaml');
  fs.appendFileSync(notes, '# Looked at again.\n');
  git('add', '-A');
  const { status, all } = git('commit', '-qm', 'A note');
  assert.equal(status, 0, all);
}

function hookSaysWhatIsMissing() {
  const elsewhere = path.join(work, 'elsewhere');
  fs.mkdirSync(elsewhere);
  run('git', ['init', '-q'], { cwd: elsewhere });
  fs.copyFileSync(path.join(repo, 'clay-whistle.shoot.yaml'), path.join(elsewhere, 'a.shoot.yaml'));
  run('git', ['add', '-A'], { cwd: elsewhere });
  const env = { HOME: work, PATH: '/usr/bin:/bin' };
  const { status, stderr } = run('sh', [inPackage('hooks/pre-commit')], { cwd: elsewhere, env });
  assert.equal(status, 1);
  assert.match(stderr, /there is no `shootspec` in node_modules or on the path/);
  assert.match(stderr, /npm install --save-dev shootspec/);
}

function actionWorks() {
  const action = parse(fs.readFileSync(path.join(root, 'action.yml'), 'utf8'));
  const defaults = Object.entries(action.inputs).map(([name, { default: value = '' }]) => [`INPUT_${name}`, value]);
  const environment = (values = {}) =>
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        value.replace(/\$\{\{ inputs\.([\w-]+) \}\}/g, (_, input) => Object.fromEntries(defaults)[`INPUT_${input}`]),
      ]),
    );
  const scripts = action.runs.steps.filter((step) => step.run);
  assert.ok(scripts.length > 0);
  withNoSuchLens(() => {
    const all = scripts.map((step) =>
      run('bash', ['-c', step.run], { env: { ...process.env, ...environment(step.env) } }),
    );
    assert.match(all.map((one) => one.stdout).join(''), /^::error file=clay-whistle\.shoot\.yaml,line=/m);
    assert.ok(all.some(({ status }) => status === 1));
  });
}

function hookLineWorks() {
  const [hook] = parse(fs.readFileSync(path.join(root, '.pre-commit-hooks.yaml'), 'utf8'));
  const files = new RegExp(hook.files);
  assert.ok(
    ['a.shoot.yaml', 'kits/a.kit.yaml', 'shootspec.yaml', 'films/shootspec.yaml'].every((name) => files.test(name)),
  );
  assert.ok(!files.test('notshootspec.yaml') && !files.test('a.yaml'));
  const [name, ...args] = hook.entry.split(' ');
  assert.equal(name, path.basename(command));
  assert.equal(shootspec(...args, 'clay-whistle.shoot.yaml').status, 0);
}

function withNoSuchLens(act) {
  const file = path.join(repo, 'clay-whistle.shoot.yaml');
  const text = fs.readFileSync(file, 'utf8');
  fs.writeFileSync(file, text.replace(/lens: \w+/, 'lens: nowhere'));
  try {
    act();
  } finally {
    fs.writeFileSync(file, text);
  }
}

function carriesLicences(folder) {
  const notices = fs.readFileSync(path.join(folder, 'dist/notices.txt'), 'utf8');
  for (const library of ['yaml', 'pdfkit', 'vscode-languageserver', 'diff'])
    assert.match(notices, new RegExp(`^${library} \\d`, 'm'));
  assert.match(notices, /Permission is hereby granted/);
  assert.match(fs.readFileSync(path.join(folder, 'LICENSE'), 'utf8'), /MIT/);
}

function extensionIsWhole() {
  packageExtension();
  const folder = path.join(work, 'extension');
  const unpacked = run('unzip', ['-q', path.join(root, 'shoot-spec.vsix'), '-d', folder], { cwd: work });
  assert.equal(unpacked.status, 0, unpacked.all);
  const own = path.join(folder, 'extension');
  fs.renameSync(path.join(own, 'LICENSE.txt'), path.join(own, 'LICENSE'));
  carriesLicences(own);
  const page = fs.readFileSync(path.join(own, 'readme.md'), 'utf8');
  const targets = [...page.matchAll(/\]\(([^)#]+)\)/g)].map(([, target]) => target);
  assert.ok(targets.length > 5);
  assert.deepEqual(
    targets.filter((target) => !target.startsWith('https://')),
    [],
  );
  const packed = JSON.parse(fs.readFileSync(path.join(own, 'package.json'), 'utf8'));
  const { grammars, languages, walkthroughs } = packed.contributes;
  const files = [
    ...[packed.main, packed.browser, 'dist/web-server.js', packed.icon, ...grammars.map((one) => one.path)],
    ...languages.flatMap(({ icon, configuration }) => [icon.light, icon.dark, configuration]),
    ...walkthroughs.flatMap(({ steps }) => steps.map(({ media }) => media.markdown)),
  ];
  for (const file of files) assert.ok(fs.existsSync(path.join(own, file)), `${file} is missing`);
  for (const { icon } of languages) assert.match(fs.readFileSync(path.join(own, icon.dark), 'utf8'), /^<svg /);
  for (const name of ['galleryBanner', 'bugs', 'homepage', 'repository', 'license']) assert.ok(packed[name], name);
}

/** Whoever fills them in has one file to look at. */
function namesAreInOnePlace() {
  const { host } = new URL(manifest.homepage);
  const { stdout } = run('git', ['grep', '-lF', `${host}/${manifest.publisher}`], { cwd: root });
  assert.deepEqual(stdout.trim().split('\n'), ['package.json']);
}
