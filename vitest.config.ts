import { defineConfig } from 'vitest/config';

const NEVER = ['**/node_modules/**', '**/build/**', '**/.svelte-kit/**', 'tests/architecture/fixtures/**'];
const UNIT = ['infra', 'packages', 'apps', 'prisma', 'tests'].map((folder) => `${folder}/**/*.test.ts`);

export default defineConfig({
  test: {
    // A focused test left behind would silently switch off the others.
    allowOnly: false,
    // Two files at once, also on a machine of two cores: much of the time is spent waiting for the database.
    maxWorkers: 2,
    // The files of one worker share what they import. Loading everything anew for each file took longer than most of the tests.
    isolate: false,
    projects: [
      {
        test: { name: 'unit', include: UNIT, exclude: [...NEVER, '**/*.int.test.ts'], environment: 'node', testTimeout: 20_000 },
      },
      {
        test: {
          name: 'int',
          include: UNIT.map((pattern) => pattern.replace('*.test.ts', '*.int.test.ts')),
          exclude: NEVER,
          environment: 'node',
          globalSetup: ['infra/testing/global-setup.ts'],
          testTimeout: 20_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
