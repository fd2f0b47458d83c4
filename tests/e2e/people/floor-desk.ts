import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';
import type { Instructor } from './instructor.ts';

/** The one instructor of a busy class: many call at once, and they come to each in turn. */
export class FloorDesk {
  readonly #instructor: Instructor;
  readonly #classUrl: string;
  #last: Promise<unknown> = Promise.resolve();

  constructor(instructor: Instructor, classId: string) {
    this.#instructor = instructor;
    this.#classUrl = `/class/${classId}`;
  }

  get page(): Page {
    return this.#instructor.page;
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#last.then(work);
    // Whoever called gets the fault; the next one is seen to all the same.
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  async open(): Promise<void> {
    await this.page.goto(`${this.#classUrl}/floor`);
  }

  countersign(...names: string[]): Promise<void> {
    return this.#inTurn(async () => {
      for (const name of names) await this.#instructor.countersign(name);
    });
  }

  move(name: string, station: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.page.getByText(`Move ${name}, or sign out`).click();
      await this.page.getByRole('button', { name: `To ${station}`, exact: true }).click();
      await expect(this.#station(station).getByText(name, { exact: true })).toBeVisible();
    });
  }

  signOut(name: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.page.getByText(`Move ${name}, or sign out`).click();
      await this.page.getByRole('button', { name: `${name} has left` }).click();
      await expect(this.page.getByText(`Signed out: ${name}`)).toBeVisible();
    });
  }

  readSecond(station: string, amountG: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.#station(station)
        .getByLabel(/the scale shows/)
        .fill(amountG);
      await this.#station(station).getByRole('button', { name: 'Record what I read' }).click();
      await expect(this.#station(station).getByRole('button', { name: 'Record what I read' })).toHaveCount(0);
    });
  }

  clear(reason: string): Promise<void> {
    return this.#inTurn(async () => {
      await expect(this.page.getByRole('heading', { name: 'The room is stopped' })).toBeVisible();
      await this.page.getByLabel('What was found and done').fill(reason);
      await this.page.getByRole('button', { name: /^Clear the room/ }).click();
      await expect(this.page.getByRole('heading', { name: 'The room is stopped' })).toHaveCount(0);
    });
  }

  /** What was poured cannot come out again: the instructor looks, reads what is proposed and approves it. */
  approveChange(station: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.#station(station)
        .getByRole('link', { name: /^See what can be done/ })
        .click();
      await this.page.waitForURL(/\/floor\/change\//);
      const inPot = this.page.getByRole('region', { name: /^(In the pot: it cannot come out|What can be done)$/ });
      await inPot.getByRole('button', { name: /^(Approve|Take it)/ }).click();
      await this.page.waitForURL(/\/floor(#.*)?$/);
    });
  }

  /** A new issue of one station's card, although caustic is at work there. */
  reissue(station: { id: string; name: string }, mouldVolumeMl: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.page.goto(`${this.#classUrl}/amend?station=${station.id}`);
      const bench = this.page.locator('.bench', { has: this.page.getByText(station.name, { exact: true }) });
      await bench.getByRole('checkbox').check();
      await bench.locator('summary').first().click();
      await bench.getByLabel('Mould volume (mL)').fill(mouldVolumeMl);
      await this.page.getByLabel('Why').fill('The mould is a larger one');
      await this.page.getByRole('button', { name: 'See what changes' }).click();
      await this.page.getByRole('checkbox', { name: /^I have been to/ }).check();
      await this.page.getByRole('button', { name: 'Issue 1 new card' }).click();
      await this.page.waitForURL((url) => !url.pathname.endsWith('/amend'));
      await this.open();
    });
  }

  /** Everybody is out: the roll call, then the end of the class. */
  close(title: string, people: number): Promise<void> {
    return this.#inTurn(async () => {
      const roll = this.page.getByRole('region', { name: 'Roll call' });
      await expect(roll).toContainText('Everybody is out, every jar has its label, every container is back.');
      await expect(roll).toContainText(`${people} of ${people} people`);
      await expect(roll).toContainText('All done');
      await this.page.goto(this.#classUrl);
      await this.page.getByText('Close the class', { exact: true }).click();
      await this.page.getByRole('button', { name: `Close ${title}` }).click();
      await expect(this.page.getByRole('link', { name: 'Look at the floor' })).toBeVisible();
    });
  }

  #station(name: string) {
    return this.page.getByRole('listitem').filter({ has: this.page.getByRole('heading', { level: 3, name, exact: true }) });
  }
}
