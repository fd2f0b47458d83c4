import type { LiveEvent } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';

export const CHANNEL = 'ashwater_live';
export type NewEvent = { kind: string; classId: string | null; classStationId: string | null; subjectId: string | null };

/**
 * Numbers and stores an event, and tells the listeners at commit. The number comes from a counter row this transaction
 * holds until it commits, so that nobody resuming after number n can miss a lower one that commits later.
 */
export async function append(tx: Tx, studioId: string, event: NewEvent, at: Date): Promise<void> {
  await tx.rows(
    `WITH next AS (
       INSERT INTO studio_counter (studio_id, name, value) VALUES ($1::uuid, 'event', 1)
       ON CONFLICT (studio_id, name) DO UPDATE SET value = studio_counter.value + 1 RETURNING value),
     line AS (
       INSERT INTO event (studio_id, seq, kind, class_id, class_station_id, subject_id, at)
       SELECT $1::uuid, value, $2::text, $3::uuid, $4::uuid, $5::uuid, $6::timestamptz FROM next RETURNING seq)
     SELECT pg_notify('${CHANNEL}', json_build_object('studioId', $1::text, 'seq', seq, 'kind', $2::text, 'classId', $3::text,
       'classStationId', $4::text, 'subjectId', $5::text)::text)::text FROM line`,
    [studioId, event.kind, event.classId, event.classStationId, event.subjectId, at],
  );
}

export async function since(tx: Tx, studioId: string, seq: number, limit: number): Promise<LiveEvent[]> {
  return tx.rows<LiveEvent>(
    `SELECT seq::int AS seq, kind, class_id AS "classId", class_station_id AS "classStationId", subject_id AS "subjectId"
     FROM event WHERE studio_id = $1::uuid AND seq > $2 ORDER BY seq LIMIT $3`,
    [studioId, seq, limit],
  );
}

export async function lastSeq(tx: Tx, studioId: string): Promise<number> {
  const [row] = await tx.rows<{ value: number }>(`SELECT value::int AS value FROM studio_counter WHERE studio_id = $1::uuid AND name = 'event'`, [studioId]);
  return row?.value ?? 0;
}
