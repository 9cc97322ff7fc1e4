/**
 * `npm start`: builds and packages the extension, shows what the command line finds in sample-workspace, and opens
 * that folder in a real editor with the extension in it. A desktop editor is used where one is; otherwise the
 * browser-served one from npm, at an address of this machine only. `--no-wait` (and CI) opens it, looks that it
 * answers, and stops.
 */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { packageExtension, root, startEditor } from './editor.mjs';
import { installEditor } from './setup-editor.mjs';

const noWait = process.argv.includes('--no-wait') || Boolean(process.env.CI);
const served = process.argv.includes('--served') || noWait;
const folder = path.join(root, 'sample-workspace');
const vsix = path.join(root, 'shoot-spec.vsix');

heading('Building and packaging');
packageExtension();
console.log(`shoot-spec.vsix ${Math.round(fs.statSync(vsix).size / 1000)} kB`);

heading('What the command line finds in sample-workspace');
const check = spawnSync(process.execPath, [path.join(root, 'dist/cli.cjs'), 'check', '.'], {
  cwd: folder,
  stdio: 'inherit',
});
// 1 says that findings are there, as they are meant to be in a sample; anything else is a fault.
if (check.status !== 0 && check.status !== 1) process.exit(check.status ?? 1);

heading('The same in an editor');
const desktop = served ? undefined : ['code', 'codium'].find(isOnPath);
await (desktop ? openDesktop(desktop) : openServed());

function heading(text) {
  console.log(`\n== ${text}`);
}

function isOnPath(command) {
  const finder = process.platform === 'win32' ? 'where' : 'which';
  return spawnSync(finder, [command], { stdio: 'ignore' }).status === 0;
}

function openDesktop(command) {
  const args = [`--extensionDevelopmentPath=${root}`, '--new-window', folder];
  // On Windows the command is a script, which only a shell runs, and a shell splits at blanks.
  const shell = process.platform === 'win32';
  execFileSync(command, shell ? args.map((arg) => `"${arg}"`) : args, { stdio: 'inherit', shell });
  console.log(`Opened ${folder} with ${command}. Open a file that ends in .shoot.yaml.`);
}

async function openServed() {
  installEditor();
  const editor = await startEditor({ vsix });
  const address = editor.url(folder);
  if (noWait) return lookAndStop(editor, address);
  console.log(`Open this address in a browser, then a file that ends in .shoot.yaml:\n\n  ${address}\n`);
  console.log('Ctrl+C stops it.');
  openInBrowser(address);
  for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => editor.stop().then(() => process.exit(0)));
}

async function lookAndStop(editor, address) {
  try {
    const answer = await fetchPage(address);
    const text = await answer.text();
    if (!answer.ok || !text.includes('workbench')) throw new Error(`The editor answered ${answer.status}.`);
    console.log('The editor started with the extension in it, answered, and was stopped.');
  } finally {
    await editor.stop();
  }
}

/** The first answer turns the secret in the address into a cookie, as a browser would keep it. */
async function fetchPage(address) {
  const first = await fetch(address, { redirect: 'manual' });
  const cookie = first.headers.getSetCookie().map((line) => line.split(';')[0]);
  const next = new URL(first.headers.get('location') ?? '', address);
  return fetch(next, { headers: { cookie: cookie.join('; ') } });
}

/** Tries the desktop's own opener; without a desktop the printed address is enough. */
function openInBrowser(address) {
  const opener = { darwin: 'open', win32: 'explorer' }[process.platform] ?? 'xdg-open';
  const hasDesktop = process.platform !== 'linux' || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  if (!hasDesktop || !isOnPath(opener)) return;
  spawn(opener, [address], { stdio: 'ignore', detached: true })
    .on('error', () => {})
    .unref();
}
