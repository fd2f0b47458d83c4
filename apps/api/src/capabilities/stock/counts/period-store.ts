import type { Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { PeriodRow } from './period.ts';
import { WEIGHED_MG, WEIGHING_OF_MOVE } from './weighed-sql.ts';

export type LastCount = {
  containerId: string;
  countId: string;
  at: Date;
  seq: number;
  netMg: number;
  grossMg: number;
  scaleStepMg: number;
  scaleId: string | null;
};
/** The newest count of each of these containers that was counted before. */
export const lastCounts = (tx: Tx, studioId: string, containerIds: string[]): Promise<LastCount[]> =>
  tx.rows<LastCount>(
    `SELECT DISTINCT ON (i.container_id) i.container_id AS "containerId", n.id AS "countId", n.at, n.ledger_seq AS seq, i.net_mg AS "netMg",
       i.gross_mg AS "grossMg", n.scale_step_mg AS "scaleStepMg", n.scale_id AS "scaleId"
     FROM stock_count_line i JOIN stock_count n ON n.studio_id = i.studio_id AND n.id = i.count_id
     WHERE i.studio_id = $1::uuid AND i.container_id = ANY ($2::uuid[]) ORDER BY i.container_id, n.at DESC, n.ledger_seq DESC, n.id DESC`,
    [studioId, containerIds],
  );

export type MoveRow = { containerId: string; sign: 1 | -1; massMg: number; weighedMg: number | null; scaleStepMg: number; scaleId: string | null };
/**
 * What moved into and out of each container after the line that its last count knew, and what was weighed for it. A write-off moves the book
 * and not the shelf; a reversal or a correction of what was booked before that count is in the count already: both are left out.
 */
export const movesSince = (tx: Tx, studioId: string, containers: { id: string; sinceSeq: number }[]): Promise<MoveRow[]> =>
  tx.rows<MoveRow>(
    `WITH bottle AS (
       SELECT c.id, 'container:' || c.id AS place, c.gross_mg, t.since FROM unnest($2::uuid[], $3::bigint[]) AS t(id, since)
       JOIN container c ON c.studio_id = $1::uuid AND c.id = t.id),
     move AS (
       SELECT l.*, b.id AS container_id, b.gross_mg, b.since, 1 AS sign FROM bottle b
         JOIN ledger_line l ON l.studio_id = $1::uuid AND l.to_place = b.place AND l.seq > b.since
       UNION ALL SELECT l.*, b.id, b.gross_mg, b.since, -1 FROM bottle b
         JOIN ledger_line l ON l.studio_id = $1::uuid AND l.from_place = b.place AND l.seq > b.since)
     SELECT m.container_id AS "containerId", m.sign, m.mass_mg AS "massMg", m.scale_step_mg AS "scaleStepMg", m.scale_id AS "scaleId",
       ${WEIGHED_MG} AS "weighedMg"
     FROM move m ${WEIGHING_OF_MOVE}
     LEFT JOIN ledger_line o ON o.studio_id = m.studio_id AND o.seq = m.reverses_seq
     LEFT JOIN stock_request q ON q.studio_id = m.studio_id AND q.id = m.request_id
     WHERE m.kind <> 'write-off' AND o.kind IS DISTINCT FROM 'write-off' AND coalesce(o.seq, (q.content->>'aboutSeq')::bigint, m.since + 1) > m.since`,
    [studioId, containers.map(({ id }) => id), containers.map(({ sinceSeq }) => sinceSeq)],
  );

/** Rows of the running test, oldest first, of the newest counts of a substance. Each with the time of its count. */
export const rowsOf = async (tx: Tx, studioId: string, substance: Substance, newest: number): Promise<{ at: Date; row: PeriodRow }[]> =>
  (
    await tx.rows<{ at: Date; row: PeriodRow }>(
      `SELECT n.at, r->'row' AS row FROM stock_count n CROSS JOIN LATERAL jsonb_array_elements(n.results) AS r
       WHERE n.studio_id = $1::uuid AND r->>'substance' = $2 AND r ? 'row' ORDER BY n.at DESC, n.ledger_seq DESC, n.id DESC LIMIT $3`,
      [studioId, substance, newest],
    )
  ).reverse();
