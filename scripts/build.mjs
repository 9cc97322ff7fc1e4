/**
 * Bundles the programs into dist/: client.cjs (the extension), server.cjs (the language server), command.cjs (the command
 * line) with cli.cjs (what starts it), pdf.cjs (the sheet as a PDF), panel.js and panel.css (the page of the pictures),
 * and the pages of the rules into pages.json. `--watch` builds again after each change; `--tests` also bundles the suite
 * that runs inside an extension host into out/.
 */
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { build, context } from 'esbuild';
import { globSync } from 'tinyglobby';
import { plainYaml } from './plain-yaml.mjs';

const root = path.resolve(import.meta.dirname, '..');
const watch = process.argv.includes('--watch');
const withTests = process.argv.includes('--tests');

/** What is large is slow to start. The server and the command line hold all the rules, the client none. */
const largestBytes = {
  'dist/client.cjs': 500_000,
  'dist/server.cjs': 1_300_000,
  'dist/command.cjs': 1_100_000,
  'dist/panel.js': 60_000,
  'dist/pdf.cjs': 250_000,
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
  plugins: [withoutRules, plainYaml],
};

const programs = [
  { ...common, entryPoints: ['client/extension.ts'], outfile: 'dist/client.cjs', external: ['vscode'] },
  { ...common, entryPoints: ['server/main.ts'], outfile: 'dist/server.cjs' },
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
    alias: { fontkit: './server/pdf/nothing.ts', 'png-js': './server/pdf/nothing.ts' },
  },
  {
    ...common,
    platform: 'browser',
    target: 'chrome120',
    format: 'iife',
    define: {},
    banner: {},
    entryPoints: ['client/panel/panel.ts'],
    outfile: 'dist/panel.js',
  },
  { ...common, define: {}, banner: {}, entryPoints: ['client/panel/panel.css'], outfile: 'dist/panel.css' },
];

const suite = {
  ...common,
  entryPoints: ['tests/editor/suite/index.ts'],
  outfile: 'out/suite.cjs',
  // Mocha finds its own parts by path, so it stays outside the bundle.
  external: ['vscode', 'mocha'],
  minify: false,
};

writePages();
if (watch) {
  for (const program of programs) await (await context(program)).watch();
  console.log('watching');
} else {
  const results = await Promise.all([...programs, ...(withTests ? [suite] : [])].map((options) => build(options)));
  reportSizes(results);
  fs.chmodSync(path.join(root, 'dist/cli.cjs'), 0o755);
  compileCommand();
}

/** Leaves the engine's compiled form of the command beside it, as it is after a check: see server/start.ts. */
function compileCommand() {
  const compiled = path.join(root, 'dist/command.cache');
  fs.rmSync(compiled, { force: true });
  const env = { ...process.env, SHOOTSPEC_WRITE_COMPILED: '1' };
  const sample = path.join(root, 'sample-workspace/clay-whistle.shoot.yaml');
  spawnSync(process.execPath, [path.join(root, 'dist/cli.cjs'), 'check', sample], { env, stdio: 'ignore' });
  if (!fs.existsSync(compiled)) throw new Error('the command did not leave its compiled form');
}

/** The pages are read only when somebody asks why, so they are a file of their own and not in the bundles. */
function writePages() {
  const files = globSync('server/rules/**/*.md', { cwd: root }).sort();
  const pages = Object.fromEntries(
    files.map((file) => [path.basename(file, '.md'), fs.readFileSync(path.join(root, file), 'utf8')]),
  );
  fs.mkdirSync(path.join(root, 'dist'), { recursive: true });
  fs.writeFileSync(path.join(root, 'dist/pages.json'), JSON.stringify(pages));
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
