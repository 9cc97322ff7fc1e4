/**
 * Bundles the programs into dist/: client.cjs (the extension), server.cjs (the language server), command.cjs (the command
 * line) with cli.cjs (what starts it), web-client.js and web-server.js (the extension and the server in a browser), pdf.cjs (the sheet as a PDF), clips.cjs (what reads clips), film.cjs (what puts films
 * together), hand-over.cjs (films as other programs take them), panel.js and panel.css (the page of the pictures),
 * set-page.js and set-page.css (what the page for the set has in it), the pages of the rules into pages.md, and the licences of all that is bundled into notices.txt. `--watch` builds again after each change; `--tests` also bundles the suite that
 * runs inside an extension host into out/.
 */
import fs from 'node:fs';
import path from 'node:path';
import { build, context } from 'esbuild';
import { globSync } from 'tinyglobby';
import { noticesOf } from './notices.mjs';

const root = path.resolve(import.meta.dirname, '..');
const watch = process.argv.includes('--watch');
const withTests = process.argv.includes('--tests');

/** What is large is slow to start. The server and the command line hold all the rules, the client none. */
const largestBytes = {
  'dist/client.cjs': 520_000,
  'dist/server.cjs': 1_950_000,
  'dist/web-client.js': 500_000,
  'dist/web-server.js': 1_900_000,
  'dist/command.cjs': 1_800_000,
  'dist/panel.js': 60_000,
  'dist/set-page.js': 40_000,
  'dist/pdf.cjs': 250_000,
  'dist/clips.cjs': 450_000,
  'dist/film.cjs': 650_000,
  'dist/hand-over.cjs': 200_000,
};

// The sources are modules and the bundles are not: there, a module's own address is that of the bundle.
const bundleUrl = "const bundleUrl=require('node:url').pathToFileURL(__filename).href;";

/** The rules in the schema of the settings are for other editors: the programs have the rules themselves. */
const withoutRules = {
  name: 'without-rules',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]config\.schema\.json$/ }, ({ path: file }) => {
      const schema = JSON.parse(fs.readFileSync(file, 'utf8'));
      delete schema.properties.rules.allOf;
      return { contents: JSON.stringify(schema), loader: 'json' };
    });
  },
};

/** `./name.ts?text` is that script, bundled for a page, as text: workers of a page are made from text. */
const scriptsAsText = {
  name: 'scripts-as-text',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /\?text$/ }, ({ path: file, resolveDir }) => ({
      path: path.resolve(resolveDir, file.replace(/\?text$/, '')),
      namespace: 'as-text',
    }));
    onLoad({ filter: /.*/, namespace: 'as-text' }, async ({ path: file }) => {
      const { outputFiles, metafile } = await build({
        ...forPages,
        entryPoints: [file],
        write: false,
        sourcemap: false,
      });
      return { contents: outputFiles[0].text, loader: 'text', watchFiles: Object.keys(metafile.inputs).map(inRoot) };
    });
  },
};

const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  mainFields: ['module', 'main'],
  charset: 'utf8',
  define: { 'import.meta.url': 'bundleUrl', 'import.meta.dirname': '__dirname', 'import.meta.filename': '__filename' },
  banner: { js: bundleUrl },
  legalComments: 'none',
  logLevel: 'warning',
  minify: !watch,
  sourcemap: watch,
  metafile: true,
  plugins: [withoutRules],
  // The same library without its questions to the process at each token: a fifth of its time.
  alias: { yaml: './node_modules/yaml/browser/index.js' },
};

const forPages = {
  ...common,
  platform: 'browser',
  target: 'chrome120',
  format: 'iife',
  define: {},
  banner: {},
};

const inBrowser = {
  ...forPages,
  target: ['chrome109', 'safari16', 'firefox115'],
  conditions: ['browser'],
  mainFields: ['browser', 'module', 'main'],
};

const inRoot = (file) => path.join(root, file);

const programs = [
  { ...common, entryPoints: ['client/extension.ts'], outfile: 'dist/client.cjs', external: ['vscode'] },
  { ...common, entryPoints: ['server/main.ts'], outfile: 'dist/server.cjs' },
  {
    ...inBrowser,
    format: 'cjs',
    entryPoints: ['client/web/extension.ts'],
    outfile: 'dist/web-client.js',
    external: ['vscode'],
  },
  { ...inBrowser, entryPoints: ['server/browser/main.ts'], outfile: 'dist/web-server.js' },
  { ...common, entryPoints: ['server/cli.ts'], outfile: 'dist/command.cjs' },
  {
    ...common,
    entryPoints: ['server/start.ts'],
    outfile: 'dist/cli.cjs',
    banner: { js: `#!/usr/bin/env node\n${bundleUrl}` },
  },
  {
    ...common,
    entryPoints: ['server/pdf/index.ts'],
    outfile: 'dist/pdf.cjs',
    // Its build for browsers needs no file of its own at run time, and we embed neither type nor photographs.
    platform: 'browser',
    alias: { ...common.alias, fontkit: './server/pdf/empty-module.ts', 'png-js': './server/pdf/empty-module.ts' },
  },
  { ...common, entryPoints: ['server/footage/clips-worker.ts'], outfile: 'dist/clips.cjs' },
  { ...common, entryPoints: ['server/hand-over/index.ts'], outfile: 'dist/hand-over.cjs' },
  {
    ...common,
    entryPoints: ['server/film/index.ts'],
    outfile: 'dist/film.cjs',
    loader: { '.woff': 'binary' },
    // Its build for every runtime: fonts are given to it as bytes.
    alias: {
      ...common.alias,
      fontkit: './node_modules/fontkit/dist/browser-module.mjs',
      // For fonts packed as WOFF 2 alone.
      'brotli/decompress.js': './server/pdf/empty-module.ts',
    },
  },
  {
    ...forPages,
    plugins: [scriptsAsText],
    entryPoints: ['client/panel/panel.ts'],
    outfile: 'dist/panel.js',
  },
  { ...common, define: {}, banner: {}, entryPoints: ['client/panel/panel.css'], outfile: 'dist/panel.css' },
  // Phones are older than editors.
  {
    ...forPages,
    target: ['chrome109', 'safari16', 'firefox115'],
    entryPoints: ['client/set-page/page.ts'],
    outfile: 'dist/set-page.js',
  },
  { ...common, define: {}, banner: {}, entryPoints: ['client/set-page/set-page.css'], outfile: 'dist/set-page.css' },
];

const suite = {
  ...common,
  entryPoints: ['tests/editor/suite/index.ts'],
  outfile: 'out/suite.cjs',
  // Mocha finds its own parts by path, so it stays outside the bundle.
  external: ['vscode', 'mocha'],
  minify: false,
};

if (withTests) await build(suite);
// What runs tests one after the other builds once.
if (process.env.SKIP_BUILD) process.exit();
writePages();
if (watch) {
  for (const program of programs) await (await context(program)).watch();
  console.log('watching');
} else {
  const results = await Promise.all(programs.map((options) => build(options)));
  reportSizes(results);
  const shipped = results.map(({ metafile }) => metafile);
  fs.writeFileSync(path.join(root, 'dist/notices.txt'), noticesOf(shipped, root));
  fs.chmodSync(path.join(root, 'dist/cli.cjs'), 0o755);
}

/** The pages are read only when somebody asks why, so they are a file of their own and not in the bundles. */
function writePages() {
  const files = globSync('server/rules/**/*.md', { cwd: root }).sort();
  const pages = files.map((file) => {
    const text = fs.readFileSync(path.join(root, file), 'utf8').trimEnd();
    return `<!-- page: ${path.basename(file, '.md')} -->\n${text}\n`;
  });
  fs.mkdirSync(path.join(root, 'dist'), { recursive: true });
  fs.writeFileSync(path.join(root, 'dist/pages.md'), pages.join(''));
}

function reportSizes(results) {
  for (const result of results) {
    for (const [file, output] of Object.entries(result.metafile.outputs)) {
      console.log(`${file} ${Math.round(output.bytes / 1000)} kB`);
      if (output.bytes > largestBytes[file]) {
        console.error(`${file} is larger than ${largestBytes[file] / 1000} kB`);
        process.exitCode = 1;
      }
    }
  }
}
