import { expect, test } from '@playwright/test';
import type { CDPSession, Page } from '@playwright/test';
import { ownClass } from './people/own-class.ts';
import { Student } from './people/student.ts';
import { PHONE, visitor } from './people/visit.ts';

/** A cheap phone on a weak link: a quarter of this machine's speed, 400 kbit/s each way, 400 ms there and back. */
async function slowDown(page: Page): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  const bytesPerSecond = 400_000 / 8;
  await session.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: 400,
    downloadThroughput: bytesPerSecond,
    uploadThroughput: bytesPerSecond,
  });
  return session;
}

const FIRST_CARD_MS = 2500;
const ANSWERS_TAPS_MS = 5000;
const NEXT_STEP_MS = 100;

test('on a slow phone the first card is readable in 2.5 s and answers taps in 5 s, and the next step is there in a tenth of a second', async ({
  browser,
  baseURL,
}, info) => {
  test.setTimeout(120_000);
  const made = await ownClass(baseURL!);
  const { page: quick } = await visitor(browser, PHONE);
  const ida = new Student(quick, 'Ida');
  await ida.join(made.code);
  await ida.openStep();
  await ida.doStep();
  // The same phone, with its seat and nothing kept: no page, no script, no service worker.
  const context = await browser.newContext({ viewport: PHONE, storageState: await quick.context().storageState(), serviceWorkers: 'block' });
  const page = await context.newPage();
  await slowDown(page);

  const began = Date.now();
  await page.goto('/station/step/2', { waitUntil: 'commit' });
  await expect(page.locator('h1')).toBeVisible();
  const painted = await page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const told = performance.getEntriesByName('first-contentful-paint')[0];
        if (told) resolve(told.startTime);
        else new PerformanceObserver((list) => resolve(list.getEntries()[0]!.startTime)).observe({ type: 'paint', buffered: true });
      }),
  );
  const readableMs = Math.max(painted, Date.now() - began);
  // Before the script is there the buttons are plain forms, which work too; the keys of the page's own keypad need it.
  const entry = page.locator('input[name=entered]');
  while ((await entry.inputValue()) === '') await page.getByRole('button', { name: '7', exact: true }).dispatchEvent('click');
  const answersMs = Date.now() - began;
  await entry.fill('');

  const nextMs: number[] = [];
  const recordedMs: number[] = [];
  const student = new Student(page, 'Ida');
  for (let i = 0; i < 2; i += 1) {
    const amount = page.locator('.target .amount');
    if (await amount.isVisible()) {
      await student.record(await student.targetG());
      await page.getByRole('button', { name: 'Next step' }).waitFor();
    }
    const before = page.url();
    const took = page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const button = [...document.querySelectorAll('button')].find((each) => /next step/i.test(each.textContent ?? ''))!;
          const tapped = performance.now();
          const seen = () => {
            if ([...document.querySelectorAll('h2')].some((each) => each.textContent?.startsWith('Next: ')))
              requestAnimationFrame(() => resolve(performance.now() - tapped));
            else requestAnimationFrame(seen);
          };
          button.click();
          seen();
        }),
    );
    const tapped = Date.now();
    nextMs.push(await took);
    await page.waitForURL((url) => url.href !== before);
    recordedMs.push(Date.now() - tapped);
  }
  const figures = `readable ${Math.round(readableMs)} ms, answers taps ${answersMs} ms, next step ${nextMs.map(Math.round).join(' and ')} ms, recorded by the service after ${recordedMs.join(' and ')} ms`;
  info.annotations.push({ type: 'figures', description: figures });
  process.stdout.write(`  slow phone: ${figures}\n`);
  expect(readableMs).toBeLessThanOrEqual(FIRST_CARD_MS);
  expect(answersMs).toBeLessThanOrEqual(ANSWERS_TAPS_MS);
  // The better of two: this machine does other things at the same time.
  expect(Math.min(...nextMs)).toBeLessThanOrEqual(NEXT_STEP_MS);
});
