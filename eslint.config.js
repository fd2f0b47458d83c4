import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

const LONG_FUNCTION = { max: 70, skipBlankLines: true, skipComments: true };

export default ts.config(
  {
    ignores: [
      '**/node_modules/',
      '**/build/',
      '**/.svelte-kit/',
      'prisma/generated/',
      '.ashwater/',
      'test-output/',
      'coverage/',
      'tests/architecture/fixtures/',
    ],
  },
  js.configs.recommended,
  ts.configs.recommended,
  ts.configs.stylistic,
  svelte.configs.recommended,
  {
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
      'max-lines': ['error', 300],
      'max-lines-per-function': ['error', LONG_FUNCTION],
      'no-restricted-syntax': ['error', { selector: 'TSEnumDeclaration', message: 'Node strips types only: no enum.' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/consistent-type-definitions': 'off',
      // A listener that only has to be there, such as pool.on('error'), is empty on purpose.
      '@typescript-eslint/no-empty-function': 'off',
      // `a || b` also for an empty string: environment variables set to nothing count as not set.
      '@typescript-eslint/prefer-nullish-coalescing': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/ban-ts-comment': ['error', { 'ts-expect-error': true, 'ts-ignore': true, 'ts-nocheck': true }],
    },
  },
  { files: ['**/*.{ts,mjs,js}'], languageOptions: { globals: globals.node } },
  { files: ['**/*.cjs'], languageOptions: { globals: globals.node, sourceType: 'commonjs' } },
  { files: ['apps/web/**'], languageOptions: { globals: { ...globals.browser, ...globals.node } }, rules: { 'no-console': ['error', { allow: ['error'] }] } },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] } },
    // Svelte's own checker (svelte-check) knows which names exist.
    // The service answers at the root of its address, never below a path: resolve() would add nothing.
    rules: { 'no-undef': 'off', 'max-lines-per-function': 'off', 'prefer-const': 'off', 'svelte/no-navigation-without-resolve': 'off' },
  },
  { files: ['**/*.ts'], rules: { 'no-undef': 'off' } },
  { files: ['tests/bench/**'], rules: { 'no-console': 'off' } },
  {
    // A describe block is one long function by nature; test data is best seen whole.
    files: ['**/*.test.ts', '**/*.e2e.ts'],
    rules: { 'max-lines-per-function': 'off', '@typescript-eslint/no-non-null-assertion': 'off' },
  },
  {
    files: ['**/*.test.ts', '**/*.e2e.ts'],
    rules: {
      'no-restricted-properties': [
        'error',
        ...['describe', 'test', 'it'].flatMap((object) =>
          ['only', 'skip', 'todo'].map((property) => ({ object, property, message: 'A check that is switched off checks nothing.' })),
        ),
      ],
    },
  },
);
