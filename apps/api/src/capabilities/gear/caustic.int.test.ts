import type { CardStep, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { check, done, finish, firstCaustic, goodEntry, label, read, stepsOf, workTo } from '../../testing/card-steps.ts';
import { classroom, confirm, countersign, dress, lapse, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom, SeatAt } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { expectRefused, rowCounts } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 8 });
});
afterAll(() => studio.close());
let taken = 0;
const nextBench = (): Bench => room.benches[taken++]!;

/** Every act that could count at a step: all three must be closed. */
async function expectClosed(seat: SeatAt, step: CardStep): Promise<void> {
  const before = await rowCounts(studio.admin);
  for (const send of [() => read(seat, step, goodEntry(step)), () => done(seat, step.no), () => label(seat)]) {
    const answer = await send();
    const { code } = answer.json<Problem>();
    // a jar is for the label step; before it the order stands in the way already
    const wanted = code === 'step-out-of-order' && step.kind !== 'label' ? 'step-out-of-order' : 'gear-not-signed';
    expect([answer.statusCode, code], `${step.title}: ${answer.body}`).toEqual([409, wanted]);
  }
  for (const send of [() => read(seat, step, goodEntry(step)), () => done(seat, step.no)])
    expect((await send()).json<Problem>(), step.title).toMatchObject({ code: 'gear-not-signed', status: 409 });
  expect(await rowCounts(studio.admin)).toEqual(before);
}

test('every caustic step is closed in every state of gear but one, and open in that one', { timeout: 60_000 }, async () => {
  const seat = await takeSeat(studio, nextBench(), 'Mira');
  await workTo(seat, firstCaustic(seat).no);
  const caustic = stepsOf(seat).filter((step) => step.caustic);
  expect(caustic.map((step) => step.kind)).toEqual(['weigh', 'do', 'temperature', 'label', 'clean']);
  for (const step of caustic) {
    await expectClosed(seat, step); // nothing confirmed, at first and after each lapse
    await dress(seat);
    await expectClosed(seat, step); // confirmed, and nobody countersigned
    await ok(countersign(studio.as.instructor, seat));
    await ok(lapse(studio.as.assistant, seat));
    await expectClosed(seat, step); // ended by staff
    await signOff(studio, seat);
    const second = await takeSeat(studio, seat.bench, 'Joss');
    await expectClosed(seat, step); // one of two not signed
    await expectClosed(second, step);
    await signOff(studio, second);
    clock.forward(120);
    await expectClosed(seat, step); // ended by time
    await signOff(studio, seat);
    await expectClosed(seat, step); // still one of two
    await ok(second.by.post('/api/seat/sign-out', {}));
    await finish(seat, step);
    await ok(lapse(studio.as.owner, seat));
  }
});

test('closed while nothing is confirmed, while items are missing, and while nobody countersigned', async () => {
  const seat = await takeSeat(studio, nextBench());
  const step = firstCaustic(seat);
  await workTo(seat, step.no);
  await expectClosed(seat, step);
  const { gear } = seat.bench.card.content;
  for (const item of gear.slice(1)) await ok(confirm(seat, item.key));
  expect((await countersign(studio.as.instructor, seat)).json<Problem>()).toMatchObject({
    code: 'gear-not-confirmed',
    detail: expect.stringContaining(gear[0]!.name),
  });
  await expectClosed(seat, step);
  await ok(confirm(seat, gear[0]!.key));
  await expectClosed(seat, step);
  await ok(countersign(studio.as.instructor, seat));
  expect((await read(seat, step, goodEntry(step))).statusCode).toBe(200);
});

test('closed for both while one of two at the station is not signed off, and names who is missing', async () => {
  const bench = nextBench();
  const [first, second] = [await takeSeat(studio, bench, 'Mira'), await takeSeat(studio, bench, 'Joss')];
  const step = firstCaustic(first);
  await workTo(first, step.no);
  await signOff(studio, first);
  await expectClosed(first, step);
  await dress(second);
  await expectClosed(second, step);
  expect((await done(first, step.no)).json<Problem>().detail).toContain('Joss');
  await ok(countersign(studio.as.manager, second));
  await finish(second, step);
  // a third person who sits down closes it again, and leaving opens it
  const third = await takeSeat(studio, bench, 'Tarek');
  await expectClosed(first, stepsOf(first)[step.no]!);
  await ok(third.by.post('/api/seat/sign-out', {}));
  await finish(first, stepsOf(first)[step.no]!);
});

test('closed from the very minute at which the sign-off’s time is over', async () => {
  const seat = await takeSeat(studio, nextBench());
  const step = firstCaustic(seat);
  await workTo(seat, step.no);
  await signOff(studio, seat);
  clock.forward(119);
  const { id } = await ok<{ id: string }>(read(seat, step, goodEntry(step)));
  await ok(check(seat, id, goodEntry(step)));
  clock.forward(1);
  await expectClosed(seat, step);
  expect((await countersign(studio.as.instructor, seat)).json<Problem>().code, 'what was seen two hours ago says nothing about now').toBe('gear-not-confirmed');
  await signOff(studio, seat);
  expect((await done(seat, step.no)).statusCode).toBe(200);
});

test('a sign-off made for an older card does not count for the one that replaced it, nor does the older card', async () => {
  const seat = await takeSeat(studio, nextBench());
  const step = firstCaustic(seat);
  await workTo(seat, step.no);
  await signOff(studio, seat);
  // No route issues a card anew yet; the row that one would write.
  const newCard = newId();
  await studio.admin.query(
    `INSERT INTO weigh_card SELECT studio_id, $1, class_id, class_station_id, recipe_version_id, number, issue + 1, content, issued_at, issued_by FROM weigh_card WHERE id = $2`,
    [newCard, seat.bench.card.id],
  );
  await expectRefused(studio.admin, () => read(seat, step, goodEntry(step)), { status: 409, code: 'card-voided' });
  const reissued = { ...seat, bench: { ...seat.bench, card: { ...seat.bench.card, id: newCard } } };
  await workTo(reissued, step.no);
  await expectClosed(reissued, step);
  await signOff(studio, reissued);
  expect((await read(reissued, step, goodEntry(step))).statusCode).toBe(200);
});

test('whoever signed out does nothing more, at a caustic step or before', async () => {
  const seat = await takeSeat(studio, nextBench());
  const step = firstCaustic(seat);
  await expectRefused(studio.admin, () => read(seat, step, '1'), { status: 409, code: 'step-out-of-order' });
  await workTo(seat, step.no);
  await signOff(studio, seat);
  await ok(seat.by.post('/api/seat/sign-out', {}));
  await expectRefused(studio.admin, () => read(seat, step, goodEntry(step)), { status: 409, code: 'seat-signed-out' });
  await expectRefused(studio.admin, () => done(seat, step.no), { status: 409, code: 'seat-signed-out' });
  await expectRefused(studio.admin, () => confirm(seat, 'goggles'), { status: 409, code: 'seat-signed-out' });
  await expectRefused(studio.admin, () => countersign(studio.as.instructor, seat), { status: 409, code: 'seat-signed-out' });
});
