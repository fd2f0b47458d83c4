import type { FloorView } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { viewOf } from '../../testing/card-steps.ts';
import { classroom, ok, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Caller, TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 2 });
});
afterAll(() => studio.close());
const send = (by: Caller, text: string, key?: string, id = newId()) => by.post(`/api/classes/${room.classId}/messages`, { id, text }, key);

test('a message stands on every station and on the floor, the newest first, with who sent it; sent twice it is there once', async () => {
  const seats = await Promise.all(room.benches.map((bench) => takeSeat(studio, bench)));
  await ok(send(studio.as.instructor, 'Lids on, we start in five minutes'));
  const [key, id] = [newId(), newId()];
  for (let n = 0; n < 2; n += 1) await ok(send(studio.as.assistant, 'Windows open, please', key, id));
  const floor = await ok<FloorView>(studio.as.owner.get(`/api/classes/${room.classId}/floor`));
  for (const seat of seats) {
    const { messages } = await viewOf(seat);
    expect(messages?.map(({ text }) => text)).toEqual(['Windows open, please', 'Lids on, we start in five minutes']);
    expect(messages).toEqual(floor.messages);
    expect(messages![0]!.seq).toBeGreaterThan(messages![1]!.seq);
  }
});

test('no empty message, none by a seat, none to a class that is over', async () => {
  const seat = await takeSeat(studio, room.benches[0]!);
  await expectRefused(studio.admin, () => send(studio.as.instructor, '  '), { status: 422, code: 'input-refused', pointer: '/text' });
  await expectRefused(studio.admin, () => send(seat.by, 'Hello'), { status: 401, code: 'sign-in-needed' });
  await ok(studio.as.instructor.post(`/api/classes/${room.classId}/close`, {}));
  await expectRefused(studio.admin, () => send(studio.as.instructor, 'Hello'), { status: 409, code: 'class-not-open' });
});
