/** `npm run bench -- PART…`: tests/bench/bench.ts says what it measures. */
import { build } from 'esbuild';
import { runBundled } from './run-bundled.mjs';

// The floor of a key, with the same build of the library as our server.
await build({
  entryPoints: ['tests/bench/parse-server.ts'],
  outfile: 'out/parse-server.cjs',
  bundle: true,
  platform: 'node',
  format: 'cjs',
  mainFields: ['module', 'main'],
  target: 'node20',
  logLevel: 'warning',
  alias: { yaml: './node_modules/yaml/browser/index.js' },
});
await runBundled('tests/bench/bench.ts');
