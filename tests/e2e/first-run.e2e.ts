import { expect, test } from '@playwright/test';
import { startService } from '../../infra/testing/stack.ts';
import { inspect } from './inspect.ts';
import { PHONE, visitor } from './people/visit.ts';

test('an empty service is set up once, by the address and the code on its console', async ({ browser }) => {
  test.setTimeout(120_000);
  const service = await startService({ demo: false });
  try {
    const [, address, code] = /Open (\S+) and give this code:\s+(\S+)/.exec(service.printed) ?? [];
    const { page } = await visitor(browser, PHONE);
    await page.goto(address!);
    await inspect(page, 'setup');
    const type = (name: string, value: string) => page.locator(`[name=${name}]`).fill(value);
    const press = () => page.getByRole('button', { name: 'Set up the studio' }).click();
    await type('code', 'AAAA-AAAA-AAAA');
    await type('studioName', 'Alder Yard');
    await page.locator('[name=timeZone]').selectOption('Europe/Lisbon');
    await type('emergencyPhone', '112');
    await type('name', 'Una');
    await type('email', 'una@alder.example');
    await type('password', 'river stone copper lamp');
    await press();
    await expect(page.locator('.field.faulty', { has: page.locator('[name=code]') })).toBeVisible();
    await expect(page.locator('[name=studioName]')).toHaveValue('Alder Yard');
    await type('code', code!.toLowerCase());
    await type('password', 'too short');
    await press();
    await expect(page.getByText(/at least 15 characters/i).first()).toBeVisible();
    await type('password', 'river stone copper lamp');
    await press();
    await expect(page).toHaveURL(/\/studio$/);
    await expect(page.getByText('Alder Yard').first()).toBeVisible();
    await expect(page.getByText('demo studio')).toHaveCount(0);
    await inspect(page, 'studio-first');
    // Set up is set up: the page leads away, and the same code opens nothing more.
    await page.goto(`${service.address}/setup`);
    await expect(page).toHaveURL(/\/studio$/);
  } finally {
    await service.stop();
  }
});
