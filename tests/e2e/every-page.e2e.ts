import { expect, test } from '@playwright/test';
import { inspect } from './inspect.ts';
import { DESKTOP, PHONE, signIn, visitor } from './people/visit.ts';

const PAGES = [
  '/studio',
  '/studio/recipes',
  '/studio/recipes/new',
  '/studio/stations',
  '/studio/fats',
  '/studio/tablet',
  '/class',
  '/class/new',
  '/studio/cabinet',
  '/studio/cabinet/receive',
  '/studio/cabinet/lots',
  '/studio/cabinet/hand-out',
  '/studio/cabinet/differences',
  '/studio/cabinet/scales',
  '/studio/cabinet/settings',
  '/studio/cabinet/count',
  '/studio/cabinet/counts',
  '/studio/cabinet/ledger',
  '/studio/cabinet/jars',
  '/studio/cabinet/reports',
  '/studio/cabinet/planning',
  '/studio/cabinet/requests',
  '/studio/cabinet/requests/new',
  '/studio/cabinet/requests/new?kind=correction',
  '/studio/cabinet/charts',
  '/studio/cabinet/lots-file',
  '/studio/notes',
  '/studio/notes/new',
  '/studio/notes/hurt',
  '/studio/notes/mine',
  '/studio/notes/follow-ups',
  '/studio/notes/month',
  '/studio/notes/wall',
  '/studio/notes/keeping',
  '/studio/people',
  '/studio/audit',
];

for (const [size, viewport] of Object.entries({ phone: PHONE, desktop: DESKTOP })) {
  test(`every page of the owner is accessible and fits on a ${size}`, async ({ browser }) => {
    test.setTimeout(300_000);
    const { page, faults } = await visitor(browser, viewport);
    await signIn(page, 'owner');
    for (const path of PAGES) {
      const answer = await page.goto(path);
      expect(answer?.status(), path).toBe(200);
      await inspect(page, `${size}${path.replaceAll('/', '-')}`);
    }
    // The pages that hang on one thing: the first of each list.
    for (const [list, link] of [
      ['/class', 'main a[href^="/class/"]:not([href$="/new"])'],
      ['/studio/recipes', 'main a[href^="/studio/recipes/"]:not([href$="/new"])'],
      ['/studio/notes', 'main article a[href^="/studio/notes/"]'],
      ['/studio/cabinet/jars', 'main a[href^="/studio/cabinet/jars/"]:not([href$="/label"]):not([href$="/discard"])'],
      ['/studio/cabinet/counts', 'main a[href^="/studio/cabinet/counts/"]'],
      ['/studio/cabinet/lots', 'main a[href^="/studio/cabinet/lots/"]'],
      ['/studio/cabinet', 'main a[href^="/studio/cabinet/bottles/"]'],
    ] as const) {
      await page.goto(list);
      await page.goto((await page.locator(link).first().getAttribute('href'))!);
      await expect(page.locator('h1')).toBeVisible();
      await inspect(page, `${size}${list.replaceAll('/', '-')}-one`);
    }
    expect(faults).toEqual([]);
  });
}

test('the start page of the manager says what waits at the cabinet, that of the instructor does not', async ({ browser }) => {
  for (const [role, links] of [
    ['manager', 1],
    ['instructor', 0],
  ] as const) {
    const { page } = await visitor(browser, PHONE);
    await signIn(page, role);
    await page.goto('/studio');
    await expect(page.getByRole('heading', { name: 'Open' })).toBeVisible();
    await expect(page.getByRole('link', { name: 'Solution past its discard date' }), role).toHaveCount(links);
  }
});

test('who has not signed in is sent to sign in, and comes back to where they wanted to go', async ({ browser }) => {
  const { page } = await visitor(browser, PHONE);
  await page.goto('/studio/cabinet/count');
  await expect(page).toHaveURL(/\/sign-in\?next=/);
});
