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
  // The live stream keeps the network busy for ever; a page that listens has all its scripts.
  const listens = page.waitForRequest(/api\/live/);
  await page.goto('/station/step/1');
  await listens;
  await page.waitForTimeout(1_500);
  const sizes = await Promise.all([...bodies.values()].map(async (body) => gzipSync(await body).length));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  test.info().annotations.push({ type: 'JavaScript, bytes gzip', description: `${total} in ${sizes.length} files` });
  // What works without network comes when the page has long been usable, and is no part of the budget: it is only told.
  await page.waitForTimeout(5_000);
  const all = await Promise.all([...bodies.values()].map(async (body) => gzipSync(await body).length));
  test.info().annotations.push({ type: 'later, bytes gzip', description: `${all.reduce((sum, size) => sum + size, 0) - total}` });
  expect(sizes.length).toBeGreaterThan(0);
  expect(total).toBeLessThan(BUDGET_BYTES);
});
