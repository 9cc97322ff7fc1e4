/** `npm run attack-clips -- NUMBER SEED`: bundles and runs tests/attack/clips.ts, which says what it does. */
import { execFileSync, spawnSync } from 'node:child_process';
import path from 'node:path';
import { build } from 'esbuild';

const root = path.resolve(import.meta.dirname, '..');
// Clips are read as the program is shipped.
execFileSync(process.execPath, [path.join(root, 'scripts/build.mjs')], { stdio: ['ignore', 'ignore', 'inherit'] });
await build({
  absWorkingDir: root,
  entryPoints: ['tests/attack/clips.ts'],
  outfile: 'out/attack-clips.mjs',
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  logLevel: 'warning',
  // Paths beside the sources are meant, not beside the bundle.
  define: { 'import.meta.dirname': JSON.stringify(path.join(root, 'tests/helpers')) },
});
const { status } = spawnSync(process.execPath, [path.join(root, 'out/attack-clips.mjs'), ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
});
process.exitCode = status ?? 1;
