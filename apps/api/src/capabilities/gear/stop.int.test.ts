import type { FloorView, StationView } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { done, goodEntry, label, read, stepsOf } from '../../testing/card-steps.ts';
import { classroom, ok, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Caller, TestStudio } from '../../testing/test-studio.ts';

const STATIONS = 20;
let studio: TestStudio;
let room: Classroom;
let seats: SeatAt[];
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: STATIONS });
  seats = await Promise.all(room.benches.map((bench, n) => takeSeat(studio, bench, `Person ${n}`)));
  // Step 1 is "clear the bench"; step 2 takes a reading.
  for (const seat of seats) await ok(done(seat, 1));
});
afterAll(() => studio.close());

const stop = (by: Caller, reason = 'spill') => by.post(`/api/classes/${room.classId}/stop`, { id: newId(), reason });
const clear = (by: Caller) => by.post(`/api/classes/${room.classId}/clear`, { id: newId(), reason: 'wiped up' });
const reading = (seat: SeatAt, supersedesId: string | null = null) => read(seat, stepsOf(seat)[1]!, goodEntry(stepsOf(seat)[1]!), { supersedesId });

test('a stop by a seat freezes every act at every station until an instructor or the owner clears it', async () => {
  await ok(stop(seats[0]!.by));
  const refused = { status: 409, code: 'room-stopped' };
  for (const seat of seats.slice(0, 3)) {
    await expectRefused(studio.admin, () => reading(seat), refused);
    await expectRefused(studio.admin, () => done(seat, 2), refused);
    await expectRefused(studio.admin, () => label(seat), refused);
  }
  expect((await ok<FloorView>(studio.as.assistant.get(`/api/classes/${room.classId}/floor`))).stopped).toMatchObject({ byName: 'Person 0', reason: 'spill' });
  expect((await ok<StationView>(seats[5]!.by.get('/api/station'))).stopped).toMatchObject({ byName: 'Person 0' });
  for (const role of ['manager', 'assistant'] as const) await expectRefused(studio.admin, () => clear(studio.as[role]), { status: 403, code: 'not-allowed' });
  await expectRefused(studio.admin, () => clear(seats[0]!.by), { status: 401, code: 'sign-in-needed' });
  await ok(clear(studio.as.owner));
  expect((await reading(seats[1]!)).statusCode).toBe(200);
  await expectRefused(studio.admin, () => clear(studio.as.owner), { status: 409, code: 'room-not-stopped' });
});

test('any staff may stop; a second stop is no error and changes nothing; one of two clears is told so', async () => {
  for (const role of ['owner', 'manager', 'instructor', 'assistant'] as const) {
    await ok(stop(studio.as[role], `by ${role}`));
    await ok(stop(seats[2]!.by, 'also seen'));
    const { stopped } = await ok<FloorView>(studio.as.owner.get(`/api/classes/${room.classId}/floor`));
    expect(stopped).toMatchObject({ byName: `Ada ${role}`, reason: `by ${role}` });
    const both = await Promise.all([clear(studio.as.instructor), clear(studio.as.owner)]);
    expect(both.map((answer) => answer.statusCode).sort()).toEqual([200, 409]);
  }
  const acts = await studio.admin.query<{ kind: string }>('SELECT kind FROM class_stop ORDER BY seq');
  expect(acts.rows.map((row) => row.kind)).toEqual(Array.from({ length: 5 }, () => ['stopped', 'cleared']).flat());
});

/** Event numbers come from a counter row that each transaction holds until it commits: their order is the order of commits. */
async function order(): Promise<{ kind: string; seq: number }[]> {
  const { rows } = await studio.admin.query<{ kind: string; seq: string }>(
    `SELECT kind, seq FROM event WHERE kind IN ('room-stopped', 'room-cleared', 'reading-recorded') ORDER BY seq`,
  );
  return rows.map((row) => ({ kind: row.kind, seq: Number(row.seq) }));
}

test('a stop among twenty readings: none is committed between the stop and the clearing', async () => {
  const last = new Map<SeatAt, string>();
  const { rows } = await studio.admin.query<{ id: string; card_id: string }>('SELECT id, card_id FROM reading');
  for (const row of rows)
    last.set(
      seats.find((seat) => seat.bench.card.id === row.card_id)!,
      row.id,
    );
  const counted = { accepted: 0, refused: 0 };
  const send = async (seat: SeatAt) => {
    const answer = await reading(seat, last.get(seat) ?? null);
    counted[answer.statusCode === 200 ? 'accepted' : 'refused'] += 1;
    if (answer.statusCode === 200) last.set(seat, answer.json<{ id: string }>().id);
    else expect(answer.json()).toMatchObject({ code: 'room-stopped' });
  };
  for (let round = 0; round < 4; round += 1) {
    const before = (await order()).at(-1)?.seq ?? 0;
    // everybody enters one reading after the other while the stop falls among them
    const working = seats.map(async (seat) => {
      for (let n = 0; n < 3; n += 1) await send(seat);
    });
    await new Promise((resolve) => setTimeout(resolve, round * 25));
    await ok(stop(seats[19]!.by));
    await Promise.all(working);
    const kinds = (await order()).filter((event) => event.seq > before).map((event) => event.kind);
    expect(kinds.filter((kind) => kind !== 'reading-recorded')).toEqual(['room-stopped']);
    expect(kinds.indexOf('room-stopped')).toBe(kinds.length - 1);
    await ok(clear(studio.as.instructor));
  }
  expect(counted.accepted + counted.refused).toBe(4 * 3 * STATIONS);
  expect(Math.min(counted.accepted, counted.refused), 'a busy class does not keep its stop waiting').toBeGreaterThan(0);
});

test('a stop waits for an act that passed its checks already, and comes after it', async () => {
  const seat = seats[0]!;
  const { rows } = await studio.admin.query<{ id: string }>('SELECT id FROM reading WHERE card_id = $1 ORDER BY seq DESC LIMIT 1', [seat.bench.card.id]);
  const before = (await order()).at(-1)?.seq ?? 0;
  // The new reading's row needs its card's row: held here, the act stands still between its checks and its writing.
  await studio.admin.query('BEGIN');
  await studio.admin.query('SELECT 1 FROM weigh_card WHERE id = $1 FOR UPDATE', [seat.bench.card.id]);
  const waitingFor = async (text: string) => {
    for (let tries = 0; tries < 200; tries += 1) {
      await studio.admin.query('SELECT pg_stat_clear_snapshot()');
      const found = await studio.admin.query(
        `SELECT 1 FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock' AND query LIKE $1`,
        [`%${text}%`],
      );
      if (found.rowCount) return;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    throw new Error(`nobody waits at ${text}`);
  };
  const recorded = reading(seat, rows[0]?.id ?? null);
  await waitingFor('INSERT INTO reading');
  const stopped = stop(studio.as.instructor);
  await waitingFor('pg_advisory_xact_lock(');
  await studio.admin.query('COMMIT');
  expect((await recorded).statusCode).toBe(200);
  await ok(stopped);
  expect((await order()).filter((event) => event.seq > before).map((event) => event.kind)).toEqual(['reading-recorded', 'room-stopped']);
  await ok(clear(studio.as.instructor));
});

test('a seat stops its own class only, and nobody a class that is not there', async () => {
  const other = await classroom(studio, { stations: 1 });
  const body = () => ({ id: newId(), reason: '' });
  await expectRefused(studio.admin, () => seats[0]!.by.post(`/api/classes/${other.classId}/stop`, body()), { status: 404, code: 'not-found' });
  for (const act of ['stop', 'clear'])
    await expectRefused(studio.admin, () => studio.as.owner.post(`/api/classes/${newId()}/${act}`, body()), { status: 404, code: 'not-found' });
});
