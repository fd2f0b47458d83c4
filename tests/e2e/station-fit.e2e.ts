import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { expectGloveSize, inspect } from './inspect.ts';
import { openDemoStation } from './people/demo-class.ts';
import { visitor } from './people/visit.ts';

// A station is read by somebody in goggles, on whatever the studio has: a small phone, twice the text, the colours they set.
const SIZES = {
  // WCAG 2.2 SC 1.4.10 (reflow): content fits 320 CSS pixels, which is also 1280 pixels at four times the size.
  'a small phone, 320 pixels wide': { viewport: { width: 320, height: 568 } },
  // SC 1.4.4: twice the size of a tablet of 1366 pixels is a page of 683.
  'a tablet at twice the size': { viewport: { width: 683, height: 450 } },
};
const PAGES = ['/station', '/station/step', '/station/visitors', '/station/note', '/station/stop'];

async function lookAround(page: Page, name: string): Promise<void> {
  for (const path of PAGES) {
    const answer = await page.goto(path);
    expect(answer?.status(), path).toBe(200);
    await inspect(page, `${name}${path.replaceAll('/', '-')}`);
  }
  await page.goto('/station/step');
  await expectGloveSize(page);
}

for (const [size, { viewport }] of Object.entries(SIZES)) {
  test(`the pages of a station fit ${size}`, async ({ browser }) => {
    test.setTimeout(120_000);
    const { page, faults } = await visitor(browser, viewport);
    await openDemoStation(page, 'Station 3', 'Small');
    await lookAround(page, `station-${viewport.width}`);
    expect(faults).toEqual([]);
  });
}

test('with forced colours and without motion a button is still framed, a sign still has its word, and nothing moves', async ({ browser }) => {
  test.setTimeout(120_000);
  const { page, faults } = await visitor(browser, { width: 390, height: 844 });
  await page.emulateMedia({ forcedColors: 'active', reducedMotion: 'reduce' });
  await openDemoStation(page, 'Station 3', 'Forced');
  for (const path of PAGES) {
    await page.goto(path);
    await page.screenshot({ path: `test-output/screens/station-forced${path.replaceAll('/', '-')}.png` });
    // Backgrounds are the reader's own then: only a frame tells a button from the text around it.
    for (const button of await page.locator('button.button:visible, a.button:visible').all()) {
      const framed = await button.evaluate((element) => {
        const { borderTopWidth, borderTopColor, textDecorationLine } = getComputedStyle(element);
        return (parseFloat(borderTopWidth) >= 1 && !/^rgba\(.*, 0\)$/.test(borderTopColor)) || textDecorationLine.includes('underline');
      });
      expect(framed, `"${(await button.textContent())?.trim()}" on ${path}`).toBe(true);
    }
    const moving = await page.evaluate(
      () => document.getAnimations().filter((animation) => Number(animation.effect?.getComputedTiming().duration ?? 0) > 1).length,
    );
    expect(moving, `moves on ${path}`).toBe(0);
  }
  await page.goto('/station');
  await expect(page.getByText('You must').first()).toBeVisible();
  expect(faults).toEqual([]);
});
