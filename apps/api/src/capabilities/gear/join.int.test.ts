import type { Me } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classroom, ok, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { callerOn, testStudio } from '../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 2 });
});
afterAll(() => studio.close());
const join = (body: object) => studio.as.nobody.post('/api/join', body);
const bodyOf = (name: string) => ({ id: newId(), code: room.benches[0]!.code, name });
const as = (answer: Answer) => callerOn(studio.app, String(answer.headers['set-cookie']).split(';')[0]!);
const seatsNamed = async (name: string) => (await studio.admin.query('SELECT 1 FROM seat WHERE name = $1', [name])).rowCount;

test('a phone that lost the answer joins again and has its seat, not a second one; what it had before is void', async () => {
  const body = bodyOf('Mira');
  const first = as(await join(body));
  const again = as(await join(body));
  expect(await ok<Me>(again.get('/api/me?as=seat'))).toMatchObject({ kind: 'seat', id: body.id, name: 'Mira' });
  expect((await first.get('/api/station')).statusCode).toBe(401);
  expect(await seatsNamed('Mira')).toBe(1);
});

test('a join sent eight times at one instant is one seat, and none is told that it is taken', async () => {
  for (const name of ['Joss', 'Lio', 'Edda', 'Peer']) {
    const body = bodyOf(name);
    const answers = await Promise.all(Array.from({ length: 8 }, () => join(body)));
    expect(answers.map((answer) => answer.statusCode)).toEqual(Array.from({ length: 8 }, () => 200));
    expect(await seatsNamed(name)).toBe(1);
  }
});

test('a seat is not handed to another name, another station, a later comer, or after it was left', async () => {
  const body = bodyOf('Tarek');
  const seat = as(await join(body));
  const taken = { status: 409, code: 'already-exists' };
  await expectRefused(studio.admin, () => join({ ...body, name: 'Edda' }), taken);
  await expectRefused(studio.admin, () => join({ ...body, code: room.benches[1]!.code }), taken);
  clock.forward(11);
  await expectRefused(studio.admin, () => join(body), taken);
  expect((await seat.get('/api/station')).statusCode, 'whoever sits there is not disturbed').toBe(200);
  const left = await takeSeat(studio, room.benches[1]!, 'Suna');
  await ok(left.by.post('/api/seat/sign-out', {}));
  await expectRefused(studio.admin, () => join({ id: left.id, code: room.benches[1]!.code, name: 'Suna' }), taken);
});
