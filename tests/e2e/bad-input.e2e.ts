import { expect, test } from '@playwright/test';
import { Instructor } from './people/instructor.ts';
import { openDemoStation } from './people/demo-class.ts';
import { DESKTOP, PHONE, signIn, visitor } from './people/visit.ts';

const SOUND = {
  title: 'Trial bar',
  fats: [
    ['Olive oil', '70'],
    ['Coconut oil', '30'],
  ] as [string, string][],
  superfat: '7',
  concentration: '30',
  ice: '75',
};

/** What is typed, where the sentence must stand, and what it must say. */
const BAD = [
  {
    what: 'fats that do not sum to 100',
    change: {
      fats: [
        ['Olive oil', '70'],
        ['Coconut oil', '28'],
      ] as [string, string][],
    },
    field: 'draft/fats/1/sharePercent',
    kept: '28',
    says: /98 %|2 %/,
  },
  {
    what: 'a blank share',
    change: {
      fats: [
        ['Olive oil', '100'],
        ['Coconut oil', ''],
      ] as [string, string][],
    },
    field: 'draft/fats/1/sharePercent',
    kept: '',
    says: /share/i,
  },
  { what: 'an ambiguous superfat', change: { superfat: '1,234' }, field: 'draft/superfatPercent', kept: '1,234', says: /1,234/ },
  { what: 'a lye concentration beyond solubility', change: { concentration: '60' }, field: 'draft/waterFigure', kept: '60', says: /dissolves/ },
  { what: 'a negative ice share', change: { ice: '-5' }, field: 'draft/iceSharePercent', kept: '-5', says: /ice/i },
];

for (const { what, change, field, kept, says } of BAD) {
  test(`a recipe with ${what} is refused beside the field, and what was typed stays`, async ({ browser }) => {
    const { page } = await visitor(browser, DESKTOP);
    await signIn(page, 'instructor');
    await page.goto('/studio/recipes');
    const before = await page.locator('main a[href^="/studio/recipes/"]').count();
    const instructor = new Instructor(page);
    await instructor.writeRecipe({ ...SOUND, ...change });
    const answer = page.waitForResponse((response) => response.request().method() === 'POST');
    await page.getByRole('button', { name: 'Save the draft' }).last().click();
    // With scripts Kit answers 200 and carries the 422 inside.
    expect([200, 422]).toContain((await answer).status());
    await expect(page.getByRole('alert').or(page.locator('.error-summary')).first()).toBeVisible();
    await expect(page.locator('main').getByText(says).first()).toBeVisible();
    await expect(page.locator(`[name="${field}"]`)).toHaveValue(kept);
    await expect(page.getByLabel('Name of the recipe')).toHaveValue('Trial bar');
    await page.goto('/studio/recipes');
    await expect(page.locator('main a[href^="/studio/recipes/"]')).toHaveCount(before);
  });
}

test('a blank, a negative and an ambiguous reading are refused with a sentence, and nothing is recorded', async ({ browser }) => {
  const { page } = await visitor(browser, PHONE);
  const student = await openDemoStation(page, 'Station 4', 'Blanka');
  await student.openStep();
  // Whoever was here before may have done the first step; its page is then the weighing.
  if (!(await page.locator('input[name=entered]').isVisible())) await student.next();
  let said = 'nothing yet';
  for (const typed of ['', '-5', '1,234', '1e3']) {
    await student.record(typed);
    const fault = page.locator('.field.faulty .fault');
    await expect(fault).toBeVisible();
    // Each is told what is wrong with it, not what was wrong with the one before.
    await expect(fault).not.toHaveText(said);
    said = (await fault.textContent()) ?? '';
    expect(said.length).toBeGreaterThan(20);
    await expect(page.locator('input[name=entered]')).toHaveValue(typed);
  }
  await expect(page.getByRole('button', { name: 'Next step' })).toHaveCount(0);
});
