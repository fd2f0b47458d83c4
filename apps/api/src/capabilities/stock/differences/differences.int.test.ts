import type { ClassDifferenceOut, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { changed, check, done, read, stepsOf, workTo } from '../../../testing/card-steps.ts';
import { classroom, ok, signOff, takeSeat } from '../../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../../testing/classroom.ts';
import { bringBack, handedOut } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
let seats: SeatAt[];
let targetG: number;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 2 });
  seats = [];
  for (const [index, bench] of room.benches.entries()) {
    const seat = await takeSeat(studio, bench, `Student ${index}`);
    await signOff(studio, seat);
    await workTo(seat, lyeOf(seat).no);
    seats.push(seat);
  }
  targetG = lyeOf(seats[0]!).targetMg! / 1000;
});
afterAll(() => studio.close());

const lyeOf = (seat: SeatAt) => stepsOf(seat).find((step) => step.kind === 'weigh' && step.lineKey === 'naoh')!;
const both = () => ok<{ open: ClassDifferenceOut[]; settled: ClassDifferenceOut[] }>(studio.as.manager.get(`/api/class-differences?classId=${room.classId}`));
const one = async () => {
  const { open, settled } = await both();
  return [...open, ...settled].find(({ substance }) => substance === 'NaOH')!;
};
const explain = (body: object) =>
  studio.as.manager.post(`/api/classes/${room.classId}/differences`, {
    id: newId(),
    substance: 'NaOH',
    kind: 'left in the vessel',
    remark: 'in the scoop',
    ...body,
  });
const refusal = (answer: Answer) => [answer.statusCode, answer.json<Problem>().code, answer.json<Problem>().errors?.[0]?.pointer];

test('from hand-out to explanation: still out, more left than was weighed, corrected readings once, a discarded batch too', async () => {
  expect(refusal(await explain({ mass: '1' }))[1], 'nothing was handed out').toBe('nothing-to-change');
  const outG = Math.ceil(2 * targetG) + 100;
  const checkOutId = await handedOut(studio.as.manager, room.containerIds[0]!, room.classId, String(outG));
  expect(await one()).toMatchObject({ verdict: 'still out', outMg: outG * 1000, leftMg: 0, weighedMg: 0 });
  expect(refusal(await explain({ mass: '1' }))[1], 'some of it is still out').toBe('container-out');

  const [first, second] = [seats[0]!, seats[1]!];
  const lye = lyeOf(first);
  // read wrong, corrected: only the correction counts
  const wrong = newId();
  await ok(read(first, lye, '1', { id: wrong }));
  const right = newId();
  await ok(read(first, lye, String(targetG), { id: right, supersedesId: wrong }));
  await ok(check(first, right, String(targetG)));
  await ok(done(first, lye.no));
  // far too much and in the pot: the batch is discarded, and its caustic is used all the same
  const muchG = Math.round(targetG * 1.5);
  await ok(read(second, lyeOf(second), String(muchG)));
  expect(await changed(studio.as.instructor, second, lyeOf(second).no)).toMatchObject({ act: expect.stringMatching(/discard|add|go on|new target/) });

  const weighedG = targetG + muchG;
  const missingG = 30;
  await ok(bringBack(studio.as.manager, checkOutId, String(outG - weighedG - missingG)));
  const found = await one();
  expect(found).toMatchObject({
    ...{ outMg: 0, leftMg: Math.round((weighedG + missingG) * 1000), weighedMg: Math.round(weighedG * 1000), cards: 2 },
    ...{ differenceMg: 30_000, openMg: 30_000, verdict: 'does not agree' },
  });
  // out and back on one scale of 1 g, and two bench scales: by hand between 1 g and 2 g
  expect(found.standardUncertaintyMg).toBeGreaterThan(400);
  expect(found.standardUncertaintyMg).toBeLessThan(2000);
  expect((await both()).open.map(({ classId }) => classId)).toEqual([room.classId]);
});

test('an explanation is kept, is never more than the difference, and settles it when it is enough', async () => {
  expect(refusal(await explain({ mass: '31' }))).toEqual([422, 'input-refused', '/mass']);
  expect(refusal(await explain({ mass: '0' }))).toEqual([422, 'input-refused', '/mass']);
  expect(refusal(await explain({ mass: '5', kind: 'spilled', remark: '' }))).toEqual([422, 'input-refused', '/remark']);
  expect(refusal(await explain({ mass: '5', substance: 'KOH' }))[1]).toBe('nothing-to-change');
  await ok(explain({ mass: '12' }));
  expect(await one()).toMatchObject({ verdict: 'does not agree', explainedMg: 12_000, openMg: 18_000 });
  // of eight at once that together are too much, one is taken
  const answers = await Promise.all(Array.from({ length: 8 }, (_, n) => explain({ mass: '18', kind: n % 2 === 0 ? 'spilled' : 'weighing' })));
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, ...Array.from({ length: 7 }, () => 422)]);
  expect(await one()).toMatchObject({ verdict: 'explained', explainedMg: 30_000, openMg: 0, explanations: [{ massMg: 12_000 }, { massMg: 18_000 }] });
  expect((await both()).open).toEqual([]);
  const answer = await studio.as.manager.post(`/api/classes/${newId()}/differences`, {
    id: newId(),
    substance: 'NaOH',
    kind: 'weighing',
    mass: '1',
    remark: '',
  });
  expect(answer.statusCode).toBe(404);
});

test('what a change adds is added; a line that is weighed whole once more counts from there on', async () => {
  const cardId = seats[0]!.bench.card.id;
  const before = (await one()).weighedMg;
  const step = (no: number, weighs: string) => ({ no, kind: 'weigh', lineKey: 'naoh', weighs });
  // Written straight into the tables: which changes a card gets is for the tests of weigh cards.
  const change = async (no: number, weighs: string, massMg: number) => {
    await studio.admin.query(
      `INSERT INTO card_change (studio_id, id, card_id, step_no, act, words, content, account_id, at) VALUES ($1, $2, $3, 3, 'add', 'more', $4, $5, now())`,
      [studio.studioId, newId(), cardId, JSON.stringify({ steps: [step(no, weighs)] }), studio.ids.instructor],
    );
    await studio.admin.query(
      `INSERT INTO reading (studio_id, id, card_id, step_no, seat_id, entered, mass_mg, verdict, off_by, advice, at) VALUES ($1, $2, $3, $4, $5, '', $6, 'within', 0, '', now())`,
      [studio.studioId, newId(), cardId, no, seats[0]!.id, massMg],
    );
  };
  await change(101, 'addition', 7000);
  expect((await one()).weighedMg).toBe(before + 7000);
  await change(102, 'again', 50_000);
  expect((await one()).weighedMg).toBe(before - Math.round(targetG * 1000) + 50_000);
  await change(103, 'addition', 2000);
  expect((await one()).weighedMg).toBe(before - Math.round(targetG * 1000) + 52_000);
});
