import { gzipSync } from 'node:zlib';
import { expect, test } from '@playwright/test';
import { openDemoStation } from './people/demo-class.ts';
import { PHONE, visitor } from './people/visit.ts';

const BUDGET_BYTES = 60_000;

test('a station page sends less than 60 kB of JavaScript, gzipped', async ({ browser }) => {
  const { page } = await visitor(browser, PHONE);
  await openDemoStation(page, 'Station 2', 'Measured');
  const bodies = new Map<string, Promise<Buffer>>();
  page.on('response', (response) => {
    if (/javascript/.test(response.headers()['content-type'] ?? '')) bodies.set(response.url(), response.body());
  });
  await page.goto('/station/step/1');
  // The live stream keeps the network busy for ever; a page that listens has all its scripts.
  await page.waitForRequest(/api\/live/).catch(() => undefined);
  await page.waitForTimeout(1_500);
  const sizes = await Promise.all([...bodies.values()].map(async (body) => gzipSync(await body).length));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  test.info().annotations.push({ type: 'JavaScript, bytes gzip', description: `${total} in ${sizes.length} files` });
  expect(sizes.length).toBeGreaterThan(0);
  expect(total).toBeLessThan(BUDGET_BYTES);
});
