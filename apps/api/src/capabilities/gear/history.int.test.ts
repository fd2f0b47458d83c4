import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { done, finish, firstCaustic, goodEntry, read, stepsOf, workTo } from '../../testing/card-steps.ts';
import { classroom, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { SeatAt } from '../../testing/classroom.ts';
import { auditClass } from '../../testing/station-audit.ts';
import { happeningsOf } from '../../testing/station-history.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

/* The check of a class's history that the other tests rely on is put to the test itself: what the service refuses is written past it. */
let studio: TestStudio;
let seat: SeatAt;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());
beforeEach(async () => {
  const room = await classroom(studio);
  seat = await takeSeat(studio, room.benches[0]!, 'Mira');
  await workTo(seat, firstCaustic(seat).no);
  await signOff(studio, seat);
});

const inOrder =
  (...acts: (() => Promise<void>)[]) =>
  async (): Promise<void> => {
    for (const act of acts) await act();
  };
let points = 0;
/** One transaction as the service would commit it: rows and the event that tells of them, in a savepoint, which gives them an xmin of their own. */
async function write(kind: string, sql: string, values: unknown[], subjectId: string | null = null): Promise<void> {
  await studio.admin.query(`SAVEPOINT p${(points += 1)}`);
  const { rowCount } = await studio.admin.query(sql, values);
  if (!rowCount) throw new Error('nothing was written');
  await studio.admin.query(
    `INSERT INTO event (studio_id, seq, kind, class_id, class_station_id, subject_id, at)
     SELECT $1, 1 + max(seq), $2, $3, $4, $5, now() FROM event WHERE studio_id = $1`,
    [studio.studioId, kind, seat.bench.classId, seat.bench.classStationId, subjectId],
  );
  await studio.admin.query(`RELEASE SAVEPOINT p${points}`);
}
const SEAT = 'INSERT INTO seat (studio_id, id, class_id, class_station_id, name, token_hash, joined_at) VALUES ($1, $2, $3, $4, $5, $6, now())';
const ACT = 'INSERT INTO gear_act (studio_id, id, seat_id, card_id, kind, account_id, reason, at, valid_until) VALUES ($1, $2, $3, $4, $5, $6, $7, now(), $8)';
const ONE_HOUR_MS = 3_600_000;
const caustic = () => firstCaustic(seat).no;
const writes = {
  step: (no = caustic()) =>
    write('step-done', 'INSERT INTO card_step (studio_id, card_id, step_no, seat_id, at) VALUES ($1, $2, $3, $4, now())', [
      studio.studioId,
      seat.bench.card.id,
      no,
      seat.id,
    ]),
  reading: (id = newId(), source = 'station') =>
    write(
      'reading-recorded',
      `INSERT INTO reading (studio_id, id, card_id, step_no, seat_id, account_id, source, entered, mass_mg, verdict, off_by, advice, at)
       VALUES ($1, $2, $3, $4, $5, $6, $7, '1', 1, 'under', 0, '', now())`,
      [studio.studioId, id, seat.bench.card.id, caustic(), source === 'paper' ? null : seat.id, source === 'paper' ? studio.ids.assistant : null, source],
    ),
  second: (readingId: string) =>
    write(
      'reading-checked',
      `INSERT INTO reading_check (studio_id, id, reading_id, by_name, seat_id, entered, mass_mg, agrees, at) VALUES ($1, $2, $3, 'Bea', $4, '1', 1, true, now())`,
      [studio.studioId, newId(), readingId, seat.id],
    ),
  stop: (kind = 'stopped') =>
    write(`room-${kind}`, `INSERT INTO class_stop (studio_id, id, class_id, kind, by_name, seat_id, reason, at) VALUES ($1, $2, $3, $5, '', $4, '', now())`, [
      studio.studioId,
      newId(),
      seat.bench.classId,
      seat.id,
      kind,
    ]),
  lapse: () => write('gear-lapsed', ACT, [studio.studioId, newId(), seat.id, seat.bench.card.id, 'lapsed', null, 'glove', null]),
  countersign: (accountId: string, validForMs = ONE_HOUR_MS) =>
    write('gear-countersigned', ACT, [
      studio.studioId,
      newId(),
      seat.id,
      seat.bench.card.id,
      'countersigned',
      accountId,
      null,
      new Date(Date.now() + validForMs),
    ]),
  join: (id = newId()) => write('seat-joined', SEAT, [studio.studioId, id, seat.bench.classId, seat.bench.classStationId, 'Late', id], id),
  left: () => write('seat-signed-out', 'UPDATE seat SET signed_out_at = now() WHERE id = $1', [seat.id], seat.id),
  over: (status: string) => write(`class-${status}`, `UPDATE class SET status = $2 WHERE id = $1`, [seat.bench.classId, status]),
  reissue: () =>
    write(
      'card-reissued',
      `INSERT INTO weigh_card (studio_id, id, class_id, class_station_id, recipe_version_id, number, issue, content, issued_at, issued_by)
       SELECT studio_id, $2, class_id, class_station_id, recipe_version_id, number, issue + 1, content, now(), issued_by FROM weigh_card WHERE id = $1`,
      [seat.bench.card.id, newId()],
    ),
};

/** Writes in a transaction that is rolled back, and says what the check finds. */
async function found(plant: () => Promise<void>, accounts?: ReadonlyMap<string, string>): Promise<string[]> {
  await studio.admin.query('BEGIN');
  try {
    await plant();
    return auditClass(await happeningsOf(studio.admin, seat.bench.classId), accounts);
  } finally {
    await studio.admin.query('ROLLBACK');
  }
}

const PLANTED: [name: string, plant: () => Promise<void>, says: RegExp][] = [
  [
    'a step in a stopped room',
    inOrder(
      () => writes.stop(),
      () => writes.step(),
    ),
    /the room is stopped/,
  ],
  [
    'a reading in a stopped room',
    inOrder(
      () => writes.stop(),
      () => writes.reading(),
    ),
    /reading .* the room is stopped/,
  ],
  [
    'a reading behind a lapse',
    inOrder(
      () => writes.lapse(),
      () => writes.reading(),
    ),
    /1 of 1 people are not signed off/,
  ],
  [
    'a step beside somebody who just came',
    inOrder(
      () => writes.join(),
      () => writes.step(),
    ),
    /1 of 2 people are not signed off/,
  ],
  [
    'a paper line beside somebody never signed',
    inOrder(
      () => writes.join(),
      () => writes.reading(newId(), 'paper'),
    ),
    /no sign-off on record/,
  ],
  [
    'a reading on a card that was replaced',
    inOrder(
      () => writes.reissue(),
      () => writes.reading(),
    ),
    /the card was replaced/,
  ],
  [
    'a reading by somebody who left',
    inOrder(
      () => writes.left(),
      () => writes.reading(),
    ),
    /the person is not there/,
  ],
  ['a step skipped', () => writes.step(caustic() + 1), /comes first/],
  [
    'a reading in a closed class',
    inOrder(
      () => writes.over('closed'),
      () => writes.reading(),
    ),
    /the class is closed/,
  ],
  [
    'a paper line in a cancelled class',
    inOrder(
      () => writes.over('cancelled'),
      () => writes.reading(newId(), 'paper'),
    ),
    /the class is cancelled/,
  ],
  [
    'a countersignature of nothing confirmed',
    inOrder(
      () => writes.lapse(),
      () => writes.countersign(studio.ids.instructor),
    ),
    /not every item/,
  ],
  [
    'a step behind a sign-off that ran out',
    inOrder(
      () => writes.countersign(studio.ids.instructor, -1),
      () => writes.step(),
    ),
    /1 of 1 people/,
  ],
];
test.each(PLANTED)('the check finds %s', async (_, plant, says) => {
  expect(await found(plant)).toContainEqual(expect.stringMatching(says));
});

test('it finds a second reading while the room is stopped, and the wearer’s own signature', async () => {
  const id = newId();
  const late = inOrder(
    () => writes.reading(id),
    () => writes.stop(),
    () => writes.second(id),
  );
  expect(await found(late)).toEqual([expect.stringMatching(/second reading .* the room is stopped/)]);
  const own = new Map([[seat.id, studio.ids.instructor]]);
  expect(await found(async () => {}, own)).toEqual([expect.stringMatching(/the wearer signed/)]);
});

test('it finds nothing in what the service let through, nor in a stop that was cleared or a paper line after a close', async () => {
  const step = firstCaustic(seat);
  await ok(read(seat, step, goodEntry(step)));
  expect(await found(async () => {})).toEqual([]);
  expect(
    await found(
      inOrder(
        () => writes.stop(),
        () => writes.stop('cleared'),
        () => writes.reading(),
      ),
    ),
  ).toEqual([]);
  expect(
    await found(
      inOrder(
        () => writes.over('closed'),
        () => writes.reading(newId(), 'paper'),
      ),
    ),
  ).toEqual([]);
});

test('it follows a whole card to its end', async () => {
  for (const step of stepsOf(seat)) if (step.no >= caustic()) await finish(seat, step);
  expect((await done(seat, caustic())).statusCode).toBe(409);
  const history = await happeningsOf(studio.admin, seat.bench.classId);
  expect(auditClass(history)).toEqual([]);
  const steps = history.flatMap((each) => (each.what === 'act' && each.of === 'step' ? [each.stepNo] : []));
  expect(steps).toEqual(stepsOf(seat).map((step) => step.no));
});
