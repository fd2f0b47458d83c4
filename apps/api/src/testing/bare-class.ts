import { newSeatToken } from '../capabilities/people/service.ts';
import { newCode, newId } from '../ids.ts';
import { callerOn } from './test-studio.ts';
import type { Caller, TestStudio } from './test-studio.ts';

export type BareClass = { classId: string; title: string; joinCode: string; stationCode: string; seatId: string; seat: Caller };

/** A class with one station and one seat, written straight into the tables: for tests of what stands around a class. */
export async function bareClass(
  { admin, app, studioId, ids }: TestStudio,
  options: { title?: string; status?: string; naohLotId?: string } = {},
): Promise<BareClass> {
  const [recipe, version, classId, station, classStation, seatId] = Array.from({ length: 6 }, () => newId());
  const made = { classId: classId!, title: options.title ?? 'Saturday beginners', joinCode: newCode(), stationCode: newCode(), seatId: seatId! };
  const token = newSeatToken(studioId);
  const run = (sql: string, values: unknown[]) => admin.query(sql, [studioId, ...values]);
  await run(`INSERT INTO recipe VALUES ($1, $2, 'Plain bar', '{}', 1, now(), $3, now())`, [recipe, ids.owner]);
  await run(`INSERT INTO recipe_version VALUES ($1, $2, $3, 1, 'Plain bar', '{}', now(), $4)`, [version, recipe, ids.owner]);
  await run(
    `INSERT INTO class (studio_id, id, title, starts_at, room, status, recipe_version_id, naoh_lot_id, join_code, created_at, created_by)
     VALUES ($1, $2, $3, now(), 'Back room', $4, $5, $6, $7, now(), $8)`,
    [made.classId, made.title, options.status ?? 'published', version, options.naohLotId ?? null, made.joinCode, ids.owner],
  );
  await run(`INSERT INTO station VALUES ($1, $2, $3, 1, 1000, 5000000, 'Loaf', 1200)`, [station, `Station ${made.stationCode}`]);
  await run(`INSERT INTO class_station VALUES ($1, $2, $3, $4, 'Station 1', 1, 1000, 5000000, 'Loaf', 1200, $5)`, [
    classStation,
    made.classId,
    station,
    made.stationCode,
  ]);
  await run(`INSERT INTO seat VALUES ($1, $2, $3, $4, 'Sam', NULL, $5, now(), NULL)`, [made.seatId, made.classId, classStation, token.hash]);
  return { ...made, seat: callerOn(app, `ashwater_seat=${token.cookie}`) };
}
