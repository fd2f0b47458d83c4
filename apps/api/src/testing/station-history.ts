import type { CardContent } from '@ashwater/contracts';

/** Anything that answers SQL: the superuser's client, inside a transaction of its own or not. */
type Client = { query<Row extends object>(sql: string, values: unknown[]): Promise<{ rows: Row[] }> };

/** One thing that happened in a class, as the database has it. `seq` orders by commit; `xid` is the transaction that wrote it. */
export type Happening = { seq: number; xid: string } & (
  | { what: 'came'; seatId: string; stationId: string }
  | { what: 'out'; seatId: string }
  | { what: 'confirmed'; seatId: string; cardId: string; itemKey: string; atMs: number }
  | { what: 'countersigned'; seatId: string; cardId: string; validUntil: number; accountId: string; atMs: number }
  | { what: 'lapsed'; seatId: string; cardId: string }
  | { what: 'stopped' }
  | { what: 'cleared' }
  | { what: 'closed' }
  | { what: 'cancelled' }
  | { what: 'issued'; cardId: string; stationId: string; content: CardContent }
  | { what: 'changed'; cardId: string; stepNo: number; steps: CardContent['steps']; removed: number[] }
  | { what: 'act'; of: 'step' | 'reading' | 'second reading'; cardId: string; stepNo: number; seatId: string | null; paper: boolean; atMs: number }
);

/*
 * Order of commit: the event counter is held until its transaction ends, so a lower number was committed first. Rows of history
 * are never changed, so xmin is the transaction that wrote them, and that of the events it announced. Seats do change: what
 * happened to them is read from the events alone. Within a transaction, which copies a whole printed card, cmin tells the order.
 */
const HAPPENINGS = `
WITH told AS (SELECT xmin::text AS xid, min(seq)::float8 AS seq FROM event WHERE class_id = $1 GROUP BY 1),
cards AS (SELECT * FROM weigh_card WHERE class_id = $1),
all_rows AS (
  SELECT e.xmin::text AS xid, e.cmin::text::int AS command, json_build_object('what', 'came', 'seatId', subject_id, 'stationId', class_station_id) AS row, 0 AS nth FROM event e WHERE class_id = $1 AND kind = 'seat-joined'
  UNION ALL (SELECT DISTINCT ON (xmin::text) xmin::text, cmin::text::int, json_build_object('what', 'came', 'seatId', subject_id, 'stationId', class_station_id), 1 FROM event
    WHERE class_id = $1 AND kind = 'seat-moved' ORDER BY xmin::text, seq DESC)
  UNION ALL SELECT e.xmin::text, e.cmin::text::int, json_build_object('what', 'out', 'seatId', subject_id), 0 FROM event e WHERE class_id = $1 AND kind = 'seat-signed-out'
  UNION ALL SELECT e.xmin::text, e.cmin::text::int, json_build_object('what', substr(kind, 7)), 0 FROM event e WHERE class_id = $1 AND kind IN ('class-closed', 'class-cancelled')
  UNION ALL SELECT g.xmin::text, g.cmin::text::int, json_build_object('what', g.kind, 'seatId', seat_id, 'cardId', card_id, 'itemKey', item_key,
    'atMs', extract(epoch FROM at) * 1000,
    'validUntil', extract(epoch FROM valid_until) * 1000, 'accountId', account_id), g.seq FROM gear_act g WHERE card_id IN (SELECT id FROM cards)
  UNION ALL SELECT s.xmin::text, s.cmin::text::int, json_build_object('what', s.kind), 0 FROM class_stop s WHERE class_id = $1
  UNION ALL SELECT w.xmin::text, w.cmin::text::int, json_build_object('what', 'issued', 'cardId', id, 'stationId', class_station_id, 'content', content), 0 FROM weigh_card w WHERE class_id = $1
  UNION ALL SELECT h.xmin::text, h.cmin::text::int, json_build_object('what', 'changed', 'cardId', card_id, 'stepNo', step_no, 'steps', content->'steps', 'removed', content->'removed'), 0
    FROM card_change h WHERE card_id IN (SELECT id FROM cards)
  UNION ALL SELECT r.xmin::text, r.cmin::text::int, json_build_object('what', 'act', 'of', 'reading', 'cardId', card_id, 'stepNo', step_no, 'seatId', seat_id,
    'paper', source = 'paper', 'atMs', extract(epoch FROM at) * 1000), 0 FROM reading r WHERE card_id IN (SELECT id FROM cards)
  UNION ALL SELECT k.xmin::text, k.cmin::text::int, json_build_object('what', 'act', 'of', 'second reading', 'cardId', card_id, 'stepNo', step_no, 'seatId', k.seat_id,
    'paper', k.xmin = r.xmin, 'atMs', extract(epoch FROM k.at) * 1000), 1 FROM reading_check k JOIN reading r ON r.id = k.reading_id WHERE card_id IN (SELECT id FROM cards)
  UNION ALL SELECT t.xmin::text, t.cmin::text::int, json_build_object('what', 'act', 'of', 'step', 'cardId', card_id, 'stepNo', step_no, 'seatId', seat_id,
    'paper', account_id IS NOT NULL, 'atMs', extract(epoch FROM at) * 1000), 2 FROM card_step t WHERE card_id IN (SELECT id FROM cards))
SELECT coalesce(told.seq, 0) AS seq, all_rows.xid, row FROM all_rows LEFT JOIN told USING (xid)
ORDER BY 1, command, nth`;

/** Everything that happened in a class, in the order it was committed. */
export async function happeningsOf(client: Client, classId: string): Promise<Happening[]> {
  const { rows } = await client.query<{ seq: number; xid: string; row: object }>(HAPPENINGS, [classId]);
  return rows.map(({ seq, xid, row }) => ({ seq, xid, ...row }) as Happening);
}
