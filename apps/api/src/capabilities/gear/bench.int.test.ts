import type { BenchOut } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classBody, classroom, ok } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { callerOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
let stationId: string;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 1 });
  const found = await studio.admin.query<{ station_id: string }>('SELECT station_id FROM class_station WHERE class_id = $1', [room.classId]);
  stationId = found.rows[0]!.station_id;
});
afterAll(() => studio.close());

/** Binds as the instructor does with the tablet in hand, and gives what that tablet then sees. */
async function bind(id = stationId) {
  const answer = await studio.as.instructor.post(`/api/stations/${id}/bind`, { id: newId() });
  expect(answer.statusCode, answer.body).toBe(200);
  const cookie = String(answer.headers['set-cookie']).split(';')[0]!;
  return { cookie, body: answer.json<object>(), seen: () => ok<BenchOut>(callerOn(studio.app, cookie).get('/api/bench')) };
}

test('a bound tablet leads to today’s class at its station, on that day of the studio’s zone only', async () => {
  const tablet = await bind();
  expect(JSON.stringify(tablet.body), 'the secret is in the cookie and nowhere else').not.toContain(tablet.cookie.split('.')[1]);
  const starts = new Date('2026-03-07T10:00:00Z').getTime();
  const at = (hours: number) => clock.forward((starts + hours * 3_600_000 - clock.now.getTime()) / 60_000);
  at(-11); // 23:00 the evening before, in UTC and in the studio's zone
  expect(await tablet.seen()).toMatchObject({ station: { id: stationId }, today: null });
  at(-9);
  expect((await tablet.seen()).today).toMatchObject({ code: room.benches[0]!.code });
  // Of two classes on a day, the nearer one.
  const later = { ...(await classBody(studio, room.versionId, { lotId: room.lotId })), startsAt: '2026-03-07T18:00:00Z' };
  later.stations[0]!.stationId = stationId;
  await ok(studio.as.instructor.post('/api/classes', later));
  await ok(studio.as.instructor.post(`/api/classes/${later.id}/publish`, {}));
  at(0);
  expect((await tablet.seen()).today).toMatchObject({ code: room.benches[0]!.code });
  at(7);
  expect((await tablet.seen()).today?.startsAt).toBe('2026-03-07T18:00:00.000Z');
});

test('it opens no card, and nothing at all once the station’s tablets are let go', async () => {
  const [one, two] = [await bind(), await bind()];
  const by = callerOn(studio.app, one.cookie);
  await expectRefused(studio.admin, () => by.get('/api/station'), { status: 401, code: 'seat-needed' });
  await expectRefused(studio.admin, () => by.get('/api/classes'), { status: 401, code: 'sign-in-needed' });
  const { released } = await ok<{ released: number }>(studio.as.manager.post(`/api/stations/${stationId}/release`, {}));
  expect(released).toBeGreaterThanOrEqual(2);
  for (const tablet of [one, two]) expect(await tablet.seen()).toEqual({ station: null, today: null });
});

test('no cookie, a made-up one, and another studio’s station bind nothing', async () => {
  const nothing = { station: null, today: null };
  for (const cookie of ['', 'ashwater_bench=x', `ashwater_bench=${studio.studioId}.${'A'.repeat(43)}`])
    expect(await ok(callerOn(studio.app, cookie).get('/api/bench'))).toEqual(nothing);
  await expectRefused(studio.admin, () => studio.as.owner.post(`/api/stations/${newId()}/bind`, { id: newId() }), { status: 404, code: 'not-found' });
  await expectRefused(studio.admin, () => studio.as.assistant.post(`/api/stations/${stationId}/bind`, { id: newId() }), { status: 403, code: 'not-allowed' });
});
