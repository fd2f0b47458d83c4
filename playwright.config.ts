import { defineConfig } from '@playwright/test';
import { findChromium } from './infra/testing/chromium.ts';

const QUIET_BROWSER = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export default defineConfig({
  testDir: 'tests/e2e',
  testMatch: '**/*.e2e.ts',
  outputDir: 'test-output/browser',
  globalSetup: './infra/testing/stack.ts',
  forbidOnly: true,
  // A test that passes only the second time is a fault to be found, not to be repeated away.
  retries: 0,
  workers: 1,
  timeout: 60_000,
  expect: { timeout: 10_000 },
  reporter: [['list'], ['json', { outputFile: 'test-output/browser.json' }]],
  use: {
    // Set by the global set-up; every worker reads this file again after that.
    baseURL: process.env.ASHWATER_URL,
    locale: 'en-GB',
    // A page that does not offer what a test wants fails in seconds, not with the whole test's time.
    actionTimeout: 15_000,
    screenshot: 'only-on-failure',
    trace: 'off',
    launchOptions: { executablePath: findChromium(), args: QUIET_BROWSER },
  },
});
