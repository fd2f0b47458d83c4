import type { CardStep, CheckOutcome, ProposalOut, ReadingOut } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { approve, check, done, firstCaustic, proposal, read, viewOf, workTo } from '../../testing/card-steps.ts';
import { classroom, lapse, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Caller, TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
let taken = 0;
let mira: SeatAt;
let joss: SeatAt;
let lye: CardStep;
let first: ReadingOut;
const grams = (massMg: number): string => String(massMg / 1000);
const staffCheck = (by: Caller, readingId: string, entered: string, key?: string) =>
  by.post(`/api/readings/${readingId}/staff-check`, { id: newId(), entered }, key);
const NEEDED = { status: 409, code: 'second-reading-needed' };
const OWN = { status: 403, code: 'cannot-check-own-reading' };

beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 14 });
});
afterAll(() => studio.close());
beforeEach(async () => {
  const bench = room.benches[taken++]!;
  [mira, joss] = [await takeSeat(studio, bench, 'Mira'), await takeSeat(studio, bench, 'Joss')];
  lye = firstCaustic(mira);
  await workTo(mira, lye.no);
  for (const seat of [mira, joss]) await signOff(studio, seat);
  first = await ok<ReadingOut>(read(mira, lye, grams(lye.targetMg!)));
});

test('the lye cannot be finished before a second person has read the scale, whoever asks', async () => {
  expect(first).toMatchObject({ verdict: 'within', second: 'needed', check: null });
  for (const seat of [mira, joss]) await expectRefused(studio.admin, () => done(seat, lye.no), { ...NEEDED, says: /Somebody else/ });
  const told = await ok<CheckOutcome>(check(joss, first.id, grams(lye.targetMg!), ''));
  expect(told).toMatchObject({ agrees: true, byName: 'Joss', targetMg: lye.targetMg, first: { massMg: lye.targetMg, byName: 'Mira' } });
  await ok(done(mira, lye.no));
  expect((await viewOf(joss)).readings.at(-1)).toMatchObject({ second: 'agrees', check: { byName: 'Joss', agrees: true } });
});

test('one step of the scale apart agrees, two do not', async () => {
  expect((await ok<CheckOutcome>(check(joss, first.id, grams(lye.targetMg! + 2000)))).agrees).toBe(false);
  await expectRefused(studio.admin, () => done(mira, lye.no), { ...NEEDED, says: /do not agree/ });
  await expectRefused(studio.admin, () => check(joss, first.id, grams(lye.targetMg!)), { status: 409, code: 'already-exists' });
  const again = await ok<ReadingOut>(read(joss, lye, grams(lye.targetMg!), { supersedesId: first.id }));
  await expectRefused(studio.admin, () => done(mira, lye.no), { ...NEEDED, says: /Somebody else/ });
  await expectRefused(studio.admin, () => check(mira, first.id, grams(lye.targetMg!)), { status: 409, code: 'reading-superseded' });
  expect((await ok<CheckOutcome>(check(mira, again.id, grams(lye.targetMg! + 1000), ''))).agrees).toBe(true);
  await ok(done(joss, lye.no));
});

test('never the first person: not their seat without another name, not their name on any device', async () => {
  const entered = grams(lye.targetMg!);
  await expectRefused(studio.admin, () => check(mira, first.id, entered, ''), { ...OWN, pointer: '/byName' });
  for (const typed of ['Mira', ' MIRA ']) for (const seat of [mira, joss]) await expectRefused(studio.admin, () => check(seat, first.id, entered, typed), OWN);
  await ok(check(mira, first.id, entered, '  Bea '));
  const kept = await studio.admin.query('SELECT by_name, seat_id, account_id, entered, agrees FROM reading_check WHERE reading_id = $1', [first.id]);
  expect(kept.rows).toEqual([{ by_name: 'Bea', seat_id: mira.id, account_id: null, entered, agrees: true }]);
});

test('staff read from the floor, unless the weigher’s seat is their own', async () => {
  const bench = room.benches[taken++]!;
  const own = await takeSeat(studio, bench, 'The instructor', studio.as.instructor.cookie);
  await workTo(own, lye.no);
  await signOff({ ...studio, as: { ...studio.as, instructor: studio.as.owner } }, own);
  const reading = await ok<ReadingOut>(read(own, lye, grams(lye.targetMg!)));
  await expectRefused(studio.admin, () => staffCheck(studio.as.instructor, reading.id, '141'), OWN);
  expect(await ok(staffCheck(studio.as.assistant, reading.id, grams(lye.targetMg!)))).toMatchObject({ agrees: true });
  await ok(done(own, lye.no));
});

test('the floor tells who waits for a second reading and keeps the number to itself until it is in', async () => {
  const station = async () => {
    const floor = await ok<{ stations: { id: string; lastReading: { text: string }; secondReading: { readingId: string; byName: string } | null }[] }>(
      studio.as.instructor.get(`/api/classes/${room.classId}/floor`),
    );
    return floor.stations.find((each) => each.id === mira.bench.classStationId)!;
  };
  const before = await station();
  expect(before.secondReading).toMatchObject({ readingId: first.id, byName: 'Mira' });
  expect(before.lastReading.text).not.toMatch(/\d/);
  await ok(staffCheck(studio.as.instructor, first.id, grams(lye.targetMg!)));
  const after = await station();
  expect(after.secondReading).toBeNull();
  expect(after.lastReading.text.replaceAll(/\s/g, '')).toContain(`${grams(lye.targetMg!)}g`);
});

test('refused where nothing is to check, from elsewhere, and while the gate is shut or the room stopped; sent twice it is there once', async () => {
  const entered = grams(lye.targetMg!);
  const stranger = await takeSeat(studio, room.benches[taken++]!, 'Tarek');
  await expectRefused(studio.admin, () => check(stranger, first.id, entered), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => check(joss, newId(), entered), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => check(joss, first.id, '1,234'), { status: 422, code: 'input-refused', pointer: '/entered' });
  await ok(lapse(studio.as.assistant, joss));
  await expectRefused(studio.admin, () => check(joss, first.id, entered), { status: 409, code: 'gear-not-signed' });
  await signOff(studio, joss);
  const key = newId();
  const body = { id: newId(), entered, byName: 'Bea' };
  const answers = [await joss.by.post(`/api/readings/${first.id}/check`, body, key), await joss.by.post(`/api/readings/${first.id}/check`, body, key)];
  expect(answers[1]!.json()).toEqual(answers[0]!.json());
  expect((await studio.admin.query('SELECT 1 FROM reading_check WHERE reading_id = $1', [first.id])).rowCount).toBe(1);
});

test('water needs no second reading, nor does lye that is off target; lye taken as it is by a change cannot be read again', async () => {
  const water = mira.bench.card.content.steps.find((step) => step.lineKey === 'water')!;
  const early = (await viewOf(mira)).readings.find((reading) => reading.stepNo === water.no)!;
  expect(early.second).toBe('not needed');
  const over = await ok<ReadingOut>(read(mira, lye, grams(lye.targetMg! + 8000), { supersedesId: first.id }));
  expect(over.second).toBe('not needed');
  await expectRefused(studio.admin, () => check(joss, over.id, '150'), { status: 422, code: 'input-refused' });
  await ok(approve(studio.as.instructor, mira, await ok<ProposalOut>(proposal(studio.as.instructor, mira, lye.no))));
  await ok(done(mira, lye.no));
});
