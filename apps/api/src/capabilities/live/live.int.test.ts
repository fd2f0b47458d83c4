import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { done } from '../../testing/card-steps.ts';
import { classroom, confirm, ok, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { openStream } from '../../testing/event-stream.ts';
import type { Stream } from '../../testing/event-stream.ts';
import { callerOn, signInOn, studioOn, testStudio } from '../../testing/test-studio.ts';
import type { People, TestStudio } from '../../testing/test-studio.ts';
import { append } from './store.ts';

let studio: TestStudio;
let origin: string;
let room: Classroom;
let other: People;
const open: Stream[] = [];
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 4 });
  other = await studioOn(studio.app, { studioName: 'Second House', domain: 'second.example' });
  origin = await studio.app.listen({ host: '127.0.0.1', port: 0 });
});
afterEach(() => {
  for (const stream of open.splice(0)) stream.close();
});
afterAll(() => studio.close());
async function listen(cookie: string, options?: Parameters<typeof openStream>[2]): Promise<Stream> {
  const stream = await openStream(origin, cookie, options);
  open.push(stream);
  return stream;
}
const announced = (studioId: string, kind: string, classId: string | null = null) =>
  studio.app.db.transact(studioId, (tx) => append(tx, studioId, { kind, classId, classStationId: null, subjectId: newId() }, new Date()));
const seqs = (stream: Stream) => stream.changes().map((event) => event.seq);
const lastSeq = async (studioId = studio.studioId) =>
  Number((await studio.admin.query<{ seq: string }>('SELECT max(seq) AS seq FROM event WHERE studio_id = $1', [studioId])).rows[0]!.seq);
const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

test('a studio hears all of its own, in order, once, as ids only; and nothing of another', async () => {
  const [own, foreign] = [await listen(studio.as.assistant.cookie), await listen(other.as.owner.cookie)];
  const from = await lastSeq();
  const busy = Array.from({ length: 200 }, (_, n) => announced(n % 2 ? other.studioId : studio.studioId, `of ${n % 2 ? 'theirs' : 'ours'}`));
  await Promise.all(busy);
  const seat = await takeSeat(studio, room.benches[0]!, 'Mira the marked');
  await ok(confirm(seat, 'goggles'));
  await own.until((changes) => changes.some((event) => event.kind === 'gear-confirmed'));
  await foreign.until((changes) => changes.length === 100);
  await sleep(200);
  expect(seqs(own)).toEqual(range(from + 1, from + 102));
  expect(new Set(own.changes().map((event) => event.kind))).toEqual(new Set(['of ours', 'seat-joined', 'gear-confirmed']));
  expect(new Set(foreign.changes().map((event) => event.kind))).toEqual(new Set(['of theirs']));
  for (const event of own.changes()) expect(Object.keys(event).sort()).toEqual(['classId', 'classStationId', 'kind', 'seq', 'subjectId']);
  expect(JSON.stringify(own.heard)).not.toContain('Mira');
});

test('a seat hears its own class only, whatever class it asks for; staff may pick one', async () => {
  const second = await classroom(studio, { stations: 1 });
  const seat = await takeSeat(studio, room.benches[1]!);
  const [atSeat, picked] = [await listen(seat.by.cookie, { classId: second.classId }), await listen(studio.as.owner.cookie, { classId: second.classId })];
  await announced(studio.studioId, 'elsewhere', second.classId);
  await announced(studio.studioId, 'of no class');
  const neighbour = await takeSeat(studio, room.benches[1]!, 'Joss');
  await ok(done(seat, 1));
  await atSeat.until((changes) => changes.length > 1);
  await announced(studio.studioId, 'last', second.classId);
  await picked.until((changes) => changes.some((event) => event.kind === 'last'));
  expect(atSeat.changes().map((event) => event.kind)).toEqual(['seat-joined', 'step-done']);
  expect(JSON.stringify(atSeat.heard), 'with its id a neighbour could take the seat over').not.toContain(neighbour.id);
  expect(picked.changes().map((event) => event.kind)).toEqual(['elsewhere', 'last']);
});

test('resuming after Last-Event-ID gives exactly what was missed, then goes on', async () => {
  const first = await listen(studio.as.manager.cookie);
  await announced(studio.studioId, 'heard');
  await first.until((changes) => changes.length === 1);
  first.close();
  const missedFrom = await lastSeq();
  for (let n = 0; n < 7; n += 1) await announced(studio.studioId, 'missed');
  const again = await listen(studio.as.manager.cookie, { lastEventId: first.heard.at(-1)!.id });
  await announced(studio.studioId, 'new');
  await again.until((changes) => changes.some((event) => event.kind === 'new'));
  expect(seqs(again)).toEqual(range(missedFrom + 1, missedFrom + 8));
  // nothing was missed: nothing comes twice
  const idle = await listen(studio.as.manager.cookie, { lastEventId: String(await lastSeq()) });
  await sleep(200);
  expect(idle.changes()).toEqual([]);
});

test('a long absence is no gap: more is replayed than one reading of the table holds, also while new ones arrive', async () => {
  const from = await lastSeq();
  const absent = 6000;
  await studio.admin.query(`INSERT INTO event SELECT $1, seq, 'missed', NULL, NULL, NULL, now() FROM generate_series($2::bigint + 1, $2::bigint + $3) seq`, [
    studio.studioId,
    from,
    absent,
  ]);
  await studio.admin.query(`UPDATE studio_counter SET value = value + $2 WHERE studio_id = $1 AND name = 'event'`, [studio.studioId, absent]);
  const arriving = (async () => {
    for (let n = 0; n < 30; n += 1) await announced(studio.studioId, 'arriving');
  })();
  const stream = await listen(studio.as.owner.cookie, { lastEventId: String(from) });
  await arriving;
  await stream.until((changes) => changes.length >= absent + 30);
  expect(seqs(stream)).toEqual(range(from + 1, from + absent + 30));
});

test('an odd Last-Event-ID is taken for none', async () => {
  for (const lastEventId of ['x', '-1', '1e99', '1.5']) {
    const stream = await listen(studio.as.owner.cookie, { lastEventId });
    expect([lastEventId, stream.status, stream.heard[0]?.kind, stream.changes()]).toEqual([lastEventId, 200, 'hello', []]);
  }
});

test('the stream ends within six seconds of signing out, for staff and for a seat, and leaves no listener behind', { timeout: 20_000 }, async () => {
  const nobodyLeft = async () => {
    for (let tries = 0; studio.app.live.count() > 0 && tries < 100; tries += 1) await sleep(20);
    return studio.app.live.count() === 0;
  };
  expect(await nobodyLeft(), 'those of the tests before').toBe(true);
  const cookie = await signInOn(studio.app, 'assistant@example.org');
  const seat = await takeSeat(studio, room.benches[2]!);
  const streams = [await listen(cookie), await listen(seat.by.cookie)];
  const stays = await listen(studio.as.owner.cookie);
  const start = Date.now();
  await ok(callerOn(studio.app, cookie).post('/api/sign-out', {}));
  await ok(seat.by.post('/api/seat/sign-out', {}));
  const ends = await Promise.all(streams.map((stream) => Promise.race([stream.ended.then(() => 'ended'), sleep(6000).then(() => 'still open')])));
  expect(ends).toEqual(['ended', 'ended']);
  expect(Date.now() - start).toBeLessThan(6000);
  await announced(studio.studioId, 'after');
  await stays.until((changes) => changes.some((event) => event.kind === 'after'));
  stays.close();
  expect(await nobodyLeft()).toBe(true);
});

test('nobody listens without a cookie, and a signed-out one does not open the door again', async () => {
  expect((await listen('')).status).toBe(401);
  const cookie = await signInOn(studio.app, 'assistant@example.org');
  await ok(callerOn(studio.app, cookie).post('/api/sign-out', {}));
  expect((await listen(cookie)).status).toBe(401);
  const seat = await takeSeat(studio, room.benches[3]!);
  await ok(seat.by.post('/api/seat/sign-out', {}));
  expect((await listen(seat.by.cookie)).status).toBe(409);
});
