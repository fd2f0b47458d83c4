import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { append } from '../capabilities/live/store.ts';
import { openStream } from '../testing/event-stream.ts';
import type { Stream } from '../testing/event-stream.ts';
import { testStudio } from '../testing/test-studio.ts';
import type { TestStudio } from '../testing/test-studio.ts';

let studio: TestStudio;
let origin: string;
beforeAll(async () => {
  studio = await testStudio();
  origin = await studio.app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(() => studio.close());
const event = (kind: string) => ({ kind, classId: null, classStationId: null, subjectId: null });
const announced = (kind: string, times = 1) =>
  studio.app.db.transact(studio.studioId, async (tx) => {
    for (let n = 0; n < times; n += 1) await append(tx, studio.studioId, event(kind), new Date());
  });
const kindsOf = (stream: Stream) => stream.changes().map((each) => each.kind);
const listening = async () =>
  (
    await studio.admin.query<{ pid: number }>(
      `SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND query = 'LISTEN ashwater_live' AND usename = 'ashwater_app'`,
    )
  ).rows.map((row) => row.pid);
async function cut(): Promise<void> {
  const [pid] = await listening();
  await studio.admin.query('SELECT pg_terminate_backend($1)', [pid]);
  while ((await listening()).includes(pid!)) await sleep(5);
}

test('when the listening connection is cut, what happens meanwhile is heard once it is back, in order and once', async () => {
  const stream = await openStream(origin, studio.as.owner.cookie);
  await announced('before');
  await stream.until((changes) => changes.length === 1);
  await cut();
  await announced('meanwhile', 20);
  expect(await listening(), 'nobody listens yet').toEqual([]);
  const start = Date.now();
  await stream.until((changes) => changes.length === 21);
  expect(Date.now() - start).toBeLessThan(3000);
  await announced('after');
  await stream.until((changes) => changes.at(-1)?.kind === 'after');
  expect(kindsOf(stream)).toEqual(['before', ...Array.from({ length: 20 }, () => 'meanwhile'), 'after']);
  const seqs = stream.changes().map((each) => each.seq);
  expect(seqs).toEqual(seqs.map((_, i) => seqs[0]! + i));
  stream.close();
});

test('whoever had heard nothing yet is not told the studio’s whole past, and misses nothing of the present', async () => {
  await announced('long ago', 2500);
  const stream = await openStream(origin, studio.as.owner.cookie);
  await cut();
  await announced('meanwhile', 3);
  await stream.until((changes) => changes.some((each) => each.kind === 'meanwhile'));
  await announced('after');
  await stream.until((changes) => changes.at(-1)?.kind === 'after');
  expect(kindsOf(stream)).toEqual(['meanwhile', 'meanwhile', 'meanwhile', 'after']);
  stream.close();
});

test('what is announced in the very moment of catching up does not push aside what was missed', async () => {
  const stream = await openStream(origin, studio.as.owner.cookie);
  for (let round = 0; round < 3; round += 1) {
    await cut();
    const from = stream.changes().length;
    let sent = 0;
    // events go on coming while the connection is away, returns and catches up
    while ((await listening()).length === 0) {
      await announced('busy', 25);
      sent += 25;
    }
    for (let n = 0; n < 20; n += 1) await announced('busy');
    await stream.until((changes) => changes.length >= from + sent + 20);
  }
  const seqs = stream.changes().map((each) => each.seq);
  expect(seqs).toEqual(seqs.map((_, i) => seqs[0]! + i));
  stream.close();
});
