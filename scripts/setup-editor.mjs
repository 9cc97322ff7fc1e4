/**
 * Gets what the tests in a real editor need: the browser-served editor from npm into .cache/editor, and, on a Debian
 * machine where this may install packages, Chromium, fonts, ffmpeg, ripgrep, shells, Neovim and Emacs. Does only what is missing.
 * usage: node scripts/setup-editor.mjs [programs] [editor]
 */
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { editorFolder, editorVersion, findChromium, isInstalled, markInstalled } from './editor.mjs';

/** Package of Debian, and how to see that it is there. */
const packages = [
  ['chromium-headless-shell', () => findChromium() !== undefined],
  ['fonts-dejavu-core', () => fs.existsSync('/usr/share/fonts/truetype/dejavu')],
  // Makes the clips that tests read.
  ['ffmpeg', () => has('ffmpeg')],
  ['ripgrep', () => has('rg')],
  // Shells and a checker of manual pages, for what is made for them.
  ['zsh', () => has('zsh')],
  ['fish', () => has('fish')],
  ['mandoc', () => has('mandoc')],
  ['neovim', () => has('nvim')],
  ['emacs-nox', () => has('emacs')],
  ['elpa-yaml-mode', () => hasEmacsPackage('yaml-mode')],
  // Part of Emacs from 29 on, where Debian has no package of that name any more.
  ['elpa-eglot', () => hasEmacsPackage('eglot')],
];

const inner = path.join(editorFolder, 'node_modules/code-server/lib/vscode');

function has(command) {
  return spawnSync('sh', ['-c', `command -v ${command}`]).status === 0;
}

function hasEmacsPackage(name) {
  return has('emacs') && spawnSync('emacs', ['--batch', '--eval', `(require '${name})`]).status === 0;
}

function installPackages() {
  const missing = packages.filter(([, present]) => !present()).map(([name]) => name);
  if (missing.length === 0) return;
  if (process.getuid?.() !== 0 || !has('apt-get')) {
    console.log(`Not installed, and needed by some of the tests: ${missing.join(', ')}`);
    return;
  }
  console.log(`Installing ${missing.join(', ')}`);
  const options = {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  execFileSync('apt-get', ['update', '-q'], options);
  execFileSync('apt-get', ['install', '-qy', '--no-install-recommends', ...missing], options);
}

/** Installs the editor without running any script of its packages: nothing is compiled or fetched besides. */
export function installEditor() {
  if (!isInstalled()) install();
  linkRipgrep();
}

function install() {
  console.log(`Installing the editor (code-server ${editorVersion}, about 290 MB) into .cache/editor`);
  fs.mkdirSync(editorFolder, { recursive: true });
  fs.writeFileSync(path.join(editorFolder, 'package.json'), '{ "private": true }\n');
  npm(['install', `code-server@${editorVersion}`], editorFolder);
  npm(['install', '--omit=dev'], inner);
  // The inner server looks for its packages under the name that a packed editor has.
  fs.rmSync(path.join(inner, 'node_modules.asar'), { recursive: true, force: true });
  fs.symlinkSync(path.join(inner, 'node_modules'), path.join(inner, 'node_modules.asar'), 'junction');
  markInstalled();
}

function npm(args, cwd) {
  const quiet = ['--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
  const options = { cwd, stdio: ['ignore', 'ignore', 'inherit'], shell: process.platform === 'win32' };
  execFileSync('npm', [...args, ...quiet], options);
}

/**
 * The editor's own search needs ripgrep, whose package would fetch it in a script. It may come to the machine after the
 * editor, so this is looked at each time.
 */
function linkRipgrep() {
  const place = path.join(inner, 'node_modules/@vscode/ripgrep/bin/rg');
  if (fs.existsSync(place)) return;
  const found = spawnSync('sh', ['-c', 'command -v rg'], { encoding: 'utf8' });
  if (found.status !== 0) {
    console.log('The editor cannot search in files here: that needs ripgrep (rg). Everything else works without.');
    return;
  }
  fs.mkdirSync(path.dirname(place), { recursive: true });
  fs.rmSync(place, { force: true });
  fs.symlinkSync(found.stdout.trim(), place);
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const wanted = process.argv.slice(2);
  const isWanted = (part) => wanted.length === 0 || wanted.includes(part);
  if (isWanted('programs')) installPackages();
  if (isWanted('editor')) {
    installEditor();
    console.log(`ready: ${editorFolder}`);
  }
}
