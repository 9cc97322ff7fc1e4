/** Builds the bundles once before the tests that run them. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';

export default function setup(): void {
  execFileSync(process.execPath, [join(import.meta.dirname, '../../scripts/build.mjs')], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
}
