import { expect, test } from '@playwright/test';
import { readPdf } from '../../apps/api/src/testing/read-pdf.ts';
import { inspect } from './inspect.ts';
import { PHONE, signIn, TABLET, visitor } from './people/visit.ts';

const PUBLISHED = 'Shaving soap evening';

test('from the class to its prints: each sheet opens as a PDF that names the class, on the paper chosen', async ({ browser }) => {
  const { page, faults } = await visitor(browser, TABLET);
  await signIn(page, 'owner');
  await page.goto('/class');
  await page.getByRole('link', { name: PUBLISHED }).first().click();
  await page.getByRole('link', { name: 'All prints' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'On paper' })).toBeVisible();
  await inspect(page, 'tablet-prints');
  await page.getByRole('link', { name: 'Letter' }).click();
  await expect(page.getByRole('link', { name: 'Letter' })).toHaveAttribute('aria-current', 'true');
  for (const name of ['Weigh cards', 'Gear lists', 'Class sheet', 'Pull list', 'First aid and cautions', 'Cabinet sheet']) {
    const href = await page.getByRole('link', { name: `Open PDF of ${name}` }).getAttribute('href');
    const answer = await page.request.get(href!);
    expect([name, answer.status(), answer.headers()['content-type']]).toEqual([name, 200, 'application/pdf']);
    const [first] = await readPdf(await answer.body());
    expect(first!.widthMm).toBeCloseTo(215.9, 1);
    expect(first!.text).toContain(name === 'Cabinet sheet' ? 'A blind count' : PUBLISHED);
  }
  expect(faults).toEqual([]);
});

test('labels start where the sheet is free, and are moved as chosen, without script as well', async ({ browser }) => {
  const context = await browser.newContext({ viewport: PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  await signIn(page, 'instructor');
  await page.goto('/class');
  await page.getByRole('link', { name: PUBLISHED }).first().click();
  await page.getByRole('link', { name: 'All prints' }).click();
  const form = page.getByRole('form', { name: '2 x 4, 99.1 x 67.7 mm' });
  await form.getByLabel('First free label').selectOption('3');
  await form.getByLabel('Move up or down').selectOption({ label: '1.5\u00a0mm down' });
  const asked = page.waitForRequest(/labels\.pdf/);
  // A browser without a viewer for PDF downloads it instead: what is asked for is what counts.
  await form.getByRole('button', { name: 'Open labels' }).click({ noWaitAfter: true });
  const url = (await asked).url();
  expect(new URL(url).search).toBe('?grid=2x4-99.1x67.7&start=3&x=0&y=1.5');
  const answer = await page.request.get(url);
  expect(answer.status(), await answer.text()).toBe(200);
  const [sheet] = await readPdf(await answer.body());
  const first = sheet!.items.find(({ text }) => text.startsWith('Solution of'))!;
  // Second row of the sheet, 13.1 + 67.7 mm, moved down by 1.5 mm; the text begins 2.5 mm inside.
  expect(first.y).toBeGreaterThan(13.1 + 67.7 + 1.5 + 2);
  expect(first.y).toBeLessThan(13.1 + 67.7 + 1.5 + 7);
});

test('the prints of a class fit on a phone', async ({ browser }) => {
  const { page, faults } = await visitor(browser, PHONE);
  await signIn(page, 'instructor');
  await page.goto('/class');
  await page.getByRole('link', { name: PUBLISHED }).first().click();
  await page.getByRole('link', { name: 'All prints' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'On paper' })).toBeVisible();
  await inspect(page, 'phone-prints');
  await expect(page.getByText('Cabinet sheet')).toHaveCount(0);
  expect(faults).toEqual([]);
});
