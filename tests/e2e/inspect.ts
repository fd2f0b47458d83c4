import AxeBuilder from '@axe-core/playwright';
import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';
import { readingOrder } from './reading-order.ts';

const STANDARD = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
// Targets inside a sentence are exempt (WCAG 2.2 SC 2.5.8, "inline").
const CONTROLS = 'main button:not(.visually-hidden), main a.button, main summary.button, main input[type=text], main select';
export const CONTROL_PX = 48;
/** Primary actions at a station: 20 mm, for wet gloves. */
export const GLOVE_PX = 76;

/** One look at a page as it stands: no accessibility fault, read in the order it is seen, no sideways scrolling, controls large enough. Keeps a picture when SCREENS is set. */
export async function inspect(page: Page, name: string): Promise<void> {
  if (process.env.SCREENS) await page.screenshot({ path: `test-output/screens/${name}.png`, fullPage: true });
  // In the page itself and of the faults only: no page has a frame from elsewhere, and it takes half the time.
  const axe = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode();
  const { violations } = await axe.withTags(STANDARD).analyze();
  // Told of, and the test goes on: one run says what is wrong on every page.
  expect
    .soft(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`),
      `accessibility of ${name}`,
    )
    .toEqual([]);
  const order = await readingOrder(page);
  expect.soft(order.faults, `reading order of ${name}`).toEqual([]);
  expect.soft(order.stops, `something to read on ${name}`).toBeGreaterThan(0);
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(overflow, `${name} scrolls sideways by`).toBeLessThanOrEqual(0);
  // In one go: asking control by control takes longer than everything else.
  const controls = await page.evaluate(
    (selector) =>
      [...document.querySelectorAll(selector)]
        .filter((control) => control.checkVisibility({ visibilityProperty: true }) && control.getBoundingClientRect().height > 0)
        .map((control) => ({ height: Math.round(control.getBoundingClientRect().height), words: control.textContent.trim() })),
    CONTROLS,
  );
  expect(
    controls.filter(({ height }) => height < CONTROL_PX),
    `controls on ${name} lower than ${CONTROL_PX} px`,
  ).toEqual([]);
}

/** The main action of a station page, measured. */
export async function expectGloveSize(page: Page): Promise<void> {
  const primary = page.locator('main .button.big:visible, main button.big:visible').first();
  const box = await primary.boundingBox();
  expect(Math.round(box?.height ?? 0), `height of the main action on ${page.url()}`).toBeGreaterThanOrEqual(GLOVE_PX);
  for (const key of await page.locator('.keypad button:visible').all()) {
    const { height = 0 } = (await key.boundingBox()) ?? {};
    expect(Math.round(height), `height of the key ${await key.textContent()}`).toBeGreaterThanOrEqual(GLOVE_PX);
  }
}
