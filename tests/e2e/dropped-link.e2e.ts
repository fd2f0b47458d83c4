import type { StationView } from '@ashwater/contracts';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { openDemoStation } from './people/demo-class.ts';
import { PHONE, visitor } from './people/visit.ts';

/** Every reading the service holds for the step that is next at this seat's station, superseded ones too. */
async function readingsAt(page: Page): Promise<(number | null)[]> {
  const view = (await (await page.context().request.get('/api/station')).json()) as StationView;
  return view.readings.filter((reading) => reading.stepNo === view.currentStepNo).map((reading) => reading.massMg);
}

test('a reading typed while the link is down is kept, said not to be sent, and recorded once when the link is back', async ({ browser }) => {
  const { page } = await visitor(browser, PHONE);
  const student = await openDemoStation(page, 'Station 1', 'Wren');
  await student.openStep();
  if (!(await page.locator('input[name=entered]').isVisible())) await student.next();
  const target = await student.targetG();
  await page.locator('input[name=entered]').fill(target);
  await page.context().setOffline(true);
  await page.getByRole('button', { name: /^Record/ }).click();
  await expect(page.getByText(/not sent|cannot be reached|do not know|link|connection/i).first()).toBeVisible();
  await expect(page.locator('input[name=entered]')).toHaveValue(target);
  await page.context().setOffline(false);
  await page.getByRole('button', { name: /^Record/ }).click();
  await expect(page.getByRole('status').getByText(/Right/)).toBeVisible();
  expect(await readingsAt(page)).toEqual([Number(target) * 1000]);
});

test('an answer lost on its way back does not record twice: the page sends the same id again', async ({ browser }) => {
  const { page } = await visitor(browser, PHONE);
  const student = await openDemoStation(page, 'Station 2', 'Kit');
  await student.openStep();
  if (!(await page.locator('input[name=entered]').isVisible())) await student.next();
  const target = await student.targetG();
  // Nor does the live stream tell it of the reading: the page knows only what its own request is answered.
  await page.route(/api\/live/, (route) => route.abort());
  await page.reload();
  const sent: string[] = [];
  // The service gets the first request and answers it; the answer never reaches the phone.
  await page.route(/\?\/reading/, async (route) => {
    sent.push(
      /name="id"\r\n\r\n(\S+)|(?:^|&)id=([^&]+)/
        .exec(route.request().postData() ?? '')
        ?.slice(1)
        .find(Boolean) ?? '',
    );
    if (sent.length > 1) return route.continue();
    await route.fetch();
    return route.abort('connectionreset');
  });
  await student.record(target);
  await expect.poll(() => sent.length).toBe(1);
  // On a busy machine the first try is still under way here, and a second tap is not taken before its end.
  await expect(page.getByText('No answer.')).toBeVisible();
  await page.locator('input[name=entered]').fill(target);
  await page.getByRole('button', { name: /^Record/ }).click();
  await expect(page.getByRole('status').getByText(/Right/)).toBeVisible();
  expect(sent).toHaveLength(2);
  expect(sent[1]).toBe(sent[0]);
  expect(sent[0]).toMatch(/^[0-9a-f-]{36}$/);
  expect(await readingsAt(page)).toEqual([Number(target) * 1000]);
});
