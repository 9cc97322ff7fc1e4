import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist/', 'out/', 'node_modules/', '.cache/', '**/generated/'] },
  ...tseslint.configs.strict,
  {
    rules: {
      'no-control-regex': 'error',
      eqeqeq: 'error',
      'no-console': 'off',
      // Indexing is checked by the compiler (noUncheckedIndexedAccess); where the code has just made sure, `!` says so.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/unified-signatures': 'off',
      complexity: ['error', 20],
      'max-depth': ['error', 3],
      'max-params': ['error', 5],
    },
  },
  { files: ['tests/**'], rules: { 'max-params': 'off' } },
);
