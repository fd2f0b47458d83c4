import { expect, it } from 'vitest';
import { sizeInBrowser } from './package-size.ts';

it('the whole formulation package is under 40 kB when it is sent to a browser, and has something in it', async () => {
  const { bytes, gzipBytes } = await sizeInBrowser();
  expect(gzipBytes).toBeLessThan(40_000);
  expect(bytes).toBeGreaterThan(50_000);
});
