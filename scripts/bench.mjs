/** Bundles and runs the benchmark on the bundles as they ship. */
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import { build } from 'esbuild';
import { plainYaml } from './plain-yaml.mjs';

const root = path.resolve(import.meta.dirname, '..');
execFileSync(process.execPath, [path.join(root, 'scripts/build.mjs')], { stdio: ['ignore', 'ignore', 'inherit'] });
await build({
  absWorkingDir: root,
  entryPoints: ['tests/bench/bench.ts'],
  outfile: 'out/bench.mjs',
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  logLevel: 'warning',
  // Paths beside the sources (fixtures, bundles) are meant, not beside the bundle.
  define: {
    'import.meta.url': JSON.stringify(new URL('../tests/helpers/workspace.ts', import.meta.url).href),
    'import.meta.dirname': JSON.stringify(path.join(root, 'tests/helpers')),
  },
  // Our own code as it ships; the floor is the library as npm gives it.
  plugins: [plainYaml],
  external: ['yaml', 'vscode-languageserver-protocol', 'vscode-uri'],
});
const { status } = (await import('node:child_process')).spawnSync(
  process.execPath,
  [path.join(root, 'out/bench.mjs'), ...process.argv.slice(2)],
  { cwd: root, stdio: 'inherit' },
);
process.exitCode = status ?? 1;
