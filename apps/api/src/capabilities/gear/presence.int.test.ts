import type { CardStep, FloorView, GearState } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { firstCaustic, goodEntry, read, viewOf, workTo } from '../../testing/card-steps.ts';
import { classroom, countersign, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom, SeatAt } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
let taken = 0;
let bench: Bench;
let seat: SeatAt;
let step: CardStep;
const SHUT = { status: 409, code: 'gear-not-signed' };
const tryStep = (): Promise<Answer> => read(seat, step, goodEntry(step));
const visitor = (id: string, name = 'Grandpa') => seat.by.post('/api/gear/visitors', { id, name });
const confirmAll = async (send: (itemKey: string) => Promise<Answer>): Promise<void> => {
  for (const item of bench.card.content.gear) await ok(send(item.key));
};
const seatsOnFloor = async () => (await ok<FloorView>(studio.as.instructor.get(`/api/classes/${room.classId}/floor`))).stations.flatMap((each) => each.seats);

beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 12 });
});
afterAll(() => studio.close());
beforeEach(async () => {
  bench = room.benches[taken++]!;
  seat = await takeSeat(studio, bench, 'Mira');
  step = firstCaustic(seat);
  await workTo(seat, step.no);
  await signOff(studio, seat);
});

test('a break ends the wearer’s own sign-off, says so, and everything is confirmed and signed again', async () => {
  const state = await ok<GearState>(seat.by.post('/api/gear/lapse', { id: newId(), reason: '' }));
  expect(state).toMatchObject({ status: 'lapsed', confirmed: [], lapseReason: 'took a break' });
  await expectRefused(studio.admin, tryStep, SHUT);
  await expectRefused(studio.admin, () => countersign(studio.as.instructor, seat), { status: 409, code: 'gear-not-confirmed' });
  await signOff(studio, seat);
  await ok(tryStep());
});

test('a visitor shuts the caustic steps until their own gear is confirmed item by item and signed, or until they have left', async () => {
  const id = newId();
  await ok(visitor(id));
  expect((await expectRefused(studio.admin, tryStep, SHUT)).detail).toContain('Grandpa');
  await confirmAll((itemKey) => seat.by.post(`/api/gear/visitors/${id}/confirm`, { id: newId(), itemKey }));
  await expectRefused(studio.admin, tryStep, SHUT);
  expect((await viewOf(seat)).visitors).toMatchObject([{ id, name: 'Grandpa', gear: { status: 'waiting' } }]);
  await ok(countersign(studio.as.assistant, { id }));
  const first = await ok<{ id: string }>(tryStep());
  const second = newId();
  await ok(visitor(second, 'Aunt'));
  await expectRefused(studio.admin, () => read(seat, step, goodEntry(step), { supersedesId: first.id }), SHUT);
  await ok(seat.by.post(`/api/gear/visitors/${second}/left`, {}));
  await ok(read(seat, step, goodEntry(step), { supersedesId: first.id }));
});

test('staff add somebody, hand out their own tablet for the list, and sign', async () => {
  const id = newId();
  await ok(studio.as.assistant.post(`/api/classes/${room.classId}/people`, { id, classStationId: bench.classStationId, name: 'Inspector', kind: 'visitor' }));
  await expectRefused(studio.admin, tryStep, SHUT);
  await confirmAll((itemKey) => studio.as.assistant.post(`/api/seats/${id}/confirm`, { id: newId(), itemKey }));
  await ok(countersign(studio.as.assistant, { id }));
  await ok(tryStep());
  expect((await seatsOnFloor()).find((each) => each.id === id)).toMatchObject({ kind: 'visitor', noDevice: true, gear: { status: 'signed' } });
});

test('nobody confirms the gear of a person with a device, nor at another station, nor opens a seat that has no device', async () => {
  const itemKey = bench.card.content.gear[0]!.key;
  const other = await takeSeat(studio, bench, 'Joss');
  const far = await takeSeat(studio, room.benches[taken++]!, 'Tarek');
  await expectRefused(studio.admin, () => seat.by.post(`/api/gear/visitors/${other.id}/confirm`, { id: newId(), itemKey }), {
    status: 422,
    code: 'input-refused',
    pointer: '/seatId',
  });
  await expectRefused(studio.admin, () => studio.as.owner.post(`/api/seats/${other.id}/confirm`, { id: newId(), itemKey }), {
    status: 422,
    code: 'input-refused',
  });
  await expectRefused(studio.admin, () => seat.by.post(`/api/gear/visitors/${other.id}/left`, {}), { status: 404, code: 'not-found' });
  const id = newId();
  await ok(visitor(id));
  for (const path of ['confirm', 'left'])
    await expectRefused(studio.admin, () => far.by.post(`/api/gear/visitors/${id}/${path}`, { id: newId(), itemKey }), { status: 404, code: 'not-found' });
  const kept = await studio.admin.query<{ token_hash: string }>('SELECT token_hash FROM seat WHERE id = $1', [id]);
  expect(kept.rows[0]!.token_hash).not.toMatch(/^[0-9a-f]{64}$/);
});

test('staff sign out whoever left without a word, and the station goes on', async () => {
  const gone = await takeSeat(studio, bench, 'Joss');
  await expectRefused(studio.admin, tryStep, SHUT);
  await ok(studio.as.assistant.post(`/api/seats/${gone.id}/sign-out`, {}));
  await ok(tryStep());
  await expectRefused(studio.admin, () => gone.by.post('/api/gear/confirm', { id: newId(), itemKey: bench.card.content.gear[0]!.key }), {
    status: 409,
    code: 'seat-signed-out',
  });
});

test('whoever is moved works at the new station, and was looked at for neither: also not when they come back', async () => {
  const to = room.benches[taken++]!;
  const move = (classStationId: string) => studio.as.instructor.post(`/api/seats/${seat.id}/move`, { id: newId(), classStationId });
  await ok(move(to.classStationId));
  expect(await viewOf(seat)).toMatchObject({ classStationId: to.classStationId, gear: { status: 'none' }, gate: { open: false } });
  await expectRefused(studio.admin, tryStep, { status: 404, code: 'not-found' });
  await ok(move(bench.classStationId));
  expect((await viewOf(seat)).gear).toMatchObject({ status: 'lapsed', lapseReason: `moved to ${to.name}` });
  await expectRefused(studio.admin, tryStep, SHUT);
  await signOff(studio, seat);
  await ok(tryStep());
  await expectRefused(studio.admin, () => move(newId()), { status: 404, code: 'not-found' });
  await ok(seat.by.post('/api/seat/sign-out', {}));
  await expectRefused(studio.admin, () => move(to.classStationId), { status: 409, code: 'seat-signed-out' });
});
