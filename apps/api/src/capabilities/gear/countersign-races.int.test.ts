import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classroom, confirm, countersign, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { auditClass } from '../../testing/station-audit.ts';
import { happeningsOf } from '../../testing/station-history.ts';
import { callerOn, signInOn, testStudio } from '../../testing/test-studio.ts';
import type { Answer, Caller, TestStudio } from '../../testing/test-studio.ts';

/*
 * Two rules that each compare two rows, and so could be passed by two requests that do not see each other: nobody signs their own
 * gear, also not through another of their sessions; and a signature counts for what was confirmed before it, once.
 */
const TRIES = 1000;
const TRIES_EACH = 50;
let studio: TestStudio;
let room: Classroom;
let own: [Caller, Caller];
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: TRIES / TRIES_EACH });
  const again = callerOn(studio.app, await signInOn(studio.app, 'instructor@example.org'));
  own = [studio.as.instructor, again];
});
afterAll(() => studio.close());

/** The wearer's sign-off ended and every item but the last was confirmed: written past the service, as it would, to save a thousand times seven requests. */
async function allButOne(seat: SeatAt): Promise<string> {
  const items = seat.bench.card.content.gear.map((item) => item.key);
  const last = items.pop()!;
  await studio.admin.query(
    `WITH n AS (UPDATE studio_counter SET value = value + 1 WHERE studio_id = $1 AND name = 'event' RETURNING value),
       e AS (INSERT INTO event (studio_id, seq, kind, class_id, class_station_id, subject_id, at) SELECT $1, value, 'gear-confirmed', $2, $3, $4, now() FROM n)
     INSERT INTO gear_act (studio_id, id, seat_id, card_id, kind, item_key, reason, at)
     SELECT $1, gen_random_uuid(), $4, $5, CASE WHEN item = '' THEN 'lapsed' ELSE 'confirmed' END, nullif(item, ''), CASE WHEN item = '' THEN 'again' END, now()
     FROM unnest($6::text[]) WITH ORDINALITY AS t (item, n) ORDER BY n`,
    [studio.studioId, seat.bench.classId, seat.bench.classStationId, seat.id, seat.bench.card.id, ['', ...items]],
  );
  return last;
}
const soon = async (act: () => Promise<Answer>): Promise<Answer> => {
  await wait(Math.random() * 3);
  return act();
};
const codeOf = (answer: Answer): string => (answer.statusCode === 200 ? 'ok' : answer.json<{ code: string }>().code);

test(
  'of a thousand tries through two sessions none signs the wearer’s own gear, signs what is not confirmed, or signs twice',
  { timeout: 120_000 },
  async () => {
    const seen = new Map<string, number>();
    for (const bench of room.benches) {
      // The instructor takes a seat on a phone on which they are signed in.
      const seat = await takeSeat(studio, bench, 'Mira', own[0].cookie);
      for (let n = 0; n < TRIES_EACH; n += 1) {
        const last = await allButOne(seat);
        const [mine, theirs] = await Promise.all([
          Promise.all(own.map((session) => soon(() => countersign(session, seat)))),
          Promise.all([studio.as.assistant, studio.as.manager].map((other) => soon(() => countersign(other, seat)))),
          soon(() => confirm(seat, last)),
        ]);
        for (const answer of mine) expect(codeOf(answer)).toBe('cannot-sign-own-gear');
        const both = theirs.map(codeOf).sort().join(' and ');
        seen.set(both, (seen.get(both) ?? 0) + 1);
      }
    }
    // Each way of two: both before the last item, one before and one after it, both after it.
    expect([...seen.keys()].sort()).toEqual(['gear-not-confirmed and gear-not-confirmed', 'gear-not-confirmed and ok', 'ok and ok']);
    const { rows } = await studio.admin.query<{ id: string; account_id: string }>('SELECT id, account_id FROM seat WHERE class_id = $1', [room.classId]);
    const accounts = new Map(rows.map((row) => [row.id, row.account_id]));
    expect(accounts.size).toBe(room.benches.length);
    const history = await happeningsOf(studio.admin, room.classId);
    expect(auditClass(history, accounts)).toEqual([]);
    expect(history.filter((each) => each.what === 'countersigned').length).toBeGreaterThan(100);
  },
);

test('nobody signs a seat that they are just taking, nor one they took again with their sign-in', async () => {
  const tries = 40;
  const answers: string[] = [];
  for (let n = 0; n < tries; n += 1) {
    const { code } = room.benches[n % room.benches.length]!;
    const id = newId();
    const join = (cookie: string) =>
      studio.app.inject({ method: 'POST', url: '/api/join', payload: { id, code, name: 'Mira' }, headers: { cookie }, remoteAddress: `10.8.0.${n}` });
    // The same phone sends the join twice: once before the sign-in's cookie was there.
    const [first, second, signed] = await Promise.all([soon(() => join('')), soon(() => join(own[0].cookie)), soon(() => countersign(own[1], { id }))]);
    expect([first.statusCode, second.statusCode]).toEqual([200, 200]);
    answers.push(codeOf(signed), codeOf(await countersign(own[1], { id })));
    expect(answers.at(-1)).toBe('cannot-sign-own-gear');
  }
  expect(answers).not.toContain('ok');
});
