/** `npm run attack -- SECONDS SEED`: tests/attack/attack.ts says what it does. */
import { runBundled } from './run-bundled.mjs';

await runBundled('tests/attack/attack.ts');
