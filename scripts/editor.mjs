/**
 * The browser-served editor that tests and `npm start` use where no desktop editor is: where it is kept, how it is
 * started with our extension in it, and how it is stopped again. It is the open-source workbench and extension host
 * of VS Code, from the npm package code-server; only its inner server is used, which needs nothing compiled.
 */
import { spawn, spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';

export const root = path.resolve(import.meta.dirname, '..');
export const editorVersion = '4.100.3';
/** Outside the project's own dependencies, so that `npm ci` stays light. */
export const editorFolder = path.join(root, '.cache', 'editor');
export const serverMain = path.join(editorFolder, 'node_modules/code-server/lib/vscode/out/server-main.js');
const ready = path.join(editorFolder, `ready-${editorVersion}`);

export const isInstalled = () => fs.existsSync(ready) && fs.existsSync(serverMain);
export const markInstalled = () => fs.writeFileSync(ready, '');

/** Builds the bundles into dist/, and with `--tests` the suite into out/; says only what is wrong. */
export const build = (...options) => npmRun('build', ...options);
/** An extension that is larger takes long to fetch. */
const mostBytes = 3_000_000;

/** Builds and packages the extension as shoot-spec.vsix. */
export function packageExtension() {
  npmRun('package');
  const { size } = fs.statSync(path.join(root, 'shoot-spec.vsix'));
  if (size > mostBytes) throw new Error(`shoot-spec.vsix has ${size} bytes, and ${mostBytes} are the most`);
}

function npmRun(script, ...words) {
  const options = { cwd: root, encoding: 'utf8', shell: process.platform === 'win32' };
  const { status, stdout, stderr } = spawnSync('npm', ['run', '--silent', script, '--', ...words], options);
  if (status !== 0) throw new Error(`npm run ${script} failed:\n${stdout}${stderr}`);
}

/** Quiet settings, so that nothing but our extension moves, and nothing is fetched or sent. */
const settings = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.enableExperiments': false,
  'workbench.editor.enablePreview': false,
  'chat.commandCenter.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'update.mode': 'none',
  'files.autoSave': 'off', // In a browser it is on by itself, and the desktop's is off.
  'extensions.autoCheckUpdates': false,
  'extensions.autoUpdate': false,
  'extensions.ignoreRecommendations': true,
  'git.enabled': false,
  'npm.autoDetect': 'off',
  'typescript.disableAutomaticTypeAcquisition': true,
  'editor.minimap.enabled': false,
  'window.commandCenter': false,
  // Where no graphics processor is, each picture of something that moves is drawn by the machine's two cores.
  'workbench.reduceMotion': 'on',
  'editor.cursorBlinking': 'solid',
};

/** A port that nobody listens on at the moment. */
export function freePort() {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

/**
 * Starts the editor on a free port of this machine only.
 * `vsix`: a packaged extension to install first. `testDriver`: lets a page run a suite in the extension host.
 * Answers { url(folder), port, log(), stop() }; the address carries a secret, so other users of the machine stay out.
 */
export async function startEditor({ vsix, more = {}, testDriver = false, env = {} } = {}) {
  const data = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-editor-'));
  fs.mkdirSync(path.join(data, 'data/User'), { recursive: true });
  fs.writeFileSync(path.join(data, 'data/User/settings.json'), JSON.stringify({ ...settings, ...more }));
  const folders = ['--server-data-dir', data, '--extensions-dir', path.join(data, 'extensions')];
  const port = await freePort();
  // The test driver's addresses have no room for a secret; its editor lives for one short run.
  const token = testDriver ? undefined : randomUUID();
  const args = ['--host', '127.0.0.1', '--port', String(port), ...folders, '--accept-server-license-terms'];
  args.push(...(token ? ['--connection-token', token] : ['--without-connection-token', '--enable-smoke-test-driver']));
  args.push('--telemetry-level', 'off', '--disable-workspace-trust');
  if (vsix) args.push('--start-server', '--install-extension', vsix);
  const output = [];
  const child = spawn(process.execPath, [serverMain, ...args], { env: { ...process.env, ...env }, detached: true });
  child.stdout.on('data', (chunk) => output.push(chunk));
  child.stderr.on('data', (chunk) => output.push(chunk));
  const log = () => Buffer.concat(output).toString();
  const stop = () => stopEditor(child, data);
  try {
    await answers(`http://127.0.0.1:${port}/version`, child);
    if (vsix) await until(() => log().includes('was successfully installed'), child, 'install the extension');
  } catch (error) {
    await stop();
    throw new Error(`${error.message}\n${log()}`);
  }
  const query = (folder) => `?folder=${encodeURIComponent(folder)}${token ? `&tkn=${token}` : ''}`;
  return { port, url: (folder) => `http://127.0.0.1:${port}/${query(folder)}`, log, stop };
}

function answers(url, child) {
  const ask = () =>
    fetch(url).then(
      ({ ok }) => ok,
      () => false, // Nobody listens yet.
    );
  return until(ask, child, 'answer');
}

async function until(isSo, child, what, limitMs = 300_000) {
  for (const end = Date.now() + limitMs; Date.now() < end;) {
    if (await isSo()) return;
    if (child.exitCode !== null) throw new Error(`The editor stopped with code ${child.exitCode}.`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`The editor did not ${what} within ${limitMs / 1000} s.`);
}

/** Stops the editor with its extension hosts (its own process group), and removes what it wrote. */
async function stopEditor(child, data) {
  const gone = new Promise((resolve) => (child.exitCode === null ? child.once('exit', resolve) : resolve()));
  for (const signal of ['SIGTERM', 'SIGKILL']) {
    kill(child, signal);
    const inTime = await Promise.race([
      gone.then(() => true),
      new Promise((resolve) => setTimeout(resolve, 4000, false)),
    ]);
    if (inTime) break;
  }
  kill(child, 'SIGKILL');
  fs.rmSync(data, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}

function kill(child, signal) {
  try {
    if (process.platform === 'win32') child.kill(signal);
    else process.kill(-child.pid, signal);
  } catch {
    // It is gone already.
  }
}

/** A Chromium for tests: CHROMIUM says which, otherwise the usual places, first the one without windows: half the work. */
export function findChromium() {
  const names = ['chromium-headless-shell', 'chromium', 'chromium-browser', 'google-chrome'];
  const places = [process.env.CHROMIUM, ...names.map((name) => `/usr/bin/${name}`)];
  return places.find((place) => place && fs.existsSync(place));
}

/** Opens a headless browser with an empty profile that says nothing to the outside; answers { page, close() }. */
export async function openBrowser() {
  const { chromium } = await import('playwright-core');
  const executablePath = findChromium();
  if (!executablePath) throw new Error('No Chromium was found. Install it, or say where it is in CHROMIUM.');
  const profile = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-browser-'));
  const quiet = ['--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'];
  const context = await chromium.launchPersistentContext(profile, {
    executablePath,
    headless: true,
    viewport: { width: 1280, height: 800 },
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', ...quiet],
  });
  const close = async () => {
    await context.close();
    fs.rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  return { page: context.pages()[0] ?? (await context.newPage()), close };
}
