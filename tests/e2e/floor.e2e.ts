import { expect, test } from '@playwright/test';
import { expectGloveSize, inspect } from './inspect.ts';
import { ownClass } from './people/own-class.ts';
import { Instructor } from './people/instructor.ts';
import { Student } from './people/student.ts';
import { DESKTOP, PHONE, signIn, TABLET, visitor } from './people/visit.ts';

const WALL = { width: 1920, height: 1080 };

test('the floor: second reading, a break, a visitor, a message, a move, the wall and a printed card', async ({ browser, baseURL }) => {
  test.setTimeout(300_000);
  const made = await ownClass(baseURL!);
  const [desk, one, two] = [await visitor(browser, TABLET), await visitor(browser, PHONE), await visitor(browser, PHONE)];
  const instructor = new Instructor(desk.page);
  const [mira, joss] = [new Student(one.page, 'Mira'), new Student(two.page, 'Joss')];
  const floor = `/class/${made.classId}/floor`;
  await signIn(instructor.page, 'instructor');
  await instructor.page.goto(floor);

  await test.step('two at a station work up to the lye, dress and are signed off', async () => {
    for (const student of [mira, joss]) await student.join(made.code);
    await mira.openStep();
    while (!(await mira.page.getByRole('heading', { name: /^Gear before step|^Gear before:/ }).isVisible())) await mira.doStep();
    for (const student of [mira, joss]) {
      await student.page.goto('/station');
      await student.confirmAllGear();
      await instructor.countersign(student.name);
    }
  });

  let amount = '';
  await test.step('the caution stands alone first; then the amount and all keys are in sight on a phone without scrolling', async () => {
    await mira.openStep();
    await inspect(mira.page, 'floor-lye-read-first');
    await expect(mira.page.locator('.target .amount')).toHaveCount(0);
    await expectGloveSize(mira.page);
    await mira.page.getByRole('link', { name: /^I have read this/ }).click();
    await expect(mira.page.locator('.target .amount')).toBeVisible();
    const bar = (await mira.page.locator('.stop-bar').boundingBox())!;
    for (const part of [mira.page.locator('.target .amount'), mira.page.getByRole('button', { name: '9', exact: true })]) {
      const box = (await part.boundingBox())!;
      expect(box.y).toBeGreaterThanOrEqual(0);
      expect(box.y + box.height, 'above the stop bar').toBeLessThanOrEqual(bar.y);
    }
    await mira.page.screenshot({ path: 'test-output/screens/floor-lye-weigh-viewport.png' });
    await inspect(mira.page, 'floor-lye-weigh');
    amount = await mira.targetG();
    await mira.record(amount);
  });

  await test.step('the second person reads without seeing target or first reading; two that differ are weighed again', async () => {
    await mira.page.getByRole('button', { name: 'Record the second reading' }).waitFor();
    await inspect(mira.page, 'floor-second-reading-own');
    await joss.openStep();
    await inspect(joss.page, 'floor-second-reading-partner');
    await expectGloveSize(joss.page);
    for (const page of [mira.page, joss.page]) expect(await page.locator('main').innerText()).not.toContain(amount);
    await mira.page.getByLabel(/^Your name/).fill('mira');
    await mira.record(amount);
    await expect(mira.page.getByText(/Mira read it first/).first()).toBeVisible();
    await joss.record(String(Number(amount) + 9));
    await expect(joss.page.getByRole('heading', { name: 'The two readings do not agree' })).toBeVisible();
    await inspect(joss.page, 'floor-readings-differ');
    await joss.record(amount);
    const card = instructor.page.getByRole('listitem').filter({ has: instructor.page.getByRole('heading', { level: 3 }) });
    await card.getByLabel(/the scale shows/).fill(amount);
    await inspect(instructor.page, 'floor-second-reading-staff');
    await card.getByRole('button', { name: 'Record what I read' }).click();
    await expect(joss.page.getByRole('button', { name: 'Next step' })).toBeVisible();
    await joss.next();
  });

  await test.step('a break and a visitor shut the caustic steps until all is looked at again', async () => {
    await mira.page.goto('/station');
    await mira.page.getByText('I take a break, or leave the bench').click();
    await inspect(mira.page, 'floor-break');
    await mira.page.getByRole('button', { name: 'I take a break' }).click();
    await expect(mira.page.getByText(/took a break/)).toBeVisible();
    await mira.confirmAllGear();
    await instructor.countersign('Mira');
    await mira.page.goto('/station/visitors');
    await mira.page.getByLabel('Visitor’s name').fill('Grandpa');
    await mira.page.getByRole('button', { name: 'Add this visitor' }).click();
    await expect(mira.page.getByRole('heading', { name: 'Grandpa' })).toBeVisible();
    await inspect(mira.page, 'floor-visitor');
    await joss.openStep();
    await expect(joss.page.getByText(/Still missing: Grandpa/)).toBeVisible();
    await mira.confirmAllGear();
    await inspect(instructor.page, 'floor-visitor-waiting');
    await instructor.countersign('Grandpa');
    await joss.openStep();
    await joss.next();
  });

  await test.step('a message stands on every station until it is put away there', async () => {
    await instructor.page.getByLabel('Message', { exact: true }).fill('Windows open, please');
    await instructor.page.getByRole('button', { name: 'Send to all stations' }).click();
    for (const student of [mira, joss]) await expect(student.page.getByText('Windows open, please')).toBeVisible();
    await inspect(joss.page, 'floor-message');
    await joss.page.getByRole('button', { name: /^Read:/ }).click();
    await expect(joss.page.getByText('Windows open, please')).toHaveCount(0);
    await expect(mira.page.getByText('Windows open, please')).toBeVisible();
  });

  await test.step('whoever left is signed out in two taps; the wall is read from afar', async () => {
    await instructor.page.getByText('Move Grandpa, or sign out').click();
    await instructor.page.getByRole('button', { name: 'Grandpa has left' }).click();
    await expect(instructor.page.getByText('Signed out: Grandpa')).toBeVisible();
    await inspect(instructor.page, 'floor-busy');
    const wall = await visitor(browser, WALL);
    await signIn(wall.page, 'instructor');
    await wall.page.goto(`${floor}/wall`);
    await expect(wall.page.getByText(/^Seen .* ago$/)).toBeVisible();
    await inspect(wall.page, 'floor-wall');
    const text = await wall.page
      .locator('li .state')
      .first()
      .evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
    expect(text, 'x-height of 20 mm on a 55-inch screen').toBeGreaterThanOrEqual(63);
  });

  await test.step('a printed card is entered from the keyboard', async () => {
    const paper = await ownClass(baseURL!);
    const page = (await visitor(browser, DESKTOP)).page;
    await signIn(page, 'instructor');
    await page.goto(`/class/${paper.classId}/floor/paper`);
    await page.getByRole('link', { name: /W-\d{4}/ }).click();
    await page.getByRole('checkbox').first().focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('Enter');
    await page.keyboard.type('1');
    await inspect(page, 'floor-paper');
    await page.getByRole('button', { name: 'Enter these lines' }).click();
    await expect(page.getByText(/outside the accepted range.*What stands above it is entered/)).toBeVisible();
    await inspect(page, 'floor-paper-refused');
    // Sent once more, what is entered already is not in the way.
    await page.getByRole('button', { name: 'Enter these lines' }).click();
    await expect(page.locator('#fault-2')).toBeVisible();
    await expect(page.locator('#fault-1')).toHaveCount(0);
  });

  await test.step('a tablet that is bound to a station leads to today’s class without a code', async () => {
    const { page } = await visitor(browser, TABLET);
    await signIn(page, 'instructor');
    await page.goto('/studio/tablet');
    await inspect(page, 'tablet');
    await page.getByRole('button', { name: new RegExp(`Bind to Bench ${made.mark}$`) }).click();
    await page.getByRole('button', { name: 'Sign out of this tablet' }).click();
    await page.goto('/');
    await page.waitForURL(new RegExp(`/join/${made.code}`));
  });

  expect([desk, one, two].flatMap(({ faults }) => faults)).toEqual([]);
});
