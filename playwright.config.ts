import { defineConfig } from '@playwright/test';
import { findChromium } from './infra/testing/chromium.ts';
import { ownService } from './infra/testing/own-service.ts';

const QUIET_BROWSER = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const TIMED = '**/slow-phone.e2e.ts';
const givenService = (process.env.ASHWATER_URL ?? '') !== '';

export default defineConfig({
  testDir: 'tests/e2e',
  testMatch: '**/*.e2e.ts',
  outputDir: 'test-output/browser',
  globalSetup: './infra/testing/stack.ts',
  forbidOnly: true,
  // A test that passes only the second time is a fault to be found, not to be repeated away.
  retries: 0,
  // Each worker has a service and a database of its own (infra/testing/stack.ts); a service that is given is shared by none.
  workers: givenService ? 1 : 2,
  projects: [
    { name: 'side by side', testIgnore: TIMED },
    // What is timed is timed with the machine to itself.
    { name: 'timed', testMatch: TIMED, dependencies: ['side by side'], workers: 1 },
  ],
  timeout: 60_000,
  expect: { timeout: 10_000 },
  reporter: [['list'], ['json', { outputFile: 'test-output/browser.json' }]],
  use: {
    // Every worker reads this file again after the global set-up.
    baseURL: ownService()?.address,
    locale: 'en-GB',
    // A page that does not offer what a test wants fails in seconds, not with the whole test's time.
    actionTimeout: 15_000,
    screenshot: 'only-on-failure',
    trace: 'off',
    launchOptions: { executablePath: findChromium(), args: QUIET_BROWSER },
  },
});
