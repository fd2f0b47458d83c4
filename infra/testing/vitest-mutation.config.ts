import { defineConfig } from 'vitest/config';

/** Long, and other tests hold the same code more closely: they would meet nearly every mutant and notice few of them first. */
const TOO_LONG = ['monte-carlo', 'bad-input', 'choose-targets.prop', 'recompute.prop'].map((name) => `packages/formulation/src/${name}.test.ts`);

/** The tests of the formulation package, for the mutation run (stryker.config.js). */
export default defineConfig({
  test: {
    include: ['packages/formulation/src/*.test.ts'],
    exclude: TOO_LONG,
    environment: 'node',
    testTimeout: 60_000,
    // One worker for all files: starting one for each takes longer than most of the tests.
    isolate: false,
    setupFiles: ['infra/testing/same-draws.ts'],
  },
});
