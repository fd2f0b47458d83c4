import { expect } from '@playwright/test';
import type { Browser, Page } from '@playwright/test';
import { DEMO_SIGN_INS } from '../../../apps/api/src/demo/sign-ins.ts';

export const PHONE = { width: 390, height: 844 };
export const TABLET = { width: 820, height: 1180 };
export const DESKTOP = { width: 1366, height: 900 };

/** A browser of one person, with its own cookies. Whatever its console or its scripts complain about ends up in `faults`. */
export async function visitor(browser: Browser, viewport: { width: number; height: number }): Promise<{ page: Page; faults: string[] }> {
  const context = await browser.newContext({ viewport });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
  // A refused form answers 4xx on purpose, and the browser notes that in its console.
  page.on('console', (message) => {
    if (message.type() === 'error' && !/status of 4\d\d/.test(message.text())) faults.push(`${page.url()}: ${message.text()}`);
  });
  return { page, faults };
}

export async function signIn(page: Page, role: 'owner' | 'instructor' | 'manager'): Promise<void> {
  const person = DEMO_SIGN_INS.find((each) => each.role === role)!;
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(person.email);
  await page.getByLabel('Password', { exact: true }).fill(person.password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page).toHaveURL(/\/studio/);
}
