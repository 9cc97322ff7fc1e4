import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    globalSetup: 'tests/helpers/build.ts',
    include: ['tests/**/*.test.ts'],
    // These start a real editor and have a runner of their own.
    exclude: ['tests/editor/**', 'node_modules/**'],
  },
});
