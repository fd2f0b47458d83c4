import type { ReadingOut } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { done, finish, goodEntry, label, read, stepsOf, workTo } from '../../testing/card-steps.ts';
import { classroom, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
let seat: SeatAt;
let taken = 0;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 9 });
});
afterAll(() => studio.close());
beforeEach(async () => {
  seat = await takeSeat(studio, room.benches[taken++]!);
});
const input = { status: 422, code: 'input-refused' };
const step = (kind: string) => stepsOf(seat).find((each) => each.kind === kind)!;

test('a mass that cannot be read for sure is refused in its own words', async () => {
  await ok(done(seat, 1));
  const bad: [string, RegExp][] = [
    ['1,234', /1234 or 1\.234/],
    ['', /blank/],
    ['   ', /blank/],
    ['-5', /negative/],
    ['1e3', /not a number/],
    ['1.2.3', /more than one decimal/],
    ['12 stone', /not a number/],
    ['0x10', /not a number/],
    ['NaN', /not a number/],
    ['Infinity', /not a number/],
    ['٣', /not a number/],
    ['767.0001', /finer than one milligram/],
    ['2000000', /tonne/],
    ['-0', /negative/],
  ];
  for (const [entered, says] of bad) await expectRefused(studio.admin, () => read(seat, step('weigh'), entered), { ...input, pointer: '/entered', says });
  await expectRefused(studio.admin, () => read(seat, step('weigh'), '9'.repeat(41)), { ...input, pointer: '/entered' });
});

test('a mass that can be read is stored as typed and as whole milligrams', async () => {
  await ok(done(seat, 1));
  const grams = (step('weigh').targetMg ?? 0) / 1000;
  let supersedesId: string | null = null;
  for (const [entered, massMg] of [
    [`${grams},5`, grams * 1000 + 500],
    [`${grams} g`, grams * 1000],
    ['0.7 kg', 700_000],
    ['0', 0],
  ] as const) {
    const answer: ReadingOut = await ok<ReadingOut>(read(seat, step('weigh'), entered, { supersedesId }));
    expect(answer).toMatchObject({ entered, massMg, superseded: false });
    supersedesId = answer.id;
  }
});

test('a step out of its order, done already, or not on the card is refused', async () => {
  const order = { status: 409, code: 'step-out-of-order' };
  await expectRefused(studio.admin, () => done(seat, 2), { ...order, says: /Step 1 comes first/ });
  await expectRefused(studio.admin, () => read(seat, stepsOf(seat)[1]!, '767'), order);
  await expectRefused(studio.admin, () => label(seat), order);
  await ok(done(seat, 1));
  await expectRefused(studio.admin, () => done(seat, 1), { ...order, says: /done already/ });
  await finish(seat, stepsOf(seat)[1]!);
  await expectRefused(studio.admin, () => read(seat, stepsOf(seat)[1]!, goodEntry(stepsOf(seat)[1]!)), { ...order, says: /Step 2 is done already/ });
  await expectRefused(studio.admin, () => done(seat, 99), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => done(seat, 0), { status: 400, code: 'request-malformed' });
});

test('a step counts as done only with a reading within its range', async () => {
  await ok(done(seat, 1));
  const weigh = step('weigh');
  await expectRefused(studio.admin, () => done(seat, 2), { status: 409, code: 'reading-off-target', says: /Enter a reading/ });
  const over = await ok<ReadingOut>(read(seat, weigh, String((weigh.acceptHighMg! + 1000) / 1000)));
  expect(over).toMatchObject({ verdict: 'over', offBy: 1000 });
  await expectRefused(studio.admin, () => done(seat, 2), { status: 409, code: 'reading-off-target', says: /outside/ });
  const under = await ok<ReadingOut>(read(seat, weigh, String((weigh.acceptLowMg! - 1000) / 1000), { supersedesId: over.id }));
  expect(under).toMatchObject({ verdict: 'under', offBy: 1000 });
  await expectRefused(studio.admin, () => done(seat, 2), { status: 409, code: 'reading-off-target' });
  await ok(read(seat, weigh, String(weigh.acceptLowMg! / 1000), { supersedesId: under.id }));
  await ok(done(seat, 2));
});

test('only the reading in force can be superseded, once', async () => {
  await ok(done(seat, 1));
  const first = await ok<ReadingOut>(read(seat, step('weigh'), '1'));
  const stale = { status: 409, code: 'reading-superseded' };
  await expectRefused(studio.admin, () => read(seat, step('weigh'), '2'), stale);
  const second = await ok<ReadingOut>(read(seat, step('weigh'), '2', { supersedesId: first.id }));
  await expectRefused(studio.admin, () => read(seat, step('weigh'), '3', { supersedesId: first.id }), stale);
  await expectRefused(studio.admin, () => read(seat, step('weigh'), '3', { supersedesId: newId() }), stale);
  const both = await Promise.all(['4', '5'].map((entered) => read(seat, step('weigh'), entered, { supersedesId: second.id })));
  expect(both.map((answer) => answer.statusCode).sort()).toEqual([200, 409]);
});

test('a temperature has its own bounds, and a step without a reading takes none', async () => {
  await expectRefused(studio.admin, () => read(seat, stepsOf(seat)[0]!, '1'), { ...input, pointer: '/stepNo' });
  await signOff(studio, seat);
  await workTo(seat, step('temperature').no);
  for (const [entered, says] of [
    ['', /blank/],
    ['201', /200/],
    ['-31', /-30/],
    ['1e2', /not a number/],
    ['40.25', /decimals/],
    ['hot', /not a number/],
  ] as const)
    await expectRefused(studio.admin, () => read(seat, step('temperature'), entered), { ...input, pointer: '/entered', says });
  expect(await ok<ReadingOut>(read(seat, step('temperature'), '35,5 °C'))).toMatchObject({ temperatureC: 35.5, massMg: null, verdict: 'within' });
});

test('a jar holds what its card makes: far more, nothing and unreadable are refused', async () => {
  await signOff(studio, seat);
  await workTo(seat, step('label').no);
  const madeG = seat.bench.card.content.solutionMassMg / 1000;
  for (const [mass, says] of [
    [String(Math.ceil(madeG * 1.1) + 1), /makes about/],
    ['0', /weighs/],
    ['', /blank/],
    ['1,234', /1\.234/],
    ['-1', /negative/],
  ] as const)
    await expectRefused(studio.admin, () => label(seat, mass), { ...input, pointer: '/mass', says });
  await expectRefused(studio.admin, () => done(seat, step('label').no), { status: 409, code: 'jar-needed' });
  await ok(label(seat, String(Math.floor(madeG))));
  await expectRefused(studio.admin, () => label(seat, '100'), { status: 409, code: 'step-out-of-order' });
});

test('a card of another station is not there for this seat', async () => {
  const neighbour = room.benches[8]!;
  const reaching = { ...seat, bench: neighbour };
  await expectRefused(studio.admin, () => done(reaching, 1), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => label(reaching), { status: 404, code: 'not-found' });
});

test('a closed class takes no more acts', async () => {
  const other = await classroom(studio, { stations: 1 });
  const late = await takeSeat(studio, other.benches[0]!);
  await ok(studio.as.instructor.post(`/api/classes/${other.classId}/close`, {}));
  await expectRefused(studio.admin, () => done(late, 1), { status: 409, code: 'class-not-open' });
});
