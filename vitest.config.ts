import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // A machine that does other work beside must not make a test fail.
    testTimeout: 30_000,
    hookTimeout: 30_000,
    globalSetup: 'tests/helpers/build.ts',
    include: ['tests/**/*.test.ts'],
    // These start a real editor and have a runner of their own.
    exclude: ['tests/editor/**', 'node_modules/**'],
  },
});
