import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classroom, countersign, dress, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { callerOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 4 });
});
afterAll(() => studio.close());

test('staff of any role who took a seat cannot sign it off; a colleague can', async () => {
  for (const [n, role] of (['owner', 'manager', 'instructor', 'assistant'] as const).entries()) {
    const seat = await takeSeat(studio, room.benches[n]!, `Ada ${role}`, studio.as[role].cookie);
    await dress(seat);
    // both cookies in one browser, as it really is for someone who took a seat
    const both = callerOn(studio.app, `${studio.as[role].cookie}; ${seat.by.cookie}`);
    await expectRefused(studio.admin, () => countersign(studio.as[role], seat), { status: 403, code: 'cannot-sign-own-gear' });
    await expectRefused(studio.admin, () => countersign(both, seat), { status: 403, code: 'cannot-sign-own-gear' });
    const colleague = role === 'assistant' ? studio.as.owner : studio.as.assistant;
    expect((await countersign(colleague, seat)).json()).toMatchObject({ status: 'signed' });
  }
});

test('a seat signs nobody: not itself, not its neighbour', async () => {
  const [seat, neighbour] = [await takeSeat(studio, room.benches[0]!, 'Mira'), await takeSeat(studio, room.benches[0]!, 'Joss')];
  await dress(seat);
  await dress(neighbour);
  for (const wearer of [seat, neighbour]) await expectRefused(studio.admin, () => countersign(seat.by, wearer), { status: 401, code: 'sign-in-needed' });
  await expectRefused(studio.admin, () => seat.by.post(`/api/seats/${neighbour.id}/lapse`, { id: newId(), reason: 'x' }), {
    status: 401,
    code: 'sign-in-needed',
  });
});

test('staff without a seat confirms nobody’s gear: only the wearer does', async () => {
  await expectRefused(studio.admin, () => studio.as.instructor.post('/api/gear/confirm', { id: newId(), itemKey: 'goggles' }), {
    status: 401,
    code: 'seat-needed',
  });
});

test('the gear list of the card decides what can be confirmed', async () => {
  const seat = await takeSeat(studio, room.benches[1]!, 'Tarek');
  await expectRefused(studio.admin, () => seat.by.post('/api/gear/confirm', { id: newId(), itemKey: 'respirator' }), {
    status: 422,
    code: 'input-refused',
    pointer: '/itemKey',
  });
});
