import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';

/** The studio manager at the cabinet, with a tablet and a scale. */
export class Manager {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async receiveLot(lot: { lotNumber: string; label: string; grossG: string; tareG: string }): Promise<void> {
    const { page } = this;
    await page.goto('/studio/cabinet/receive');
    await page.getByLabel('Sodium hydroxide').check();
    await page.getByLabel('Supplier').fill('Rookery Trading (invented)');
    await page.getByLabel(/^Lot number/).fill(lot.lotNumber);
    await page.locator('[name=purityPercent]').fill('99.1');
    await page.locator('[name=purityUncertaintyPercent]').fill('0.4');
    await page.locator('[name=sdsLink]').fill('https://supplier.example/sheet');
    await page.locator('[name=scaleStep]').fill('1');
    await page.locator('[name="containers/0/label"]').fill(lot.label);
    await page.locator('[name="containers/0/gross"]').fill(lot.grossG);
    await page.locator('[name="containers/0/tare"]').fill(lot.tareG);
  }

  async press(name: RegExp): Promise<void> {
    await this.page.getByRole('button', { name }).click();
  }

  async handOut(classTitle: string, containerLabel: string, massG: string): Promise<void> {
    const { page } = this;
    await page.goto('/studio/cabinet/hand-out');
    await page.getByRole('radio', { name: new RegExp(`^${classTitle}`) }).check();
    await page.getByRole('radio', { name: new RegExp(`^${containerLabel}:`) }).check();
    await page.getByLabel(/^Mass handed out/).fill(massG);
    await page.locator('[name=scaleStep]').fill('1');
    await this.press(/^Check before recording/);
  }

  async expectHeading(text: RegExp): Promise<void> {
    await expect(this.page.getByRole('heading', { level: 1 })).toHaveText(text);
  }
}
