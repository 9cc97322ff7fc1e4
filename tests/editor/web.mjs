/**
 * Tries the extension in a workbench that is nothing but a page: no server behind it, its files in memory. A person opens a
 * sample, reads findings and a hover, takes a fix, sees the pictures. `--keep-pictures` keeps one in tests/editor/shots.
 */
import assert from 'node:assert/strict';
import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { globSync } from 'tinyglobby';
import { build, openBrowser, root, serverMain } from '../../scripts/editor.mjs';
import { installEditor } from '../../scripts/setup-editor.mjs';
import { goThrough, tellCount } from '../helpers/steps.mjs';
import { find, questionListens } from './keys.mjs';

/** Only what hangs may reach it. */
const limitMs = 300_000;
const keep = process.argv.includes('--keep-pictures');
const workbench = path.resolve(path.dirname(serverMain), '..');

const types = {
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.html': 'text/html',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
};

installEditor();
build();

const sample = path.join(root, 'tests/editor/workspace');
const folder = Object.fromEntries(
  globSync('**/*', { cwd: sample, dot: true }).map((file) => [
    `tinnabel/${file}`,
    fs.readFileSync(path.join(sample, file), 'utf8'),
  ]),
);
const server = http.createServer(answer).listen(0, '127.0.0.1');
await new Promise((listens) => server.once('listening', listens));
const place = `http://127.0.0.1:${server.address().port}`;

const browser = await openBrowser();
const { page } = browser;
page.setDefaultTimeout(limitMs);
const elsewhere = new Set();
await page.route(
  (url) => url.origin !== place,
  (route) => {
    elsewhere.add(route.request().url());
    return route.abort();
  },
);

const steps = [
  ['opens a plan that is on no disk, and marks what is wrong', marks],
  ['says why in a hover', hovers],
  ['offers the fix and applies it', fixes],
  ['follows a kit that is saved', followsKit],
  ['shows the pictures of the plan', showsPictures],
  ['hides what needs a program', hides],
];
await goThrough(steps, { bearsTheRest: () => true, page });
await browser.close();
server.close();
server.closeAllConnections();
tellCount();

// -- the page ----------------------------------------------------------------------------------------------------------

function answer(request, response) {
  const { pathname } = new URL(request.url, place);
  if (pathname === '/') return send(response, 'text/html', pageHtml());
  if (pathname === '/folder.json') return send(response, 'application/json', JSON.stringify(folder));
  const [, top, ...names] = decodeURIComponent(pathname).split('/');
  const places = {
    static: workbench,
    extension: root,
    'memory-folder': path.join(import.meta.dirname, 'memory-folder'),
  };
  const file = places[top] && path.join(places[top], ...names);
  if (!file || !fs.statSync(file, { throwIfNoEntry: false })?.isFile()) return response.writeHead(404).end();
  const type = types[path.extname(file)] ?? 'application/octet-stream';
  return send(response, type, file.endsWith('/workbench/workbench.js') ? alone(file) : fs.readFileSync(file));
}

/** This build of the workbench takes whoever serves it for a machine to work on, and keeps settings there: here there is none. */
function alone(file) {
  let text = fs.readFileSync(file, 'utf8');
  for (const [said, instead] of [
    ['remoteAuthority:location.host', 'remoteAuthority:void 0'],
    ['({scheme:K.vscodeRemote}),"User")', '({scheme:K.vscodeUserData}),"User")'],
  ]) {
    assert.ok(text.includes(said), `the workbench has no ${said}`);
    text = text.replace(said, instead);
  }
  return text;
}

function send(response, type, body) {
  response.writeHead(200, { 'content-type': type, 'cache-control': 'no-store' }).end(body);
}

/** What a host of such a workbench writes: which folder it shows, and with which extensions. */
function pageHtml() {
  const { host } = new URL(place);
  const at = (top) => ({ scheme: 'http', authority: host, path: `/${top}` });
  const configuration = {
    // What this build of the workbench asks for, in which nothing is kept.
    userDataPath: '/user',
    isEnabledFileDownloads: true,
    isEnabledFileUploads: true,
    isEnabledCoderGettingStarted: false,
    folderUri: { scheme: 'memory', authority: '', path: '/tinnabel' },
    additionalBuiltinExtensions: [at('extension'), at('memory-folder')],
    webviewEndpoint: `${place}/static/out/vs/workbench/contrib/webview/browser/pre`,
    productConfiguration: { enableTelemetry: false, extensionsGallery: undefined },
    configurationDefaults: {
      'workbench.startupEditor': 'none',
      'editor.hover.delay': 150,
      'editor.minimap.enabled': false,
      'files.autoSave': 'off',
      'security.workspace.trust.enabled': false,
    },
  };
  const settings = JSON.stringify(configuration).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  return `<!doctype html><html><head><meta charset="utf-8">
<meta id="vscode-workbench-web-configuration" data-settings="${settings}">
<link rel="stylesheet" href="${place}/static/out/vs/code/browser/workbench/workbench.css"></head>
<body aria-label=""></body>
<script>globalThis._VSCODE_FILE_ROOT = '${place}/static/out/';</script>
<script type="module" src="${place}/static/out/nls.messages.js"></script>
<script type="module" src="${place}/static/out/vs/code/browser/workbench/workbench.js"></script></html>`;
}

// -- what a person does ------------------------------------------------------------------------------------------------

async function marks() {
  await page.goto(place);
  await openFile('music-box.shoot.yaml');
  await page.locator('.squiggly-error').first().waitFor();
  await lineWith('375 MB of takes').waitFor(); // A hint beside the line.
  await page.locator('#status\\.problems', { hasText: '1' }).waitFor();
}

async function hovers() {
  await wordOf('shuter').hover();
  await page.locator('.monaco-hover', { hasText: 'Did you mean' }).first().waitFor();
  await page.keyboard.press('Escape');
  // The rule's page comes from the package.
  await wordOf('200').hover();
  await page
    .locator('.monaco-hover', { hasText: /45°[^]*180°[^]*shutter-off-half-frame/ })
    .first()
    .waitFor();
  await page.keyboard.press('Escape');
}

async function fixes() {
  await wordOf('shuter').click();
  const fix = page.locator('.action-widget .monaco-list-row', { hasText: 'shutter' }).first();
  for (let isThere = false; !isThere;) {
    await page.keyboard.press('Control+.');
    isThere = await fix.waitFor({ timeout: 3000 }).then(
      () => true,
      () => page.keyboard.press('Escape').then(() => false),
    );
  }
  await page.keyboard.press('Enter');
  await page.locator('.squiggly-error').first().waitFor({ state: 'detached' });
}

async function followsKit() {
  await openFile('kits');
  await openFile('table.kit.yaml');
  await find(page, 'Control+h', '[25, 50]');
  await page.locator('.find-widget.visible .matchesCount', { hasText: /of 1$/ }).waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.type('[24, 50]');
  await page.keyboard.press('Control+Alt+Enter');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+s');
  await page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
  await page.keyboard.press('Control+w');
  await page.locator('.tab.active', { hasText: 'music-box' }).waitFor();
  await page.locator('.squiggly-error').first().waitFor();
}

async function showsPictures() {
  await page.locator('.editor-actions a[aria-label^="Show the Pictures of This Plan"]').click();
  const panel = page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  await panel.locator('#picture svg').waitFor();
  await panel.getByRole('tab', { name: 'Frame' }).first().click();
  await panel.locator('h1#title', { hasText: 'frame' }).waitFor();
  await panel.getByRole('button', { name: 'As lit' }).click();
  await panel.locator('#picture image').first().waitFor();
  if (keep) await page.screenshot({ path: path.join(import.meta.dirname, 'shots/in-a-browser.png') });
}

async function hides() {
  await lineWith('Tinnabel music box').click();
  await page.keyboard.press('F1');
  await questionListens(page, '>');
  await page.keyboard.insertText('Shoot Spec: ');
  const rows = page.locator('.quick-input-list .monaco-list-row', { hasText: 'Shoot Spec: ' });
  await rows.filter({ hasText: 'Save the Page for the Set' }).waitFor();
  const shown = (await rows.allInnerTexts()).join('\n');
  for (const missing of ['Last Commit', 'Assemble', 'Hand', 'Decode']) assert.ok(!shown.includes(missing), missing);
  assert.deepEqual([...elsewhere], []);
}

/** Opens a file or a folder of the list. */
async function openFile(name) {
  const row = page.locator('.explorer-viewlet .monaco-list-row', { hasText: name }).first();
  if (!name.endsWith('.yaml')) return row.click();
  await row.dblclick();
  await page.locator('.tab.active', { hasText: name }).first().waitFor();
  await page.locator('.editor-group-container.active .monaco-editor.focused .view-line').first().waitFor();
}

/** The editor draws blanks as no-break ones. */
function lineWith(text) {
  return page.locator('.view-line', { hasText: new RegExp(text.replace(/ /g, '[ \\u00a0]')) }).first();
}

function wordOf(text) {
  return page.locator('.view-line span:not(:has(span))', { hasText: text }).first();
}
