import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** What takes longest comes first, so that no processor waits for another at the end. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isLong = ({ moduleId }: TestSpecification) =>
      /\/tests\/(?:footage|film|hostile|client|site|set-page|schema\/used)/.test(moduleId);
    return [...sorted.filter(isLong), ...sorted.filter((one) => !isLong(one))];
  }
}

/** Only what hangs may reach these: a machine that is slow, or does other work beside, must not make a test fail. */
const patienceMs = 300_000;

/** Fonts are bytes, as in the bundle. */
const fontsAsBytes = {
  name: 'fonts-as-bytes',
  enforce: 'pre' as const,
  load(id: string) {
    if (!id.endsWith('.woff')) return undefined;
    return `export default new Uint8Array(Buffer.from('${readFileSync(id).toString('base64')}', 'base64'))`;
  },
};

export default defineConfig({
  plugins: [fontsAsBytes],
  test: {
    testTimeout: patienceMs,
    hookTimeout: patienceMs,
    expect: { poll: { timeout: 60_000 } },
    globalSetup: 'tests/helpers/build.ts',
    include: ['tests/**/*.test.ts'],
    // These start a real editor and have a runner of their own.
    exclude: ['tests/editor/**', 'node_modules/**'],
    // All processors work, and the sources are read once by each, not once for every file of tests.
    maxWorkers: availableParallelism(),
    isolate: false,
    // Most functions run a few times only, too few to be compiled by themselves: at once, tests take a fourteenth less.
    execArgv: ['--always-sparkplug'],
    sequence: { sequencer: LongestFirst },
  },
});
