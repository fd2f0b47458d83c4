import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import pg from 'pg';
import { newId } from '../../apps/api/src/ids.ts';
import { auditClass } from '../../apps/api/src/testing/station-audit.ts';
import { happeningsOf } from '../../apps/api/src/testing/station-history.ts';
import { ownService } from '../../infra/testing/own-service.ts';
import { ClassOfEight } from './people/class-of-eight.ts';
import { CHECKS, judge } from './people/class-record.ts';
import { FloorDesk } from './people/floor-desk.ts';
import { Instructor } from './people/instructor.ts';
import { unfound } from './people/planted-faults.ts';
import { ScriptedSeat } from './people/scripted-seat.ts';
import { Student } from './people/student.ts';
import { PHONE, signIn, TABLET, visitor } from './people/visit.ts';

let database: pg.Client;
test.beforeAll(async () => {
  database = new pg.Client({ connectionString: ownService()!.databaseUrl });
  await database.connect();
});
test.afterAll(() => database.end());

const one = async (sql: string, values: unknown[]): Promise<number> => Number((await database.query<{ n: string }>(sql, values)).rows[0]!.n);

/** The studio's time limit for gear: no page sets it. Counts from the next countersignature on. */
const limitGear = (classId: string, minutes: number) =>
  database.query('UPDATE studio SET gear_minutes = $2 WHERE id = (SELECT studio_id FROM class WHERE id = $1)', [classId, minutes]);
const MINUTES = 120;

const stopped = (page: Page) => page.getByRole('heading', { name: 'The room is stopped' });
const shut = (page: Page) => page.getByRole('heading', { name: /^Gear before/ });
const finished = (view: { currentStepNo: number | null }) => view.currentStepNo === null;

test('eight stations, fourteen students at once: a swap, a break, a stray weighing, a lapse, a replaced card and a stop, as the tables tell it afterwards', async ({
  browser,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const held = await ClassOfEight.prepare(baseURL!);
  const code = (station: number) => held.stations[station - 1]!.joinCode;
  const visit = async (viewport: typeof PHONE) => visitor(browser, viewport);
  const browsers = [await visit(TABLET), await visit(PHONE), await visit(PHONE), await visit(TABLET), await visit(PHONE), await visit(PHONE)];
  const pages = browsers.map(({ page }) => page) as [Page, Page, Page, Page, Page, Page];
  const desk = new FloorDesk(new Instructor(pages[0]), held.classId);
  // Two at each of six stations, one at each of two: five with real pages, the others by script, one of them of the staff.
  const mira = new Student(pages[1], 'Mira');
  const joss = new Student(pages[2], 'Joss');
  const dita = new Student(pages[3], 'Dita');
  const nell = new Student(pages[4], 'Nell');
  const edo = new Student(pages[5], 'Edo');
  await Promise.all([
    signIn(desk.page, 'instructor').then(() => desk.open()),
    ...(
      [
        [mira, 1],
        [joss, 2],
        [dita, 4],
        [nell, 5],
        [edo, 6],
      ] as const
    ).map(([student, station]) => student.join(code(station))),
  ]);
  const seat = (station: number, name: string) => ScriptedSeat.join(baseURL!, code(station), name);
  const [three, five, seven] = [await seat(3, 'Lead 3'), await seat(5, 'Lead 5'), await seat(7, 'Lead 7')];
  const eight = await ScriptedSeat.joinAsOwner(baseURL!, code(8));
  const [ofMira, ofJoss, ofThree, ofDita, ofEdo] = (await Promise.all([1, 2, 3, 4, 6].map((n) => seat(n, `Partner ${n}`)))) as [
    ScriptedSeat,
    ScriptedSeat,
    ScriptedSeat,
    ScriptedSeat,
    ScriptedSeat,
  ];
  const { card } = await three.view();
  const lye = card.content.steps.find((step) => step.caustic)!.no;
  const atLye = (view: { currentStepNo: number | null }) => (view.currentStepNo ?? 99) >= lye;
  const beyondLye = (view: { currentStepNo: number | null }) => (view.currentStepNo ?? 99) > lye;
  let signedAt = 0;

  await test.step('Mira’s sign-off is one for a minute', async () => {
    // Item by item on the page when she comes back to it; here it is only to be quick.
    for (const { key } of card.content.gear)
      await mira.page.request.post('/api/gear/confirm', { data: { id: newId(), itemKey: key }, headers: { 'idempotency-key': newId() } });
    await limitGear(held.classId, 1);
    await desk.countersign('Mira');
    signedAt = Date.now();
    await limitGear(held.classId, MINUTES);
  });
  // Signed off on the floor page, by hand; the others as the instructor walks by.
  const walking = held.walk(new Set(['Mira', 'Joss', 'Nell']));

  const scenes = {
    'two at a station, one weighs on a phone, the other reads second': async () => {
      await ofMira.dress();
      await mira.workToCaustic();
      await mira.weighCaustic((amountG) => ofMira.readSecond(amountG));
      await mira.next();
    },
    'gear on, and signed off on the floor page': async () => {
      await Promise.all([ofJoss.work(atLye), joss.dress()]);
      await desk.countersign('Joss');
    },
    'too much oil in the pot: the card changes when the instructor approves; a cup weighed wrong is weighed again': async () => {
      await dita.openStep();
      await dita.next();
      await dita.record(String(Number(await dita.targetG()) + 14));
      await dita.page.getByRole('link', { name: 'It cannot come out again' }).click();
      await expect(dita.page.getByRole('heading', { name: 'Wait, and call your instructor' })).toBeVisible();
      await desk.approveChange(held.stations[3]!.name);
      await expect(dita.page.getByRole('button', { name: 'Next step' }), 'the page goes on by itself').toBeVisible();
      await dita.next();
      await dita.record('1');
      await expect(dita.page.getByRole('status').getByText(/Too little/)).toBeVisible();
      await dita.record(await dita.targetG());
      await dita.next();
      await Promise.all([dita.dress(), ofDita.work(atLye)]);
      await expect(dita.page.getByRole('heading', { name: 'Your gear is signed off' })).toBeVisible();
      await dita.weighCaustic((amountG) => ofDita.readSecond(amountG));
    },
    'a break in the middle: the neighbour’s caustic steps are shut too until everybody is looked at again': async () => {
      await Promise.all([nell.dress().then(() => desk.countersign('Nell')), five.work(beyondLye)]);
      await nell.takeBreak();
      expect(await five.refusal()).toBe('gear-not-signed');
      expect((await five.view()).gate).toMatchObject({ open: false, waitingFor: ['Nell'] });
      await nell.openStep();
      await expect(shut(nell.page)).toBeVisible();
      await nell.dress();
      await desk.countersign('Nell');
      await nell.openStep();
      await expect(shut(nell.page)).toHaveCount(0);
    },
    'a card is replaced under a student’s hands: the old one takes nothing any more, and the page says so': async () => {
      await Promise.all([edo.dress(), ofEdo.work(atLye)]);
      await expect(edo.page.getByRole('heading', { name: 'Your gear is signed off' })).toBeVisible();
      await edo.weighCaustic((amountG) => desk.readSecond(held.stations[5]!.name, amountG));
      const old = await ofEdo.view();
      await desk.reissue(held.stations[5]!, '900');
      await expect(edo.page.getByText(/^Your station has a new card/)).toBeVisible();
      const act = (path: string, data: object) => ofEdo.post(`/api/cards/${old.card.id}/${path}`, data);
      const reading = { id: newId(), stepNo: lye, entered: '1', supersedesId: old.readings.at(-1)!.id };
      for (const refused of [await act(`steps/${lye}/done`, {}), await act('readings', reading)])
        expect((await refused.json()) as object).toMatchObject({ code: 'card-voided' });
      expect((await ofEdo.view()).card).toMatchObject({ number: old.card.number, issue: 2 });
      await Promise.all([edo.dress(), ofEdo.work(atLye)]);
      await expect(edo.page.getByRole('heading', { name: 'Your gear is signed off' })).toBeVisible();
      await edo.weighCaustic((amountG) => ofEdo.readSecond(amountG));
    },
    'the owner takes a seat, and cannot sign for herself': async () => {
      await eight.work((view) => view.currentStepNo === lye - 1);
      const own = await eight.post(`/api/seats/${(await eight.view()).seat.id}/countersign`, { id: newId() });
      expect((await own.json()) as object).toMatchObject({ code: 'cannot-sign-own-gear' });
      await Promise.all([three.work(beyondLye), ofThree.work(beyondLye), seven.work(beyondLye), eight.work(beyondLye)]);
    },
  };
  await Promise.all(Object.entries(scenes).map(([name, play]) => test.step(name, play)));

  const stillAt = [ofMira, ofJoss, three, ofDita, five, ofEdo, seven, eight];
  let goingOn: Promise<unknown> = Promise.resolve();
  await test.step('Joss stops the room: every station refuses until an instructor clears it', async () => {
    await joss.page.getByText('Stop the room').first().click();
    await joss.page.getByRole('button', { name: 'Yes, stop everybody now' }).click();
    await expect(stopped(joss.page)).toBeVisible();
    // These go on working as if they had not heard, and wait.
    goingOn = Promise.all([three, ofThree, seven, eight].map((each) => each.work(finished)));
    for (const page of pages) await expect(stopped(page)).toBeVisible();
    for (const each of stillAt) expect(await each.refusal(), each.name).toBe('room-stopped');
    await expect.poll(() => [three, ofThree, seven, eight].every(({ refusals }) => refusals.includes('room-stopped'))).toBe(true);
    await desk.clear('A splash beside the tray, wiped up.');
    for (const page of pages) await expect(stopped(page)).toHaveCount(0);
  });

  await test.step('the stations go on at once: one in other hands, Mira’s after her minute has passed', async () => {
    const swap = async () => {
      await desk.signOut('Joss');
      const second = await seat(2, 'Second of 2');
      await Promise.all([second.work(finished), goingOn]);
      // Lead 7 is done at station 7, and helps there.
      await desk.move('Lead 7', held.stations[1]!.name);
      await second.leave();
    };
    const miraToEnd = async () => {
      await new Promise((resolve) => setTimeout(resolve, Math.max(0, signedAt + 60_500 - Date.now())));
      await mira.openStep();
      await expect(shut(mira.page)).toBeVisible();
      await mira.dress();
      await desk.countersign('Mira');
      await mira.openStep();
      await mira.doStep();
      await ofMira.work(finished);
      await mira.leave();
    };
    const toEnd = async (student: Student) => {
      await student.openStep();
      await student.next();
      await student.workToEnd();
      await student.leave();
    };
    await Promise.all([swap(), miraToEnd(), toEnd(dita), toEnd(edo), five.work(finished).then(() => nell.leave())]);
    for (const each of [...stillAt, ofThree]) await each.leave();
  });

  await test.step('the roll is called, the class is closed', async () => {
    held.goHome();
    await walking;
    await desk.close(held.title, 15);
    expect((await ofMira.post('/api/join', { id: newId(), code: code(1), name: 'Late' })).status()).toBe(409);
  });
  await judgeDay(held.classId);
  expect(browsers.flatMap(({ faults }) => faults)).toEqual([]);
});

/** What the tables hold of the day, and that each question put to them can be answered with a fault. */
async function judgeDay(classId: string): Promise<void> {
  const found = await judge(database, classId);
  expect(Object.entries(found).flatMap(([name, { faults }]) => (faults > 0 ? [`${faults} times ${name}`] : []))).toEqual([]);
  expect(Object.entries(found).flatMap(([name, { seen }]) => (seen === 0 ? [`nothing to see for: ${name}`] : []))).toEqual([]);
  process.stdout.write(
    `${Object.entries(found)
      .map(([name, { seen }]) => `  ${seen} looked at, none is ${name}`)
      .join('\n')}\n`,
  );
  const { names, missed } = await unfound(database, classId);
  expect(missed, 'planted faults that no check found').toEqual([]);
  expect([...names].sort()).toEqual(Object.keys(CHECKS).sort());

  const history = await happeningsOf(database, classId);
  expect(auditClass(history), 'nothing was done behind a shut gate, out of order, on a replaced card or in a stopped room').toEqual([]);
  // The same history with the countersignatures left out must be found wanting, or the line above says nothing.
  expect(auditClass(history.filter(({ what }) => what !== 'countersigned')).length).toBeGreaterThan(20);
  const times = (wanted: string) => history.filter(({ what }) => what === wanted).length;
  expect({ stopped: times('stopped'), cleared: times('cleared'), changed: times('changed'), issued: times('issued') }).toEqual({
    stopped: 1,
    cleared: 1,
    changed: 1,
    issued: 9,
  });
  expect(times('lapsed'), 'a break and a move').toBe(2);
  const id = [classId];
  expect(await one('SELECT count(*) AS n FROM seat WHERE class_id = $1', id)).toBe(15);
  expect(await one('SELECT count(*) AS n FROM jar WHERE class_id = $1', id), 'a labelled jar at each station').toBe(8);
  const CARDS = `weigh_card w ON w.class_id = $1 AND w.id = r.card_id`;
  expect(await one(`SELECT count(*) AS n FROM reading r JOIN ${CARDS} WHERE r.verdict <> 'within' AND r.supersedes_id IS NULL`, id)).toBe(2);
  expect(
    await one(`SELECT count(*) AS n FROM reading_check r JOIN reading o ON o.id = r.reading_id JOIN weigh_card w ON w.class_id = $1 AND w.id = o.card_id`, id),
  ).toBe(9);
  const SHORT = `SELECT count(*) AS n FROM gear_act r JOIN ${CARDS} WHERE r.kind = 'countersigned' AND r.valid_until < r.at + interval '2 minutes'`;
  expect(await one(SHORT, id), 'a sign-off for one minute').toBe(1);
}
