/** `npm run bench -- PART…`: tests/bench/bench.ts says what it measures. */
import { runBundled } from './run-bundled.mjs';

await runBundled('tests/bench/bench.ts');
