/**
 * The licences of everything that is bundled, as their texts ask for: written beside the bundles, and shipped with them.
 * What is bundled is read from the bundler's own account, so nothing can be forgotten.
 */
import fs from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';

/** Licences under which a library or a font may be shipped with ours, as their notice is kept. */
const allowed = new Set([
  'MIT',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  '0BSD',
  'Apache-2.0',
  'MPL-2.0',
  'Zlib',
  'Unlicense',
  '(MIT AND Zlib)',
  'BlueOak-1.0.0',
  'OFL-1.1',
]);

/**
 * @param {readonly import('esbuild').Metafile[]} metafiles of the bundles that are shipped
 * @param {string} root the project's top folder
 * @returns the notices as one text
 * @throws where a library has a licence that is not among those allowed, or no licence text to keep
 */
export function noticesOf(metafiles, root) {
  const inputs = metafiles.flatMap(({ inputs }) => Object.keys(inputs));
  const folders = new Set(inputs.flatMap((input) => folderOf(input) ?? []));
  const notices = [...folders].sort().map((folder) => notice(path.join(root, folder)));
  return `Shoot Spec contains these libraries, each under its own licence.\n\n${notices.join('\n')}`;
}

/** `node_modules/@scope/name` of a bundled file; undefined for our own. */
function folderOf(input) {
  return /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(input.replaceAll('\\', '/'))?.[1];
}

function notice(folder) {
  const { name, version, license, author } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  if (!allowed.has(license)) throw new Error(`${name} has the licence ${license}, which nobody has looked at`);
  const files = globSync(['licen[cs]e*', 'copying*'], {
    cwd: folder,
    caseSensitiveMatch: false,
    absolute: true,
  }).sort();
  const texts = files.map((file) => fs.readFileSync(file, 'utf8').replaceAll('\r\n', '\n').trim());
  if (texts.length === 0 && license === 'MIT' && typeof author === 'string') texts.push(mit(author));
  if (texts.length === 0) throw new Error(`${name} has no licence text to keep`);
  return `${'='.repeat(80)}\n${name} ${version} (${license})\n\n${texts.join('\n\n')}\n`;
}

/** For libraries that name their licence and its holder and leave its text out. */
function mit(author) {
  return `MIT License

Copyright (c) ${author}

Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation
files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy,
modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the
Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the
Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE
WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR
COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR
OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;
}
