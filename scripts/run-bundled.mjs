/** Bundles a program of the tests and runs it beside the bundles as they ship. */
import { execFileSync, spawnSync } from 'node:child_process';
import path from 'node:path';
import { build } from 'esbuild';

const root = path.resolve(import.meta.dirname, '..');

/**
 * Ends as the program does.
 * @param entry from the project's root
 */
export async function runBundled(entry) {
  const outfile = path.join(root, 'out', `${path.basename(entry, '.ts')}.mjs`);
  execFileSync(process.execPath, [path.join(root, 'scripts/build.mjs')], { stdio: ['ignore', 'ignore', 'inherit'] });
  await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'warning',
    // Paths beside the sources (samples, fixtures, bundles) are meant, not beside the bundle.
    define: {
      'import.meta.url': JSON.stringify(new URL('../tests/helpers/workspace.ts', import.meta.url).href),
      'import.meta.dirname': JSON.stringify(path.join(root, 'tests/helpers')),
    },
    packages: 'external',
  });
  const { status } = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { cwd: root, stdio: 'inherit' });
  process.exitCode = status ?? 1;
}
