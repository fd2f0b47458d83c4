import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';

/** A student with a phone, from the station's code to signing out. */
export class Student {
  readonly page: Page;
  readonly name: string;

  constructor(page: Page, name: string) {
    this.page = page;
    this.name = name;
  }

  async giveCode(code: string): Promise<void> {
    await this.page.goto('/join');
    await this.page.getByLabel('Code on your card').fill(code.toLowerCase());
    await this.page.getByRole('button', { name: 'Go on' }).click();
  }

  async join(code: string): Promise<void> {
    await this.giveCode(code);
    await this.page.getByLabel('Your name or initials').fill(this.name);
    await this.page.getByRole('button', { name: /^Join/ }).click();
    await this.page.waitForURL(/\/station/);
  }

  async confirmAllGear(): Promise<void> {
    const next = this.page.getByRole('button', { name: /: on and checked$/ });
    for (let left = await next.count(); left > 0; left -= 1) {
      await next.first().click();
      await expect(next).toHaveCount(left - 1);
    }
  }

  /** The page of the step that is next. */
  async openStep(): Promise<void> {
    await this.page.goto('/station/step');
    await expect(this.page.locator('h1')).toBeVisible();
  }

  async type(keys: string): Promise<void> {
    for (const key of keys) await this.page.getByRole('button', { name: key === '.' ? 'Decimal point' : key, exact: true }).click();
  }

  async record(text: string): Promise<void> {
    await this.page.locator('input[name=entered]').fill(text);
    await this.page.getByRole('button', { name: /^Record/ }).click();
  }

  async next(): Promise<void> {
    const before = new URL(this.page.url()).pathname;
    await this.page.getByRole('button', { name: /next/i }).first().click();
    // The address, not the heading: the live stream may show this step as done before the answer leads to the next one.
    await this.page.waitForURL((url) => url.pathname !== before);
    const no = /\/step\/(\d+)$/.exec(new URL(this.page.url()).pathname)?.[1];
    if (no) await expect(this.page).toHaveTitle(new RegExp(`^Step ${no}:`));
  }

  /** The target in grams, as the page shows it, without its spaces. */
  async targetG(): Promise<string> {
    const text = await this.page.locator('.target .amount').textContent();
    return (text ?? '').replace(/[^\d.]/g, '');
  }

  /** Somebody without a device of their own reads the scale and types their name. */
  async secondReading(byName: string, text: string): Promise<void> {
    await this.page.getByLabel(/^Your name/).fill(byName);
    await this.record(text);
  }

  /** The first steps of a card, up to the first caustic one: shut still, or open with its caution before it. */
  async workToCaustic(): Promise<void> {
    const there = this.page.getByRole('heading', { name: /^Gear before/ }).or(this.page.getByRole('link', { name: /^I have read this/ }));
    await this.openStep();
    while (!(await there.isVisible())) await this.doStep();
  }

  async dress(): Promise<void> {
    await this.page.goto('/station');
    await this.confirmAllGear();
  }

  /** Weighs the caustic of the step that is open; `second` has somebody else read the scale. */
  async weighCaustic(second: (amountG: string) => Promise<unknown>): Promise<void> {
    await this.openStep();
    await this.page.getByRole('link', { name: /^I have read this/ }).click();
    await this.page.locator('.target .amount').waitFor();
    const amountG = await this.targetG();
    await this.record(amountG);
    await this.page.getByRole('button', { name: 'Record the second reading' }).waitFor();
    await second(amountG);
    await expect(this.page.getByRole('button', { name: 'Next step' })).toBeVisible();
  }

  async takeBreak(): Promise<void> {
    await this.page.goto('/station');
    await this.page.getByText('I take a break, or leave the bench').click();
    await this.page.getByRole('button', { name: 'I take a break' }).click();
    await expect(this.page.getByText(/took a break/)).toBeVisible();
  }

  /** Whatever is left of the card, the jar with its label and the clean-up too. */
  async workToEnd(): Promise<void> {
    await this.openStep();
    while (!(await this.page.getByLabel(/^Solution in the jar/).isVisible())) await this.doStep();
    await this.page.getByLabel(/^Solution in the jar/).fill('300');
    await this.page.getByRole('button', { name: 'Make the label' }).click();
    await this.page.getByRole('link', { name: /The label is on/ }).click();
    await this.page.waitForURL(/\/station\/step\//);
    await this.next();
  }

  async leave(): Promise<void> {
    await this.page.goto('/station/finish');
    await this.page.getByRole('button', { name: /^Leave / }).click();
    await expect(this.page.getByText('You have left your station')).toBeVisible();
  }

  /** Does one weigh or temperature or plain step rightly, whichever it is. */
  async doStep(): Promise<void> {
    const read = this.page.getByRole('link', { name: /^I have read this/ });
    if (await read.isVisible()) {
      await read.click();
      await this.page.locator('.target .amount').waitFor();
    }
    const amount = this.page.locator('.target .amount');
    if (await amount.isVisible()) {
      const range = await this.page.locator('.target .amount.range').isVisible();
      const entered = range ? '31.5' : await this.targetG();
      await this.record(entered);
      await this.page.getByRole('button', { name: /^(Next step|Record the second reading)$/ }).waitFor();
      if (await this.page.getByRole('button', { name: 'Record the second reading' }).isVisible()) await this.secondReading('Bea, helping', entered);
      await expect(this.page.getByRole('button', { name: 'Next step' })).toBeVisible();
    }
    await this.next();
  }
}
