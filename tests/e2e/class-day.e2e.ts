import { expect, test } from '@playwright/test';
import pg from 'pg';
import { auditClass } from '../../apps/api/src/testing/station-audit.ts';
import { happeningsOf } from '../../apps/api/src/testing/station-history.ts';
import { ClassOfEight } from './people/class-of-eight.ts';
import { Instructor } from './people/instructor.ts';
import { ScriptedSeat } from './people/scripted-seat.ts';
import { Student } from './people/student.ts';
import { PHONE, signIn, TABLET, visitor } from './people/visit.ts';

let database: pg.Client;
test.beforeAll(async () => {
  database = new pg.Client({ connectionString: process.env.ASHWATER_TEST_OWNER_URL });
  await database.connect();
});
test.afterAll(() => database.end());

const one = async (sql: string, values: unknown[]): Promise<number> => Number((await database.query<{ n: string }>(sql, values)).rows[0]!.n);

test('eight stations, fourteen students at once: a swap, a break, a stray weighing, a lapse, a replaced card and a stop, as the tables tell it afterwards', async ({
  browser,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const held = await ClassOfEight.prepare(baseURL!);
  const code = (station: number) => held.stations[station - 1]!.joinCode;
  const stationName = (station: number) => held.stations[station - 1]!.name;
  const [desk, phone, breaker] = [await visitor(browser, TABLET), await visitor(browser, PHONE), await visitor(browser, PHONE)];
  const instructor = new Instructor(desk.page);
  await signIn(instructor.page, 'instructor');
  await instructor.page.goto(`/class/${held.classId}/floor`);

  // Two at each of six stations, one at each of two; Mira and Joss with real pages, the others by script.
  const mira = new Student(phone.page, 'Mira');
  const joss = new Student(breaker.page, 'Joss');
  await mira.join(code(1));
  await joss.join(code(2));
  const seat = (station: number, name: string) => ScriptedSeat.join(baseURL!, code(station), name);
  const leads = await Promise.all([3, 4, 5, 6, 7, 8].map((n) => seat(n, `Lead ${n}`)));
  const [, four, five, six] = leads as [ScriptedSeat, ScriptedSeat, ScriptedSeat, ScriptedSeat, ScriptedSeat, ScriptedSeat];
  const partners = await Promise.all([1, 2, 3, 4, 5, 6].map((n) => seat(n, `Partner ${n}`)));
  // Joss is signed off on the floor page, by hand; so is Mira.
  const walking = held.walk(new Set(['Mira', 'Joss']));

  const finished = (view: { currentStepNo: number | null }) => view.currentStepNo === null;
  const caustic = async (seat: ScriptedSeat) => {
    const { card } = await seat.view();
    return card.content.steps.find((step) => step.caustic)!.no;
  };
  const firstCaustic = await caustic(four);
  const working = Promise.all([
    // At station 3 both work at the card at once; the other partners are in the scenes below and only dress here.
    ...partners.map((partner, i) => (i === 2 ? partner.work(finished) : partner.dress())),
    leads[0]!.work(finished),
    // A stray weighing: 30 g of water too much, and the instructor decides.
    four.work(finished, { lineKey: 'water', offG: 30 }),
    leads[4]!.work(finished),
    leads[5]!.work(finished),
  ]);

  await test.step('a break in the middle: the neighbour’s caustic steps are shut too until everybody is looked at again', async () => {
    await five.work((view) => (view.currentStepNo ?? 99) > firstCaustic);
    await partners[4]!.takeBreak();
    const shut = await five.post(`/api/cards/${(await five.view()).card.id}/steps/${(await five.view()).currentStepNo}/done`, {});
    expect(shut.status()).toBe(409);
    await partners[4]!.dress();
    await five.work(finished);
  });

  await test.step('a card is replaced under a student’s hands: the old one takes nothing any more', async () => {
    await six.work((view) => (view.currentStepNo ?? 99) >= firstCaustic - 1);
    const old = await six.view();
    await held.reissue(stationName(6));
    const refused = await six.post(`/api/cards/${old.card.id}/steps/${old.currentStepNo}/done`, {});
    expect((await refused.json()) as object).toMatchObject({ code: 'card-voided' });
    expect((await six.view()).card).toMatchObject({ number: old.card.number, issue: 2 });
    await Promise.all([six.work(finished), partners[5]!.work(finished)]);
  });

  await test.step('Joss works on a phone up to the lye, stops the room, and an instructor clears it', async () => {
    await joss.openStep();
    while (!(await joss.page.getByRole('heading', { name: /^Gear before/ }).isVisible())) await joss.doStep();
    await joss.page.goto('/station');
    await joss.confirmAllGear();
    await instructor.countersign('Joss');
    await joss.page.getByText('Stop the room').first().click();
    await joss.page.getByRole('button', { name: 'Yes, stop everybody now' }).click();
    await expect(instructor.page.getByRole('heading', { name: 'The room is stopped' })).toBeVisible();
    const during = await leads[5]!.post(`/api/cards/${(await leads[5]!.view()).card.id}/steps/1/done`, {});
    expect(during.status()).toBe(409);
    await instructor.page.getByLabel('What was found and done').fill('A splash beside the tray, wiped up.');
    await instructor.page.getByRole('button', { name: /^Clear the room/ }).click();
    await expect(joss.page.getByRole('heading', { name: 'The room is stopped' })).toHaveCount(0);
  });

  await test.step('the wall shows all eight stations at once, without anything to scroll', async () => {
    for (const viewport of [
      { width: 1920, height: 1080 },
      { width: 1280, height: 720 },
    ]) {
      await desk.page.setViewportSize(viewport);
      await desk.page.goto(`/class/${held.classId}/floor/wall`);
      await expect(desk.page.locator('.wall li')).toHaveCount(8);
      await desk.page.screenshot({ path: `test-output/screens/class-day-wall-${viewport.width}.png` });
      for (const box of await desk.page.locator('.wall li').evaluateAll((items) => items.map((item) => item.getBoundingClientRect().toJSON() as DOMRect))) {
        expect(box.bottom).toBeLessThanOrEqual(viewport.height);
        expect(box.right).toBeLessThanOrEqual(viewport.width);
      }
      const cut = await desk.page.locator('.wall li').evaluateAll((items) => items.filter((item) => item.scrollHeight > item.clientHeight + 1).length);
      expect(cut, 'stations whose words are cut off').toBe(0);
    }
    await desk.page.setViewportSize(TABLET);
    await desk.page.goto(`/class/${held.classId}/floor`);
  });

  await test.step('a swap: Joss leaves, another comes, and the station goes on', async () => {
    await instructor.page.getByText('Move Joss, or sign out').click();
    await instructor.page.getByRole('button', { name: 'Joss has left' }).click();
    await expect(instructor.page.getByText('Signed out: Joss')).toBeVisible();
    const second = await seat(2, 'Second of 2');
    await second.work(finished);
  });

  await test.step('Mira works her whole card on a phone', async () => {
    await mira.openStep();
    while (!(await mira.page.getByRole('heading', { name: /^Gear before/ }).isVisible())) await mira.doStep();
    await mira.page.goto('/station');
    await mira.confirmAllGear();
    await instructor.countersign('Mira');
    // The last lid of her card is closed by her neighbour's script: that both may do it is part of the day.
    await mira.openStep();
    for (let n = 0; n < 3; n += 1) await mira.doStep();
    await partners[0]!.work(finished);
  });

  await working;
  await test.step('everybody is out, the roll is called, the class is closed', async () => {
    for (const station of (await held.floor()).stations)
      for (const each of station.seats) if (!each.signedOut) await held.post(`/api/seats/${each.id}/sign-out`);
    held.goHome();
    await walking;
    await held.post(`/api/classes/${held.classId}/close`);
  });

  const history = await happeningsOf(database, held.classId);
  expect(auditClass(history), 'nothing was done behind a shut gate, out of order, on a replaced card or in a stopped room').toEqual([]);
  // The same history with the countersignatures left out must be found wanting, or the line above says nothing.
  expect(auditClass(history.filter(({ what }) => what !== 'countersigned')).length).toBeGreaterThan(20);
  expect(history.filter(({ what }) => what === 'stopped')).toHaveLength(1);
  expect(history.filter(({ what }) => what === 'lapsed').length).toBeGreaterThanOrEqual(1);
  expect(history.filter(({ what }) => what === 'changed').length).toBeGreaterThanOrEqual(1);
  expect(history.filter(({ what }) => what === 'issued')).toHaveLength(9);
  const id = [held.classId];
  const CARDS = `(SELECT DISTINCT ON (class_station_id) * FROM weigh_card WHERE class_id = $1 ORDER BY class_station_id, issue DESC) w`;
  expect(await one('SELECT count(*) AS n FROM seat WHERE class_id = $1 AND signed_out_at IS NULL', id), 'still in the room').toBe(0);
  expect(await one('SELECT count(*) AS n FROM seat WHERE class_id = $1', id)).toBe(15);
  expect(await one('SELECT count(*) AS n FROM jar WHERE class_id = $1', id), 'a labelled jar at each station').toBe(8);
  expect(await one(`SELECT count(*) AS n FROM class WHERE id = $1 AND status = 'closed'`, id)).toBe(1);
  expect(await one(`SELECT count(*) AS n FROM reading r JOIN ${CARDS} ON w.id = r.card_id WHERE r.verdict <> 'within' AND r.supersedes_id IS NULL`, id)).toBe(
    1,
  );
  const unseen = `SELECT count(*) AS n FROM reading r JOIN weigh_card w ON w.id = r.card_id,
    jsonb_array_elements(w.content->'steps') AS step
    WHERE w.class_id = $1 AND (step->>'no')::int = r.step_no AND step->>'lineKey' = 'naoh' AND step->>'kind' = 'weigh' AND r.verdict = 'within'`;
  expect(await one(unseen, id), 'lye was weighed at each station').toBeGreaterThanOrEqual(8);
  expect(await one(`${unseen} AND NOT EXISTS (SELECT FROM reading_check k WHERE k.reading_id = r.id AND k.agrees)`, id), 'lye that one person alone read').toBe(
    0,
  );
  const [studio] = (await database.query<{ id: string }>('SELECT studio_id AS id FROM class WHERE id = $1', id)).rows;
  await database.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studio!.id]);
  expect((await database.query('SELECT * FROM ledger_faults()')).rows).toEqual([]);
  expect([desk, phone, breaker].flatMap(({ faults }) => faults)).toEqual([]);
});
