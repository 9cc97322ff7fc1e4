/**
 * `npm run type`: types the sample films, their kits and settings by hand in a real editor, at three paces, with a line
 * pasted now and then, and looks that every line stands in the file as it was typed.
 * usage: node tests/editor/type.mjs [--vsix FILE] [--pace MS]… [--insist] [NAME or FILE…]
 * `--insist` asks for completion before each Enter, so that it is surely open.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { diffLines } from 'diff';
import { openBrowser, packageExtension, root, startEditor } from '../../scripts/editor.mjs';
import { installEditor } from '../../scripts/setup-editor.mjs';
import { Desk } from './desk.mjs';
import { Typist } from './typist.mjs';

const { values: options, positionals: wanted } = parseArgs({
  allowPositionals: true,
  options: {
    vsix: { type: 'string' },
    pace: { type: 'string', multiple: true, default: ['0', '60', '160'] },
    insist: { type: 'boolean', default: false },
  },
});

installEditor();
if (!options.vsix) packageExtension();
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-typed-'));
fs.cpSync(path.join(root, 'sample-workspace'), folder, { recursive: true });
const editor = await startEditor({ vsix: path.resolve(options.vsix ?? path.join(root, 'shoot-spec.vsix')) });
const browser = await openBrowser();
const { page } = browser;
await page.setViewportSize({ width: 900, height: 500 }); // Drawing a large one takes longer than typing.
const desk = new Desk(page, folder);
let stood = 0;
let all = 0;
try {
  await desk.show(editor.url(folder));
  for (const [name, text] of texts()) for (const pace of options.pace) await type(name, text, Number(pace));
} catch (error) {
  await page.screenshot({ path: path.join(os.tmpdir(), 'shoot-spec-failed.png') });
  throw error;
} finally {
  await browser.close();
  await editor.stop();
  fs.rmSync(folder, { recursive: true, force: true });
}
console.log(`${stood} of ${all} lines stand as they were typed`);
process.exitCode = stood === all ? 0 : 1;

function texts() {
  const names = fs.readdirSync(folder, { recursive: true }).filter((name) => name.endsWith('.yaml'));
  const samples = names.filter((name) => wanted.length === 0 || wanted.some((one) => name.includes(one)));
  const others = wanted.filter((one) => fs.existsSync(one));
  return [
    ...samples.map((name) => [name, fs.readFileSync(path.join(folder, name), 'utf8')]),
    ...others.map((file) => [path.basename(file), fs.readFileSync(file, 'utf8')]),
  ];
}

async function type(name, text, pace) {
  await desk.open(name);
  const typist = new Typist(page, { pace, insists: options.insist, pastes: 10 });
  await typist.type(text);
  await page.keyboard.press('Escape');
  const result = await desk.saved(name);
  fs.writeFileSync(path.join(folder, name), text); // So that other files find it as it should be.
  const parts = diffLines(text, result);
  const same = parts.reduce((sum, { added, removed, count }) => sum + (added || removed ? 0 : count), 0);
  const lines = text.split('\n').length - 1;
  stood += same;
  all += lines;
  console.log(`${name}, ${pace} ms: ${same} of ${lines} lines, ${typist.indentKeys} keys for indentation`);
  for (const { added, removed, value } of parts) if (added || removed) process.stdout.write(marked(value, added));
}

function marked(lines, added) {
  return lines.replace(/^(?=.)/gm, added ? '  got   ' : '  typed ');
}
