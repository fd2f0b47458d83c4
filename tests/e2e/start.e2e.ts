import { expect, test } from '@playwright/test';

test('the first page opens without an error in the browser and offers a way in', async ({ page }) => {
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  const response = await page.goto('/');
  expect(response?.status()).toBe(200);
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await expect(page.getByRole('main').getByRole('button').or(page.getByRole('main').getByRole('link')).first()).toBeVisible();
  expect(faults).toEqual([]);
});

test('the service says that it is ready', async ({ request }) => {
  const response = await request.get('/readyz');
  expect(response.status()).toBe(200);
  expect(await response.json()).toEqual({ status: 'ready' });
});
