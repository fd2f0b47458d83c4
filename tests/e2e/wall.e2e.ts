import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { newId } from '../../apps/api/src/ids.ts';
import { inspect } from './inspect.ts';
import { ownClass } from './people/own-class.ts';
import type { OwnClass } from './people/own-class.ts';
import { signIn, visitor } from './people/visit.ts';

const SCREENS = [
  { width: 1920, height: 1080 },
  { width: 1366, height: 768 },
];
// X-height of 11 mm, 1/360 of four metres, on a screen 1210 mm wide, with an x-height of half an em: 1.82 % of the width.
const LEAST_TEXT = 2 * (11 / 1210);

test('the wall shows 8, 15, 24 and 36 stations on one screen, also with a stop and the longest words in every box', async ({ browser, baseURL }) => {
  test.setTimeout(180_000);
  const { page } = await visitor(browser, SCREENS[0]!);
  await signIn(page, 'instructor');
  const few = await ownClass(baseURL!, 8);
  for (const made of [few, await few.another(15), await few.another(24), await few.another(36)]) await wallFits(page, made);
});

async function wallFits(page: Page, made: OwnClass): Promise<void> {
  await page.setViewportSize(SCREENS[0]!);
  await page.goto(`/class/${made.classId}/floor/wall`);
  const boxes = page.locator('.wall li');
  await expect(boxes.first()).toBeVisible();
  const stations = await boxes.count();
  await made.post(`/api/classes/${made.classId}/stop`, { id: newId(), reason: '' });
  await expect(page.getByText(/^Stop\. The room is stopped/)).toBeVisible();
  // Every box at its fullest: a long name, an alarm in words of two lines, and the step. Nothing of the page's own size rules is touched.
  await boxes.evaluateAll((all) => {
    for (const [index, box] of all.entries()) {
      box.classList.replace('empty', 'alarm');
      box.querySelector('h2')!.textContent = `Window 000000 ${index + 10}`;
      box.querySelector('.state')!.lastChild!.textContent = ' Reading off target';
      box.querySelector('.step')!.textContent = 'Step 12 of 16';
    }
  });
  for (const screen of SCREENS) {
    await page.setViewportSize(screen);
    const size = await page
      .locator('.wall')
      .evaluate((wall) => ({ beyond: wall.scrollHeight - wall.clientHeight, aside: wall.scrollWidth - wall.clientWidth }));
    await page.screenshot({ path: `test-output/screens/wall-${stations}-${screen.width}.png` });
    expect(size, `${stations} stations on ${screen.width}x${screen.height}`).toEqual({ beyond: 0, aside: 0 });
    // A box that hides its own words would fit any screen.
    const cut = await boxes.evaluateAll((all) => all.filter((box) => box.scrollHeight > box.clientHeight || box.scrollWidth > box.clientWidth).length);
    expect(cut, 'boxes with words cut off').toBe(0);
    const text = await page
      .locator('.wall li .state')
      .first()
      .evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
    expect(text / screen.width).toBeGreaterThanOrEqual(LEAST_TEXT);
  }
  await page.setViewportSize(SCREENS[0]!);
  await inspect(page, `wall-${stations}`);
}
