/**
 * `npm run site`: builds the page to try it, and the pages beside it, into dist/site. All of it is static and works from
 * a folder or from any host; docs/site has the sources.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { build } from 'esbuild';
import { globSync } from 'tinyglobby';
import { noticesOf } from './notices.mjs';

const root = path.resolve(import.meta.dirname, '..');
const site = path.join(root, 'dist/site');
/** Somebody waits for it, maybe on a phone. */
const mostBytes = 2_000_000;

execFileSync(process.execPath, [path.join(root, 'scripts/build.mjs')], { stdio: ['ignore', 'ignore', 'inherit'] });
fs.rmSync(site, { recursive: true, force: true });

const common = {
  absWorkingDir: root,
  bundle: true,
  minify: true,
  charset: 'utf8',
  legalComments: 'none',
  logLevel: 'warning',
  metafile: true,
};
const forPages = { ...common, platform: 'browser', target: ['chrome109', 'safari16.4', 'firefox115'] };
/** A module that waits while it begins, in a script that may not: it begins as soon as it can. */
const waiting = { format: 'esm', banner: { js: '(async()=>{' }, footer: { js: '})();' } };
const made = await Promise.all([
  build({
    ...forPages,
    ...waiting,
    entryPoints: ['docs/site/try/main.ts'],
    outfile: 'dist/site/try.js',
    write: false,
    loader: { '.css': 'text' },
    alias: { entities: './docs/site/try/entities.ts', 'linkify-it': './docs/site/try/no-links.ts' },
  }),
  build({ ...forPages, ...waiting, entryPoints: ['docs/site/try/start.ts'], outfile: 'dist/site/start.js' }),
  build({ ...forPages, format: 'iife', entryPoints: ['docs/site/compute/main.ts'], outfile: 'dist/site/compute.js' }),
  build({ ...common, entryPoints: ['docs/site/site.css'], outfile: 'dist/site/site.css' }),
]);

const { sitePages, ruleNames, encoded } = await bundled('docs/site/make/index.ts');
const script = made[0].outputFiles[0].text;
const pages = {
  scriptHash: createHash('sha256').update(script).digest('base64'),
  pages: read('dist/pages.md'),
  format: read('docs/format.md'),
  fields: read('docs/fields.md'),
};
for (const [name, html] of sitePages(pages)) write(name, html);

const door = await build({ ...forPages, format: 'iife', entryPoints: ['docs/site/panel/door.ts'], write: false });
write('pictures.js', door.outputFiles[0].text + read('dist/panel.js'));
write('pictures.css', read('dist/panel.css'));
write('icon.png', fs.readFileSync(path.join(root, 'client/icon.png')));
// Of the worker too, which was bundled before.
const worker = await build({
  ...forPages,
  entryPoints: ['server/browser/main.ts'],
  write: false,
  outfile: 'worker.js',
});
write(
  'notices.txt',
  noticesOf(
    [...made, worker].map(({ metafile }) => metafile),
    root,
  ),
);

const names = globSync('**/*.{yaml,md}', { cwd: path.join(root, 'sample-workspace'), ignore: ['README.md'] }).sort();
const files = Object.fromEntries(names.map((name) => [name, read(`sample-workspace/${name}`)]));
const parts = {
  page: script,
  server: read('dist/web-server.js'),
  // What hovers quote of them.
  pages: firstWords(pages.pages),
  setScript: read('dist/set-page.js'),
  setStyle: read('dist/set-page.css'),
  samples: JSON.stringify({ files, rules: ruleNames }),
};
const packed = Object.entries(parts).map(
  ([name, text]) => `${name}:"${encoded(deflateRawSync(text, { level: 9, memLevel: 9 }))}"`,
);
write('parts.js', `globalThis.shootSpecParts={${packed.join()}};\n`);

const sizes = globSync('**/*', { cwd: site }).map((name) => fs.statSync(path.join(site, name)).size);
const bytes = sizes.reduce((sum, size) => sum + size, 0);
console.log(`dist/site: ${sizes.length} files, ${Math.round(bytes / 1000)} kB`);
if (bytes > mostBytes) {
  console.error(`that is more than ${mostBytes / 1000} kB`);
  process.exitCode = 1;
}

/** Of each rule's page its name and the first paragraph of why. */
function firstWords(pages) {
  const all = [...pages.matchAll(/^(<!-- page: .* -->\n)[\s\S]*?^## Why\n\n([\s\S]*?)\n\n/gm)];
  return all.map(([, name, why]) => `${name}## Why\n${why}\n\n## Wrong\n`).join('');
}

function read(file) {
  return fs.readFileSync(path.join(root, file), 'utf8');
}

function write(name, content) {
  const file = path.join(site, name);
  fs.mkdirSync(path.dirname(file), { recursive: true });
  fs.writeFileSync(file, content);
}

/** What a program of the sources exports. */
async function bundled(entry) {
  const outfile = path.join(root, 'out/site.mjs');
  await build({ ...common, platform: 'node', format: 'esm', packages: 'external', entryPoints: [entry], outfile });
  return import(outfile);
}
