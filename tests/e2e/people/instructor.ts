import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';

export type RecipeText = { title: string; fats: [name: string, share: string][]; superfat: string; concentration: string; ice: string };

/** The instructor with a laptop: recipe, class, floor. */
export class Instructor {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async writeRecipe(recipe: RecipeText): Promise<void> {
    const { page } = this;
    await page.goto('/studio/recipes/new');
    await page.getByLabel('Name of the recipe').fill(recipe.title);
    for (const [i, [fat, share]] of recipe.fats.entries()) {
      if (i > 0 && (await page.locator(`[name="draft/fats/${i}/fatKey"]`).count()) === 0) await page.getByRole('button', { name: 'Add a fat' }).click();
      await page.locator(`[name="draft/fats/${i}/fatKey"]`).selectOption({ label: fat });
      await page.locator(`[name="draft/fats/${i}/sharePercent"]`).fill(share);
    }
    await page.locator('[name="draft/superfatPercent"]').fill(recipe.superfat);
    await page.locator('[name="draft/waterFigure"]').fill(recipe.concentration);
    await page.locator('[name="draft/iceSharePercent"]').fill(recipe.ice);
  }

  async publishRecipe(): Promise<void> {
    await this.page.getByRole('button', { name: 'Save the draft' }).last().click();
    await this.page.waitForURL(/\/studio\/recipes\/[0-9a-f-]{36}/);
    await this.page
      .getByText(/^Publish version 1/)
      .first()
      .click();
    await this.page.getByRole('button', { name: 'Freeze and publish version 1' }).click();
    await this.page.waitForURL(/\/versions\//);
  }

  async prepareClass(made: { title: string; startsAt: string; recipe: string; lot: RegExp; stations: string[] }): Promise<void> {
    const { page } = this;
    await page.goto('/class/new');
    await page.getByLabel('Name of the class').fill(made.title);
    await page.getByLabel(/^Starts/).fill(made.startsAt);
    await page.getByLabel('Room').fill('The long room');
    const options = page.locator('[name=recipeVersionId] option');
    await page.locator('[name=recipeVersionId]').selectOption((await options.filter({ hasText: made.recipe }).first().getAttribute('value'))!);
    const lots = page.locator('[name=naohLotId] option');
    await page.locator('[name=naohLotId]').selectOption((await lots.filter({ hasText: made.lot }).first().getAttribute('value'))!);
    for (const box of await page.locator('input[type=checkbox][name$="/chosen"]').all()) {
      const name = (await box.locator('xpath=..').textContent())?.trim() ?? '';
      await box.setChecked(made.stations.includes(name));
    }
    await page.locator('main button[type=submit], main form button').last().click();
    await page.waitForURL(/\/class\/[0-9a-f-]{36}$/);
  }

  async publishClass(): Promise<void> {
    await this.page.getByRole('link', { name: 'Check and publish' }).click();
    await this.page.getByRole('button', { name: /^Issue / }).click();
    await this.page.waitForURL(/\/class\/[0-9a-f-]{36}$/);
  }

  /** The join code of a station, from the class's page. */
  async codeOf(station: string): Promise<string> {
    const card = this.page.locator('li.card', { has: this.page.getByRole('heading', { name: new RegExp(`^${station}(,|$)`) }) });
    return (await card.locator('.letters').textContent())?.trim() ?? '';
  }

  async countersign(name: string): Promise<void> {
    const sign = this.page.getByRole('button', { name: `I looked at ${name}: sign off` });
    await sign.click();
    await expect(sign).toHaveCount(0);
  }
}
