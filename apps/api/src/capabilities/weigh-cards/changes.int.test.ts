import type { CardStep, ProposalOut, StationView } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { approve, changed, done, finish, label, proposal, read, stepsOf, viewOf, workTo } from '../../testing/card-steps.ts';
import { classroom, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { expectRefused, rowCounts } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
let seat: SeatAt;
let taken = 0;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 12 });
});
afterAll(() => studio.close());
beforeEach(async () => {
  seat = await takeSeat(studio, room.benches[taken++]!);
});

const of = (lineKey: string): CardStep => stepsOf(seat).find((step) => step.lineKey === lineKey)!;
const grams = (massMg: number): string => String(massMg / 1000);
const now = (view: StationView): CardStep => view.card.content.steps.find((step) => step.no === view.currentStepNo)!;
/** Works through what is left of the card as it now stands. Returns the numbers of the steps in the order they were done. */
async function workOn(): Promise<number[]> {
  const order: number[] = [];
  for (let view = await viewOf(seat); view.currentStepNo !== null; view = await viewOf(seat)) {
    const step = now(view);
    const there = view.readings.find((reading) => reading.stepNo === step.no && !reading.superseded);
    if (there?.verdict === 'within') await ok(done(seat, step.no));
    else await finish(seat, step);
    order.push(step.no);
  }
  return order;
}
async function strayAt(step: CardStep, massMg: number, gear = step.caustic): Promise<void> {
  await workTo(seat, step.no);
  if (gear) await signOff(studio, seat);
  await ok(read(seat, step, grams(massMg)));
}

test('too much fat: the lye gets a new target, the fat counts as it is, and the card is finished', async () => {
  const fat = of('fat:olive');
  await strayAt(fat, fat.targetMg! + 60_000);
  await expectRefused(studio.admin, () => done(seat, fat.no), { status: 409, code: 'reading-off-target' });
  const before = await rowCounts(studio.admin);
  const said = await ok<ProposalOut>(proposal(seat.by, seat, fat.no));
  expect(await rowCounts(studio.admin), 'asking writes nothing').toEqual(before);
  expect(said.act).toBe('new target');
  // Stoichiometry, by hand: the same superfat needs alkali in proportion to the fat; the target is a whole gram at or below it.
  const lye = of('naoh');
  const exact = (lye.targetMg! + 1000) * (1 + 60_000 / fat.targetMg!);
  const target = said.lines.find((line) => line.key === 'naoh')!.targetMg;
  expect(target).toBeGreaterThan(lye.targetMg!);
  expect(target).toBeLessThanOrEqual(exact);
  expect(target % 1000).toBe(0);
  expect(said.superfatBandPercent.low).toBeGreaterThanOrEqual(0.5);

  const change = await changed(studio.as.instructor, seat, fat.no);
  const view = await viewOf(seat);
  expect(view.card.changes).toEqual([change]);
  expect(view.card.content.steps.find((step) => step.lineKey === 'naoh')).toMatchObject({ targetMg: target, acceptHighMg: target });
  await signOff(studio, seat);
  await workOn();
  expect((await viewOf(seat)).currentStepNo).toBeNull();
  // What was planned stays on record: the issued card is as it was.
  const { rows } = await studio.admin.query<{ target: number }>(
    `SELECT (s->>'targetMg')::int AS target FROM weigh_card, jsonb_array_elements(content->'steps') s WHERE id = $1 AND s->>'lineKey' = 'naoh'`,
    [seat.bench.card.id],
  );
  expect(rows).toEqual([{ target: lye.targetMg }]);
});

test('the old lye target no longer counts once the card was changed', async () => {
  const fat = of('fat:olive');
  await strayAt(fat, fat.targetMg! + 200_000);
  await changed(studio.as.instructor, seat, fat.no);
  await ok(done(seat, fat.no));
  await signOff(studio, seat);
  for (let view = await viewOf(seat); now(view).lineKey !== 'naoh'; view = await viewOf(seat)) await finish(seat, now(view));
  const old = await ok<{ verdict: string; advice: string }>(read(seat, of('naoh'), grams(of('naoh').targetMg!)));
  expect(old.verdict).toBe('under');
});

test('too much lye in the pot: fat is added by a step of its own, then the card is finished', async () => {
  const lye = of('naoh');
  await strayAt(lye, lye.targetMg! + 8000);
  const said = await ok<ProposalOut>(proposal(studio.as.instructor, seat, lye.no));
  expect(said.act).toBe('add');
  expect(said.superfatBandPercent.low).toBeGreaterThanOrEqual(0.5);
  await changed(studio.as.instructor, seat, lye.no);
  const view = await viewOf(seat);
  const at = view.card.content.steps.findIndex((step) => step.no === lye.no);
  const added = view.card.content.steps[at + 1]!;
  expect(added).toMatchObject({ no: 101, kind: 'weigh', lineKey: 'fat:olive', weighs: 'addition' });
  // 8 g of NaOH saponify at least 8 / 0.1351 = 59 g of olive oil (Codex CXS 33: SV up to 196, 196 x 39.997 / 56.106 / 1000 = 0.1397);
  // what the first addition may leave out is the margin between the card's low end and the floor.
  expect(added.targetMg).toBeGreaterThan(0);
  expect(added.targetMg).toBeLessThanOrEqual(8000 / 0.12);
  const order = await workOn();
  expect(order.slice(0, 2)).toEqual([lye.no, 101]);
  const jar = (await viewOf(seat)).jar!;
  expect(jar.concentrationPercent, 'the label says what is really in the jar').toBeGreaterThan(seat.bench.card.content.lyeConcentrationPercent);
});

test('too little of the added fat does not pass, and a second stray reading is worked out from all that stands', async () => {
  const lye = of('naoh');
  await strayAt(lye, lye.targetMg! + 8000);
  await changed(studio.as.instructor, seat, lye.no);
  await ok(done(seat, lye.no));
  const added = now(await viewOf(seat));
  const short = await ok<{ id: string; verdict: string }>(read(seat, added, grams(added.targetMg! - 1000)));
  expect(short.verdict).toBe('under');
  await expectRefused(studio.admin, () => done(seat, added.no), { status: 409, code: 'reading-off-target' });
  const over = await ok<{ id: string; verdict: string }>(read(seat, added, grams(added.acceptHighMg! + 5000), { supersedesId: short.id }));
  expect(over.verdict).toBe('over');
  const second = await changed(studio.as.owner, seat, added.no);
  expect(second.act).toBe('go on');
  expect((await workOn())[0]).toBe(101);
});

test('lye over in its cup is asked out of it again; nothing is taken as it is', async () => {
  const lye = of('naoh');
  await strayAt(lye, lye.targetMg! + 8000);
  const said = await ok<ProposalOut>(proposal(studio.as.instructor, seat, lye.no, false));
  expect(said.act).toBe('take out');
  await ok(approve(studio.as.instructor, seat, said));
  await expectRefused(studio.admin, () => done(seat, lye.no), { status: 409, code: 'reading-off-target' });
});

test('beyond rescue: the batch is discarded, no caustic is weighed any more, and clean-up is what is left', async () => {
  const lye = of('naoh');
  await strayAt(lye, lye.targetMg! * 3);
  const change = await changed(studio.as.instructor, seat, lye.no);
  expect(change).toMatchObject({ act: 'discard' });
  const view = await viewOf(seat);
  const left = view.card.content.steps.filter((step) => !view.done.some((each) => each.stepNo === step.no));
  expect(left.map((step) => step.kind)).toEqual(['do', 'clean']);
  expect(left[0]).toMatchObject({ no: 101, caustic: true });
  expect(left[0]!.instruction).toMatch(/discard this batch as caustic waste/);
  await expectRefused(studio.admin, () => read(seat, lye, grams(lye.targetMg!)), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => label(seat), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => approve(studio.as.instructor, seat, { stepNo: lye.no, mixed: true, act: 'discard', basis: [] }), {
    status: 409,
    code: 'step-out-of-order',
  });
  expect(await workOn()).toEqual([101, stepsOf(seat).at(-1)!.no]);
});

test('a change opens no caustic step: lye that is short in the pot is taken as it is, and the gear gate holds as before', async () => {
  const lye = of('naoh');
  await strayAt(lye, lye.targetMg! - 20_000);
  const change = await changed(studio.as.instructor, seat, lye.no);
  expect(change.act).toBe('go on');
  const lapse = () => ok(studio.as.assistant.post(`/api/seats/${seat.id}/lapse`, { id: newId(), reason: 'torn glove' }));
  await lapse();
  expect((await viewOf(seat)).readings.at(-1)).toMatchObject({ verdict: 'within' });
  await expectRefused(studio.admin, () => done(seat, lye.no), { status: 409, code: 'gear-not-signed' });
  await signOff(studio, seat);
  await ok(done(seat, lye.no));
  await lapse();
  await expectRefused(studio.admin, () => done(seat, lye.no + 1), { status: 409, code: 'gear-not-signed' });
  await signOff(studio, seat);
  await workOn();
});

test('approved twice, from readings of before, by whom it is not for, or with nothing off: refused, and nothing is written', async () => {
  const fat = of('fat:olive');
  await workTo(seat, fat.no);
  const say = { status: 409, code: 'nothing-to-change' };
  await expectRefused(studio.admin, () => proposal(seat.by, seat, fat.no), { ...say, says: /Enter what the scale shows/ });
  const first = await ok<{ id: string }>(read(seat, fat, grams(fat.targetMg! + 60_000)));
  const said = await ok<ProposalOut>(proposal(studio.as.instructor, seat, fat.no));
  for (const by of [studio.as.manager, studio.as.assistant])
    await expectRefused(studio.admin, () => approve(by, seat, said), { status: 403, code: 'not-allowed' });
  await expectRefused(studio.admin, () => approve(seat.by, seat, said), { status: 401, code: 'sign-in-needed' });
  await expectRefused(studio.admin, () => approve(studio.as.instructor, seat, { ...said, act: 'go on' }), { status: 409, code: 'reading-superseded' });
  await ok(read(seat, fat, grams(fat.targetMg! + 70_000), { supersedesId: first.id }));
  await expectRefused(studio.admin, () => approve(studio.as.instructor, seat, said), { status: 409, code: 'reading-superseded' });

  const fresh = await ok<ProposalOut>(proposal(studio.as.instructor, seat, fat.no));
  const [key, body] = [newId(), { id: newId(), stepNo: fat.no, mixed: true, act: fresh.act, basis: fresh.basis }];
  const send = () => studio.as.instructor.post(`/api/cards/${seat.bench.card.id}/changes`, body, key);
  const both = await Promise.all([send(), send(), send()]);
  expect(both.map((answer) => answer.statusCode)).toEqual([200, 200, 200]);
  expect((await studio.admin.query('SELECT 1 FROM card_change WHERE card_id = $1', [seat.bench.card.id])).rowCount).toBe(1);
  await expectRefused(studio.admin, () => approve(studio.as.owner, seat, fresh), { ...say, says: /within its range/ });
  await ok(done(seat, fat.no));
  await expectRefused(studio.admin, () => approve(studio.as.owner, seat, fresh), { status: 409, code: 'step-out-of-order' });
});

test('in a stopped room nothing is approved', async () => {
  const fat = of('fat:olive');
  await strayAt(fat, fat.targetMg! + 60_000);
  const said = await ok<ProposalOut>(proposal(studio.as.instructor, seat, fat.no));
  await ok(studio.as.instructor.post(`/api/classes/${room.classId}/stop`, { id: newId(), reason: 'spill' }));
  await expectRefused(studio.admin, () => approve(studio.as.instructor, seat, said), { status: 409, code: 'room-stopped' });
  await ok(studio.as.instructor.post(`/api/classes/${room.classId}/clear`, { id: newId(), reason: 'wiped' }));
});

test('a seat asks only about its own station, and what a card was worked out from is shown to nobody', async () => {
  const fat = of('fat:olive');
  await strayAt(fat, fat.targetMg! + 60_000);
  const other = await takeSeat(studio, room.benches[0]!);
  await expectRefused(studio.admin, () => proposal(other.by, seat, fat.no), { status: 404, code: 'not-found' });
  for (const answer of [await seat.by.get('/api/station'), await studio.as.owner.get(`/api/cards/${seat.bench.card.id}`)])
    expect(answer.body).not.toContain('"basis"');
});
