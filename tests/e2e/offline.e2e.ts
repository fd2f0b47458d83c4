import type { StationView } from '@ashwater/contracts';
import { expect, test } from '@playwright/test';
import type { Browser, Page } from '@playwright/test';
import { ownAddress } from '../../infra/testing/own-service.ts';
import { inspect } from './inspect.ts';
import { badLink } from './people/bad-link.ts';
import type { BadLink } from './people/bad-link.ts';
import { ownClass } from './people/own-class.ts';
import type { OwnClass } from './people/own-class.ts';
import { Student } from './people/student.ts';
import { PHONE } from './people/visit.ts';

const links: BadLink[] = [];
test.afterEach(async () => {
  await Promise.all(links.splice(0).map((link) => link.close()));
});

type Bench = { page: Page; student: Student; link: BadLink; room: OwnClass; now(): Promise<StationView> };

/** A student at a bench of their own behind a link that can be cut, with everything that works without network on the phone. */
async function bench(browser: Browser, name = 'Wren'): Promise<Bench> {
  const room = await ownClass(ownAddress());
  const link = await badLink(ownAddress());
  links.push(link);
  const context = await browser.newContext({ viewport: PHONE, baseURL: link.address });
  const page = await context.newPage();
  const student = new Student(page, name);
  await student.join(room.code);
  await student.openStep();
  await keptOnPhone(page);
  const cookie = (await context.cookies()).map((each) => `${each.name}=${each.value}`).join('; ');
  // Straight to the service: what it knows, whatever the link does.
  const now = async () => (await (await fetch(`${ownAddress()}/api/station`, { headers: { cookie } })).json()) as StationView;
  return { page, student, link, room, now };
}

/** The worker runs and its files are there, and the card was stored. */
async function keptOnPhone(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await expect.poll(() => page.evaluate(async () => (await caches.match('/station-away'))?.ok ?? false)).toBe(true);
}

/** Cuts the link of a live page at rest: after every change it reads itself once more. */
async function cut({ page, link }: Bench, how: 'down' | 'lose' = 'down'): Promise<void> {
  await page.waitForTimeout(1_000);
  link.become(how);
}

const readings = (view: StationView) => view.readings.map((reading) => [reading.stepNo, reading.massMg]);
const done = (view: StationView) => view.done.map((step) => step.stepNo);

/** Does the step on the page without network, once the card is read from the phone; returns the grams it weighed. */
async function doAway(page: Page, student: Student): Promise<string | null> {
  const [amount, forward] = [page.locator('.target .amount'), page.getByRole('button', { name: /next/i }).first()];
  await amount.or(forward).first().waitFor();
  const title = await page.locator('h1').textContent();
  const target = (await amount.isVisible()) ? await student.targetG() : null;
  if (target !== null) {
    await student.record(target);
    await expect(page.getByRole('status').getByText(/Right/)).toBeVisible();
  }
  await forward.click();
  await expect(page.locator('h1')).not.toHaveText(title ?? '');
  return target;
}

test('a card goes on without network, over a reload, and everything arrives once and in order', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, now } = wren;
  await student.next();
  const before = await now();
  expect(before.currentStepNo).toBe(2);
  await cut(wren);
  await page.goto('/station/step/2');
  await expect(page).toHaveURL(/\/station-away$/);
  await expect(page.getByText(/Working without network since \d\d:\d\d/)).toBeVisible();
  await inspect(page, 'away-step');
  const second = await doAway(page, student);
  await page.reload();
  await expect(page.getByText(/2 things not sent yet/)).toBeVisible();
  const third = await doAway(page, student);
  await page.reload();
  await expect(page.getByText(/4 things not sent yet/)).toBeVisible();
  await inspect(page, 'away-queue');
  expect(readings(await now())).toEqual([]);
  link.writes.length = 0;
  link.become('up');
  // Nothing was being typed: it goes back by itself.
  await expect(page).toHaveURL(/\/station\/step\/4$/, { timeout: 20_000 });
  const after = await now();
  expect(readings(after)).toEqual([
    [2, Number(second) * 1000],
    [3, Number(third) * 1000],
  ]);
  expect(after.readings.map((reading) => reading.verdict)).toEqual(['within', 'within']);
  expect(done(after)).toEqual([1, 2, 3]);
  expect(new Set(link.writes).size).toBe(4);
});

test('an answer lost on the live page, then on without network: the same id, one reading', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, now } = wren;
  await student.next();
  const target = await student.targetG();
  await page.locator('input[name=entered]').fill(target);
  await cut(wren, 'lose');
  const id = await page.locator('form[action*="reading"] input[name=id]').inputValue();
  await page.getByRole('button', { name: /^Record/ }).click();
  await expect(page.getByRole('alert').getByText('No answer.')).toBeVisible();
  await expect(page.locator('input[name=entered]')).toHaveValue(target);
  // The service has it; the phone does not know.
  expect((await now()).readings.map((reading) => reading.id)).toEqual([id]);
  link.become('down');
  await page.getByRole('button', { name: 'Go on without network' }).click();
  await expect(page).toHaveURL(/\/station-away$/);
  await expect(page.getByRole('status').getByText(/Right/)).toBeVisible();
  await expect(page.getByText(`Step 2, Weigh Olive oil: read ${target}`)).toBeVisible();
  await page.getByRole('button', { name: 'Next step' }).click();
  link.become('twice');
  await expect(page).toHaveURL(/\/station\/step\/3$/, { timeout: 20_000 });
  const after = await now();
  expect(after.readings.map((reading) => [reading.id, reading.superseded])).toEqual([[id, false]]);
  expect(done(after)).toEqual([1, 2]);
});

test('a slow link with writes that arrive twice: each act once', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, now } = wren;
  await cut(wren);
  await page.goto('/station/step/1');
  await doAway(page, student);
  await doAway(page, student);
  await doAway(page, student);
  Object.assign(link, { state: 'slow', delayMs: 700 });
  await expect(page.getByText(/not sent yet/)).toBeVisible();
  await page.waitForTimeout(1_500);
  link.become('twice');
  await expect(page).toHaveURL(/\/station\/step\/4$/, { timeout: 30_000 });
  const after = await now();
  expect(after.readings.map((reading) => reading.stepNo)).toEqual([2, 3]);
  expect(done(after)).toEqual([1, 2, 3]);
});

test('a reading of a step that the partner did meanwhile is told, not written over theirs', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, room, now } = wren;
  await student.next();
  await cut(wren);
  await page.goto('/station/step/2');
  const target = await student.targetG();
  await student.record(String(Number(target) - 1));
  await expect(page.getByRole('status').getByText(/Right/)).toBeVisible();
  await page.getByRole('button', { name: 'Next step' }).click();
  await expect(page.locator('h1')).not.toHaveText('Weigh Olive oil');
  const third = await doAway(page, student);
  const partner = new Student(await (await browser.newContext({ viewport: PHONE, baseURL: ownAddress() })).newPage(), 'Kit');
  await partner.join(room.code);
  await partner.openStep();
  await partner.doStep();
  link.become('up');
  const told = page.getByRole('alert').filter({ hasText: 'Not taken: Step 2' });
  await expect(told).toContainText('Your partner did this step meanwhile', { timeout: 20_000 });
  await inspect(page, 'away-refused');
  await told.getByRole('button', { name: /put all of them away/ }).click();
  await expect(page).toHaveURL(/\/station\/step\/4$/, { timeout: 20_000 });
  const after = await now();
  expect(after.readings.map(({ stepNo, massMg, byName }) => [stepNo, massMg, byName])).toEqual([
    [2, Number(target) * 1000, 'Kit'],
    [3, Number(third) * 1000, 'Wren'],
  ]);
});

test('a card that was replaced while the phone was away: told, kept to be copied, and the new card is untouched', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, room, now } = wren;
  await student.next();
  await cut(wren);
  await page.goto('/station/step/2');
  await doAway(page, student);
  await doAway(page, student);
  const old = await now();
  const { stations } = await room.get<{ stations: { id: string }[] }>(`/api/classes/${room.classId}`);
  const setUp = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf', mouldVolumeMl: '900' };
  const amended = {
    id: crypto.randomUUID(),
    stations: [{ classStationId: stations[0]!.id, cardId: old.card.id, ...setUp }],
    reason: 'a smaller mould',
    confirm: true,
  };
  await room.post(`/api/classes/${room.classId}/amend`, amended);
  link.become('up');
  const told = page.getByRole('alert').filter({ hasText: 'A new card took the place of yours' });
  await expect(told.first()).toBeVisible({ timeout: 20_000 });
  await inspect(page, 'away-card-replaced');
  const after = await now();
  expect([after.card.number, after.card.issue, after.readings, after.done]).toEqual([old.card.number, 2, [], []]);
  await told
    .getByRole('button', { name: /put all of them away|Put it away/ })
    .first()
    .click();
  await expect(page).toHaveURL(/\/station(\/step\/1)?$/, { timeout: 20_000 });
});

test('a caustic weighing under a sign-off that was ended meanwhile is refused, told, and sent again after signing', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, room, now } = wren;
  await page.goto('/station');
  await student.confirmAllGear();
  const seatId = (await now()).seat.id;
  await room.post(`/api/seats/${seatId}/countersign`, { id: crypto.randomUUID() });
  await student.openStep();
  while (!(await now()).card.content.steps.find((step) => step.no === Number(/\d+$/.exec(page.url())?.[0]))!.caustic) await student.doStep();
  const { currentStepNo } = await now();
  // The page was opened anew: what keeps the card comes three seconds later.
  await page.waitForTimeout(4_000);
  await cut(wren);
  await page.goto(`/station/step/${currentStepNo}`);
  const before = readings(await now()).length;
  await room.post(`/api/seats/${seatId}/lapse`, { id: crypto.randomUUID(), reason: 'a torn glove' });
  await student.record(await student.targetG());
  await expect(page.getByText(/A second person reads the scale before the lye goes on/)).toBeVisible();
  link.become('up');
  const told = page.getByRole('alert').filter({ hasText: 'Gear is not signed off' });
  await expect(told).toContainText('Have your gear looked at and signed', { timeout: 20_000 });
  expect(readings(await now())).toHaveLength(before);
  await expect(page.locator('h1').last()).toHaveText(/Gear before/);
  await inspect(page, 'away-gate');
  for (const item of (await now()).card.content.gear) await page.getByRole('button', { name: `${item.name}: on and checked` }).click();
  await expect.poll(async () => (await now()).gear.status, { timeout: 20_000 }).toBe('waiting');
  await room.post(`/api/seats/${seatId}/countersign`, { id: crypto.randomUUID() });
  await told.getByRole('button', { name: 'Send it again' }).click();
  await expect(page.getByRole('button', { name: 'Record the second reading' })).toBeVisible({ timeout: 20_000 });
  expect(readings(await now())).toHaveLength(before + 1);
  expect((await now()).currentStepNo).toBe(currentStepNo);
});

test('stopping the room without network says that nobody was told, and stops it when the link is back', async ({ browser }) => {
  const { page, link, now } = await bench(browser);
  await page.context().setOffline(true);
  await expect(page.getByText('No network.')).toBeVisible();
  link.become('down');
  await page.getByRole('link', { name: 'Go on without network' }).click();
  await expect(page).toHaveURL(/\/station-away$/);
  await page.locator('summary', { hasText: 'Stop the room' }).click();
  await expect(page.getByText(/nobody else will see it\. Shout/)).toBeVisible();
  await page.getByRole('button', { name: 'I have shouted: stop here too' }).click();
  await expect(page.getByRole('alert').getByRole('heading', { name: /Not sent: shout/ })).toBeVisible();
  await inspect(page, 'away-stop');
  expect((await now()).stopped).toBeNull();
  link.become('up');
  await page.context().setOffline(false);
  await expect(page.getByRole('heading', { name: 'The room is stopped' })).toBeVisible({ timeout: 20_000 });
  expect((await now()).stopped?.byName).toBe('Wren');
});

/** Everything the device keeps of a station. */
const kept = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<Record<string, unknown[]>>((resolve, reject) => {
        const opening = indexedDB.open('ashwater-station');
        opening.onerror = () => reject(opening.error as Error);
        opening.onsuccess = () => {
          const names = [...opening.result.objectStoreNames];
          const tx = opening.result.transaction(names);
          const all = names.map((name) => [name, tx.objectStore(name).getAll()] as const);
          tx.oncomplete = () => {
            opening.result.close();
            resolve(Object.fromEntries(all.map(([name, got]) => [name, got.result])));
          };
        };
      }),
  );

test('a shared tablet: unsent work holds the next person back until it is sent, and leaving wipes the rest', async ({ browser }) => {
  const wren = await bench(browser);
  const { page, student, link, room, now } = wren;
  await cut(wren);
  await page.goto('/station/step/1');
  await doAway(page, student);
  // The pages come through, writing does not: as on a link that comes and goes.
  await page.route('**/api/cards/**', (route) => route.abort());
  link.become('up');
  await page.goto(`/join/${room.code}`);
  await expect(page.getByText(/1 thing on this device is not sent/)).toBeVisible();
  await page.getByLabel('Your name or initials').fill('Kit');
  await page.getByRole('button', { name: /^Join/ }).click();
  await expect(page.getByText('Joining as somebody else would cut them off')).toBeVisible();
  await inspect(page, 'away-hand-over');
  expect((await now()).seat.name).toBe('Wren');
  await page.unroute('**/api/cards/**');
  await page.getByRole('button', { name: /^Join/ }).click();
  await expect.poll(async () => done(await now())).toEqual([1]);
  await page.goto('/station/finish');
  await page.getByRole('button', { name: /^Leave/ }).click();
  await expect(page).toHaveURL(/\/join\?left/);
  await expect.poll(() => kept(page)).toEqual({ outbox: [], snapshot: [] });
});
