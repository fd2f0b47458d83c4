import { expect, test } from '@playwright/test';
import type { Locator, Page } from '@playwright/test';
import { ownAddress } from '../../infra/testing/own-service.ts';
import { inspect } from './inspect.ts';
import { badLink } from './people/bad-link.ts';
import { ownClass } from './people/own-class.ts';
import { Student } from './people/student.ts';
import { DESKTOP, PHONE, signIn, visitor } from './people/visit.ts';

/** Taps of one finger, counted. */
const counted = () => {
  const count = { taps: 0 };
  return Object.assign(count, {
    async tap(target: Locator) {
      count.taps += 1;
      await target.click();
    },
  });
};
/** What would run if any page put it into itself unread. */
const SCRIPT = `"><img src=x onerror="window.ran=1"><script>window.ran=1</script>{{7*7}}`;
const nothingRan = async (page: Page) => expect(await page.evaluate(() => 'ran' in window), page.url()).toBe(false);

test('a near miss is filed at a station with one hand in under ten taps, without network too, and its reporter sees what came of it', async ({ browser }) => {
  test.setTimeout(120_000);
  const room = await ownClass(ownAddress());
  const link = await badLink(ownAddress());
  const context = await browser.newContext({ viewport: PHONE, baseURL: link.address, hasTouch: true });
  const page = await context.newPage();
  const student = new Student(page, 'Finch');
  await student.join(room.code);
  await student.openStep();
  // What works without network is on the phone.
  await page.evaluate(async () => void (await navigator.serviceWorker.ready));
  await expect.poll(() => page.evaluate(async () => (await caches.match('/station-away'))?.ok ?? false)).toBe(true);
  const hand = counted();
  const began = Date.now();
  await hand.tap(page.getByRole('link', { name: /^Write a note/ }));
  await hand.tap(page.getByLabel(/^What happened/));
  await page.keyboard.type('A cup stood at the edge.');
  await inspect(page, 'note-station');
  await page.reload();
  await expect(page.getByLabel(/^What happened/), 'half done, and found again').toHaveValue('A cup stood at the edge.');
  await hand.tap(page.getByRole('button', { name: 'File the note' }));
  await expect(page.getByText('Thank you. The note is filed')).toBeVisible();
  expect(hand.taps).toBeLessThan(10);
  expect(Date.now() - began).toBeLessThan(60_000);
  await page.getByRole('link', { name: 'my notes' }).click();
  await expect(page.getByText('A cup stood at the edge.')).toBeVisible();
  await inspect(page, 'my-notes');

  await page.goto('/station/note');
  await expect(page.getByLabel(/^What happened/), 'what was sent is no draft any more').toHaveValue('');
  await page.getByLabel(/^What happened/).fill('Told without network.');
  await page.getByRole('radio', { name: /^In confidence/ }).check();
  await page.waitForTimeout(1_000);
  link.become('down');
  await page.getByRole('button', { name: 'File the note' }).click();
  await page.getByRole('button', { name: 'Go on without network' }).click();
  await expect(page).toHaveURL(/\/station-away$/);
  link.become('up');
  await expect(page).toHaveURL(/\/station\/step/, { timeout: 20_000 });
  await page.goto('/station/notes');
  await expect(page.getByText('Told without network.')).toBeVisible();
  await link.close();
});

test('when somebody is hurt the first screen asks nothing: water, clothes, call, and never vinegar, in the words of the label too', async ({ browser }) => {
  const room = await ownClass(ownAddress());
  const { page, faults } = await visitor(browser, PHONE);
  await page.goto(`/note/${room.code}`);
  await page.getByRole('link', { name: /^Somebody is hurt/ }).click();
  await expect(page.locator('form')).toHaveCount(0);
  // The order in which a screen reader says it: heading, then what to do in its order, then everything else.
  const said = await page.locator('main').innerText();
  const order = [
    'Somebody is hurt',
    'Water, now',
    'at least 15 minutes',
    'Clothes off',
    'Call',
    'Swallowed',
    'safety data sheet',
    'Never vinegar',
    'write down what happened',
  ];
  expect(order.map((words) => said.indexOf(words)).filter((at) => at < 0)).toEqual([]);
  expect(order.map((words) => said.indexOf(words))).toEqual(order.map((words) => said.indexOf(words)).toSorted((a, b) => a - b));
  await expect(page.getByRole('link', { name: '112' })).toHaveAttribute('href', 'tel:112');
  await page.getByText('What the label says').click();
  // First-aid statements for H314 of the Globally Harmonized System (EU CLP annex IV), as read in suppliers' safety data sheets of both hydroxides.
  for (const words of [
    'IF IN EYES: Rinse cautiously with water for several minutes',
    'Take off immediately all contaminated clothing',
    'Do NOT induce vomiting',
    'Remove person to fresh air',
    'POISON CENTER',
  ])
    await expect(page.getByText(words)).toBeVisible();
  await inspect(page, 'hurt');
  expect(faults).toEqual([]);
});

/** A note with scripts in every field, by the wall's or a class's code. */
async function fileNameless(page: Page, code: string): Promise<{ number: string; returnCode: string }> {
  await page.goto(`/note/${code}`);
  await page.getByText(/^Say more/).click();
  for (const label of [/^What happened/, /^When/, /^Where/, /^During/, /^How it/, /^What stopped/, /^What was done/]) await page.getByLabel(label).fill(SCRIPT);
  await page.getByLabel('A picture').setInputFiles({ name: 'x.svg', mimeType: 'image/png', buffer: Buffer.from('<svg onload="window.ran=1"/>') });
  await page.getByRole('button', { name: /^File the note/ }).click();
  await expect(page.getByText(/The picture was not kept/)).toBeVisible();
  await inspect(page, 'note-nameless-filed');
  return { number: (await page.locator('dd').nth(0).innerText()).trim(), returnCode: (await page.locator('.return-code').innerText()).trim() };
}

test('a note is judged, followed up, and seen by the next class; its reporter answers without a name, and no script in any field ever runs', async ({
  browser,
}) => {
  test.setTimeout(180_000);
  const room = await ownClass(ownAddress());
  const { page: phone } = await visitor(browser, PHONE);
  const filed = await fileNameless(phone, room.code);
  const { page, faults } = await visitor(browser, DESKTOP);
  await signIn(page, 'manager');
  await page.goto('/studio/notes');
  await page.getByRole('link', { name: new RegExp(`^${filed.number}`) }).click();
  await nothingRan(page);
  await page.getByText('Ask the reporter something').click();
  await page.getByLabel('Your question').fill(SCRIPT);
  await page.getByRole('button', { name: 'Ask', exact: true }).click();
  // The page that comes back would show the note as it was before the next act.
  await expect(page.getByText(/^Asked by/)).toBeVisible();
  await page
    .getByRole('group', { name: 'Harm that could have been done' })
    .getByRole('radio', { name: /^Grave/ })
    .check();
  await page.getByRole('checkbox', { name: /^Method/ }).check();
  await page.getByRole('button', { name: 'Record this judgement' }).click();
  await expect(page.getByText('Looked into at once')).toBeVisible();
  await page.getByText('Open a follow-up').click();
  await page.getByLabel('What will be done').fill(`A tray ${SCRIPT}`);
  await page.getByLabel('Who does it').selectOption({ label: 'Tomas Arkwell' });
  await page.getByLabel('Until').fill('2026-01-01');
  await page.getByRole('button', { name: 'Open it' }).click();
  await expect(page.getByText('Past its day')).toBeVisible();
  // The same twice: somebody may say again what stands already, and no page may stumble over it.
  for (const times of [1, 2]) {
    const fold = page.getByText('Say what it changed');
    if (!(await page.getByLabel('Step (for a step)').isVisible())) await fold.click();
    await page.getByLabel('Step (for a step)').selectOption('Clear the bench');
    await page.getByLabel('What is different now').fill(`Trays out first ${room.mark} ${SCRIPT}`);
    await page.getByRole('button', { name: 'Record the change' }).click();
    await expect(page.getByText(/Changed: Step “Clear the bench”/)).toHaveCount(times);
  }
  await expect(page.getByText(/Trays out first/).first()).toBeVisible();
  await inspect(page, 'note-followed-up');
  await nothingRan(page);
  for (const path of ['/studio/notes/follow-ups', '/studio/notes/month', '/studio/notes', '/studio/recipes', '/studio/audit']) {
    await page.goto(path);
    await nothingRan(page);
  }

  const next = await room.another(1);
  const { page: bench } = await visitor(browser, PHONE);
  const student = new Student(bench, 'Wren');
  await student.join(next.code);
  await student.openStep();
  await expect(bench.getByText(/Trays out first/)).toHaveCount(2);
  await expect(bench.getByText(`Stands here since note ${filed.number}.`).first()).toBeVisible();
  await student.next();
  await nothingRan(bench);
  const { page: desk } = await visitor(browser, DESKTOP);
  await signIn(desk, 'instructor');
  await desk.goto(`/class/${next.classId}`);
  await expect(desk.getByText(/follow-ups? to notes? (is|are) past the day/)).toBeVisible();
  await desk.goto('/studio/notes/follow-ups');
  const mine = desk.getByRole('article').filter({ hasText: 'A tray' }).filter({ hasText: filed.number });
  await mine.getByLabel('What was done, and what shows it').fill('Bought, one on each bench.');
  await mine.getByRole('button', { name: 'Report it done' }).click();
  await expect(mine.getByText('Done, another person looks at it')).toBeVisible();
  await nothingRan(desk);

  await phone.goto(`/note-status?code=${room.code}`);
  await phone.getByLabel('Your return code').fill(filed.returnCode);
  await phone.getByRole('button', { name: 'Look' }).click();
  await expect(phone.getByText('Asked by the studio')).toBeVisible();
  await phone.getByLabel('Answer, or add something').fill('The fan was off.');
  await phone.getByRole('button', { name: 'Add this' }).click();
  await expect(phone.getByText('Your words were added.')).toBeVisible();
  await inspect(phone, 'note-status');
  await nothingRan(phone);
  // Other tests' cards shall not carry it.
  await page.goto('/studio/notes');
  await page.getByRole('link', { name: new RegExp(`^${filed.number}`) }).click();
  await expect(page.getByText('The fan was off.')).toBeVisible();
  for (const times of [1, 2]) {
    await page
      .getByRole('button', { name: /^End it/ })
      .first()
      .click();
    await expect(page.getByText(/, ended/)).toHaveCount(times);
  }
  expect(faults).toEqual([]);
});
