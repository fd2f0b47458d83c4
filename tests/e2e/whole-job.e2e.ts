import { expect, test } from '@playwright/test';
import { expectGloveSize, inspect } from './inspect.ts';
import { Instructor } from './people/instructor.ts';
import { Manager } from './people/manager.ts';
import { Student } from './people/student.ts';
import { DESKTOP, PHONE, signIn, TABLET, visitor } from './people/visit.ts';

const CLASS = 'Sunday first bars';
const RECIPE = 'Sunday bar';

test('a class from the recipe to the reconciled cabinet, by instructor, manager and two students at once', async ({ browser }) => {
  test.setTimeout(420_000);
  const [desk, cabinet, phone, tablet] = [
    await visitor(browser, DESKTOP),
    await visitor(browser, TABLET),
    await visitor(browser, PHONE),
    await visitor(browser, PHONE),
  ];
  const instructor = new Instructor(desk.page);
  const manager = new Manager(cabinet.page);
  const rosa = new Student(phone.page, 'Rosa');
  const anton = new Student(tablet.page, 'Anton');
  const codes: Record<string, string> = {};

  await test.step('the manager receives a lot', async () => {
    await manager.page.goto('/sign-in');
    await inspect(manager.page, 'sign-in');
    await signIn(manager.page, 'manager');
    await manager.receiveLot({ lotNumber: 'RT-100', label: 'R-1', grossG: '1150', tareG: '150' });
    await inspect(manager.page, 'cabinet-receive');
    await manager.press(/^Check before recording/);
    await inspect(manager.page, 'cabinet-receive-check');
    await manager.press(/^Record 1\s000\sg of sodium hydroxide, lot RT-100/);
    await expect(manager.page.getByText('RT-100').first()).toBeVisible();
    await inspect(manager.page, 'cabinet');
  });

  await test.step('the instructor writes and publishes a recipe, and sees what comes of it while typing', async () => {
    await signIn(instructor.page, 'instructor');
    await inspect(instructor.page, 'studio-home');
    await instructor.writeRecipe({
      title: RECIPE,
      fats: [
        ['Olive oil', '70'],
        ['Coconut oil', '20'],
      ],
      superfat: '7',
      concentration: '30',
      ice: '75',
    });
    await expect(
      instructor.page
        .getByText('10 % still to share out', { exact: false })
        .or(instructor.page.getByText(/10.%\s+still to share out/))
        .first(),
    ).toBeVisible();
    await instructor.page.locator('[name="draft/fats/1/sharePercent"]').fill('30');
    const results = instructor.page.getByRole('region', { name: 'What comes of it' });
    for (const word of [/Sodium hydroxide/, /Water/, /Ice/, /superfat/i, /°C/, /estimate/i]) await expect(results.getByText(word).first()).toBeVisible();
    await inspect(instructor.page, 'recipe-editor');
    await instructor.publishRecipe();
    await expect(instructor.page.getByRole('heading', { level: 1 })).toContainText(RECIPE);
    await inspect(instructor.page, 'recipe-version');
  });

  await test.step('the instructor prepares and publishes a class: one card a station', async () => {
    await instructor.prepareClass({ title: CLASS, startsAt: '2030-06-02T10:00', recipe: RECIPE, lot: /RT-100/, stations: ['Station 1', 'Station 3'] });
    await inspect(instructor.page, 'class-preparation');
    await instructor.publishClass();
    for (const station of ['Station 1', 'Station 3']) codes[station] = await instructor.codeOf(station);
    expect(codes['Station 1']).toMatch(/^[A-Z0-9]{6}$/);
    await inspect(instructor.page, 'class-published');
    const classUrl = instructor.page.url();
    await instructor.page.goto(`${classUrl}/cards`);
    await expect(instructor.page.getByText(/W-\d{4}/).first()).toBeVisible();
    await inspect(instructor.page, 'class-cards');
    await instructor.page.goto(`${classUrl}/floor`);
    await inspect(instructor.page, 'floor-empty');
  });

  await test.step('the manager hands caustic out, and never more than the container holds', async () => {
    await manager.handOut(CLASS, 'R-1', '1200');
    await expect(manager.page.getByText(/holds 1\s000\sg/).first()).toBeVisible();
    await expect(manager.page.getByLabel(/^Mass handed out/)).toHaveValue('1200');
    await manager.handOut(CLASS, 'R-1', '300');
    await inspect(manager.page, 'cabinet-hand-out-check');
    await manager.press(/^Record 300\sg handed out from R-1/);
    await expect(manager.page.getByRole('heading', { name: new RegExp(`300\\sg to ${CLASS}`) })).toBeVisible();
  });

  await test.step('students join with the station’s code; no caustic step opens before the gear is countersigned', async () => {
    await rosa.page.goto('/join');
    await inspect(rosa.page, 'join');
    await rosa.giveCode('QQQQQQ');
    await expect(rosa.page.getByText(/There is no class or station with the code QQQQQQ/).first()).toBeVisible();
    await rosa.join(codes['Station 1']!);
    await anton.join(codes['Station 3']!);
    await inspect(rosa.page, 'station-gear');
    await expectGloveSize(rosa.page);
    await rosa.openStep();
    await inspect(rosa.page, 'station-step-do');
    await expectGloveSize(rosa.page);
    await rosa.next();
  });

  await test.step('a reading is judged at once, in which direction and what to do; an ambiguous one is refused and kept', async () => {
    await rosa.record('1,234');
    await expect(
      rosa.page
        .locator('.fault')
        .filter({ hasText: /1,234|comma/ })
        .first(),
    ).toBeVisible();
    await expect(rosa.page.locator('input[name=entered]')).toHaveValue('1,234');
    await rosa.page.locator('input[name=entered]').fill('');
    await rosa.type('50.5');
    await rosa.page.getByRole('button', { name: /^Record/ }).click();
    await expect(rosa.page.getByRole('status').getByText(/Too little/)).toBeVisible();
    await inspect(rosa.page, 'station-step-off-target');
    await expect(instructor.page.getByText(/is under the accepted range/)).toBeVisible();
    await rosa.record(await rosa.targetG());
    await expect(rosa.page.getByRole('status').getByText(/Right/)).toBeVisible();
    await inspect(rosa.page, 'station-step-right');
    await rosa.next();
  });

  await test.step('the steps stop at the gear gate until the wearer confirmed and the instructor countersigned', async () => {
    for (const student of [rosa, anton]) {
      await student.openStep();
      while (!(await student.page.getByRole('heading', { name: /^Gear before/ }).isVisible())) await student.doStep();
    }
    await inspect(rosa.page, 'station-gate-closed');
    for (const student of [rosa, anton]) {
      await student.page.goto('/station');
      await student.confirmAllGear();
      await expect(student.page.getByRole('heading', { name: /Waiting for your instructor/ })).toBeVisible();
    }
    await inspect(rosa.page, 'station-waiting');
    await expect(instructor.page.getByRole('button', { name: /^I looked at/ })).toHaveCount(2);
    await inspect(instructor.page, 'floor-waiting');
    await instructor.countersign('Rosa');
    await instructor.countersign('Anton');
    for (const student of [rosa, anton]) await expect(student.page.getByRole('heading', { name: 'Your gear is signed off' })).toBeVisible();
    await inspect(rosa.page, 'station-signed');
  });

  await test.step('anyone stops the room, every station freezes, an instructor clears it', async () => {
    await rosa.openStep();
    await inspect(rosa.page, 'station-caustic-weigh');
    await anton.page.getByText('Stop the room').first().click();
    await anton.page.getByRole('button', { name: 'Yes, stop everybody now' }).click();
    for (const person of [rosa.page, anton.page, instructor.page]) await expect(person.getByRole('heading', { name: 'The room is stopped' })).toBeVisible();
    await inspect(rosa.page, 'station-stopped');
    await inspect(instructor.page, 'floor-stopped');
    await instructor.page.getByLabel('What was found and done').fill('A visitor without goggles; she has left.');
    await instructor.page.getByRole('button', { name: /^Clear the room/ }).click();
    await expect(instructor.page.getByRole('heading', { name: 'The room is stopped' })).toHaveCount(0);
    await expect(rosa.page.getByRole('heading', { name: 'The room is stopped' })).toHaveCount(0);
  });

  await test.step('the solution is made in the one safe order, the jar labelled, the bench cleaned', async () => {
    for (const student of [rosa, anton]) {
      await student.openStep();
      const titles: string[] = [];
      while (!(await student.page.getByLabel(/^Solution in the jar/).isVisible())) {
        titles.push((await student.page.locator('h1').textContent()) ?? '');
        await student.doStep();
      }
      expect(titles).toEqual(['Weigh Sodium hydroxide', 'Add the lye to the liquid', 'Measure the temperature']);
      await student.page.getByLabel(/^Solution in the jar/).fill('300');
      if (student === rosa) await inspect(student.page, 'station-jar');
      await student.page.getByRole('button', { name: 'Make the label' }).click();
      await expect(student.page.getByText(/J-\d{4}/).first()).toBeVisible();
      if (student === rosa) await inspect(student.page, 'station-label');
      await student.page.getByRole('link', { name: /The label is on/ }).click();
      await student.page.waitForURL(/\/station\/step\//);
      if (student === rosa) await inspect(student.page, 'station-clean');
      await student.next();
    }
    await expect(instructor.page.getByText(/Jar J-\d{4} labelled/)).toHaveCount(2);
  });

  await test.step('a student files a near miss without a name, and both sign out', async () => {
    await anton.page.goto(`/note/${codes['Station 3']}`);
    await inspect(anton.page, 'note-anonymous');
    await anton.page.getByLabel(/^What happened/).fill('The lid was screwed on crooked and slipped.');
    await anton.page.getByRole('button', { name: /^File the note/ }).click();
    await expect(anton.page.getByText(/Your return code/)).toBeVisible();
    await inspect(anton.page, 'note-filed');
    for (const student of [rosa, anton]) {
      await student.page.goto('/station/finish');
      if (student === rosa) await inspect(student.page, 'station-finish');
      await student.page.getByRole('button', { name: /^Leave Station/ }).click();
      await expect(student.page.getByText('You have left your station')).toBeVisible();
    }
    const roll = instructor.page.getByRole('region', { name: 'Roll call' });
    await expect(roll).toContainText('2 of 2 people');
    await expect(roll, 'nobody is home before the caustic is').toContainText('Still out: R-1');
    await inspect(instructor.page, 'floor-done');
  });

  await test.step('the manager takes the rest back by weight, counts the shelf and reviews the note', async () => {
    await manager.page.goto('/studio/cabinet');
    await manager.page.getByRole('link', { name: new RegExp(`^Take back.*${CLASS}`) }).click();
    await manager.page.getByLabel(/^Mass that comes back/).fill('70');
    await manager.page.locator('[name=scaleStep]').fill('1');
    await manager.press(/^Check before recording/);
    await manager.press(/^Record 70\sg taken back into R-1, 230\sg used/);
    await manager.expectHeading(/^Taken back from/);
    await manager.page.goto('/studio/cabinet/count');
    await expect(manager.page.getByText(/770\sg/), 'a count is blind').toHaveCount(0);
    await manager.page.locator('[name=scaleStep]').fill('1');
    await manager.page.getByRole('textbox', { name: /^R-1: weight with lid/ }).fill('880');
    await inspect(manager.page, 'count');
    await manager.press(/^Record this count/);
    await expect(manager.page.getByText('Weighed once: 880')).toBeVisible();
    await expect(manager.page.getByText(/770\sg/), 'still blind').toHaveCount(0);
    await inspect(manager.page, 'count-again');
    await manager.page.getByRole('textbox', { name: /^R-1: weight with lid/ }).fill('880');
    await manager.press(/^Record this count/);
    const sodium = manager.page.getByRole('region', { name: 'Sodium hydroxide' });
    await expect(sodium).toContainText(/770\sg/);
    await expect(sodium).toContainText(/730\sg/);
    await expect(sodium).toContainText(/40\sg ± [\d.]+\sg/);
    await expect(sodium).toContainText('Does not agree');
    await inspect(manager.page, 'count-result');
    await manager.page.goto('/studio/cabinet/ledger');
    await expect(manager.page.locator('tbody').getByText(CLASS).first()).toBeVisible();
    await inspect(manager.page, 'ledger');
    await manager.page.goto('/studio/notes');
    await manager.page
      .getByRole('link', { name: /N-\w{4}/ })
      .first()
      .click();
    await expect(manager.page.getByText('The lid was screwed on crooked and slipped.')).toBeVisible();
    await manager.page.getByLabel(/^What was learned/).fill('Lids with a worn thread look closed.');
    await manager.press(/^Record the review/);
    await expect(manager.page.getByText('Lids with a worn thread look closed.')).toBeVisible();
    await inspect(manager.page, 'note-reviewed');
    for (const [path, name] of [
      ['cabinet/counts', 'counts'],
      ['cabinet/jars', 'jars'],
      ['people', 'people'],
      ['audit', 'audit'],
      ['stations', 'stations'],
      ['notes/new', 'note-new'],
    ] as const) {
      await manager.page.goto(`/studio/${path}`);
      await inspect(manager.page, name);
    }
  });

  expect([desk, cabinet, phone, tablet].flatMap(({ faults }) => faults)).toEqual([]);
});
