import { expect, test } from '@playwright/test';
import { newId } from '../../apps/api/src/ids.ts';
import { inspect } from './inspect.ts';
import { ownClass } from './people/own-class.ts';
import { signIn, visitor } from './people/visit.ts';

const SCREENS = [
  { width: 1920, height: 1080 },
  { width: 1366, height: 768 },
];
// X-height of 11 mm, 1/360 of four metres, on a screen 1210 mm wide, with an x-height of half an em: 1.82 % of the width.
const LEAST_TEXT = 2 * (11 / 1210);

for (const stations of [8, 15, 24, 36]) {
  test(`the wall shows ${stations} stations on one screen, also with a stop and the longest words in every box`, async ({ browser, baseURL }) => {
    test.setTimeout(120_000);
    const made = await ownClass(baseURL!, stations);
    const { page } = await visitor(browser, SCREENS[0]!);
    await signIn(page, 'instructor');
    await page.goto(`/class/${made.classId}/floor/wall`);
    await expect(page.locator('.wall li')).toHaveCount(stations);
    await made.post(`/api/classes/${made.classId}/stop`, { id: newId(), reason: '' });
    await expect(page.getByText(/^Stop\. The room is stopped/)).toBeVisible();
    // Every box at its fullest: an alarm in words of two lines, and the step. Nothing of the page's own size rules is touched.
    await page.locator('.wall li').evaluateAll((boxes) => {
      for (const box of boxes) {
        box.classList.replace('empty', 'alarm');
        const state = box.querySelector('.state')!;
        state.lastChild!.textContent = ' Reading off target';
        box.querySelector('.step')!.textContent = 'Step 12 of 16';
      }
    });
    for (const screen of SCREENS) {
      await page.setViewportSize(screen);
      const wall = page.locator('.wall');
      const size = await wall.evaluate((node) => ({ beyond: node.scrollHeight - node.clientHeight, aside: node.scrollWidth - node.clientWidth }));
      await page.screenshot({ path: `test-output/screens/wall-${stations}-${screen.width}.png` });
      expect(size, `${stations} stations on ${screen.width}x${screen.height}`).toEqual({ beyond: 0, aside: 0 });
      // A box that hides its own words would fit any screen.
      const cut = await page
        .locator('.wall li')
        .evaluateAll((boxes) => boxes.filter((box) => box.scrollHeight > box.clientHeight || box.scrollWidth > box.clientWidth).length);
      expect(cut, 'boxes with words cut off').toBe(0);
      const text = await page
        .locator('.wall li .state')
        .first()
        .evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
      expect(text / screen.width).toBeGreaterThanOrEqual(LEAST_TEXT);
    }
    await page.setViewportSize(SCREENS[0]!);
    await inspect(page, `wall-${stations}`);
  });
}
