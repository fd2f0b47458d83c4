/**
 * Mutation tests of the formulation package (`npm run mutation`): every mutant is one small change of the code that some
 * test must notice. Left out are tables of published figures (their tests compare them with the source, value by value)
 * and what only tests use.
 */
export default {
  mutate: [
    'packages/formulation/src/*.ts',
    '!packages/formulation/src/*.test.ts',
    '!packages/formulation/src/*-data.ts',
    '!packages/formulation/src/testing*.ts',
  ],
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: 'infra/testing/vitest-mutation.config.ts' },
  // A mutant is met only by the tests that run its line. Constants and tables run once, on import, so no test owns them:
  // each would need the whole suite, and the tests against printed values check them already.
  coverageAnalysis: 'perTest',
  ignoreStatic: true,
  // The words for people are read by people; their codes and figures are tested.
  mutator: { excludedMutations: ['StringLiteral'] },
  ignorePatterns: ['.ashwater', '.ci', 'apps', 'docs', 'prisma', 'test-output', 'tests', 'packages/contracts', 'infra/database', 'infra/start', 'infra/setup'],
  concurrency: 2,
  timeoutMS: 10_000,
  tempDirName: 'test-output/mutation-tmp',
  incremental: true,
  incrementalFile: 'test-output/mutation/incremental.json',
  reporters: ['clear-text', 'progress-append-only', 'html', 'json'],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false, allowEmojis: false },
  htmlReporter: { fileName: 'test-output/mutation/report.html' },
  jsonReporter: { fileName: 'test-output/mutation/report.json' },
  thresholds: { high: 95, low: 85, break: 85 },
  allowConsoleColors: false,
};
