import type { Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';
import type { CountResult, Moved } from './balance.ts';
import type { PeriodRow } from './period.ts';
import { WEIGHED_MG, WEIGHING_OF_MOVE } from './weighed-sql.ts';

/** The newest line that the last count of this substance knew; 0 before the first count. */
export async function lastCountSeq(tx: Tx, studioId: string, substance: Substance): Promise<number> {
  const [row] = await tx.rows<{ seq: number }>(
    `SELECT coalesce(max(n.ledger_seq), 0)::bigint AS seq FROM stock_count n
     JOIN stock_count_line i ON i.studio_id = n.studio_id AND i.count_id = n.id
     JOIN container c ON c.studio_id = i.studio_id AND c.id = i.container_id
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     WHERE n.studio_id = $1::uuid AND l.substance = $2`,
    [studioId, substance],
  );
  return row?.seq ?? 0;
}

/** What the ledger moved into and out of these containers, up to line `sinceSeq` and after it. */
export async function moved(tx: Tx, studioId: string, containerIds: string[], sinceSeq: number): Promise<Moved> {
  const [row] = await tx.rows<Moved>(
    `WITH place AS (SELECT 'container:' || id AS name FROM unnest($2::uuid[]) AS t(id)),
     move AS (
       SELECT l.seq, l.mass_mg, true AS came FROM ledger_line l JOIN place ON place.name = l.to_place WHERE l.studio_id = $1::uuid
       UNION ALL SELECT l.seq, l.mass_mg, false FROM ledger_line l JOIN place ON place.name = l.from_place WHERE l.studio_id = $1::uuid)
     SELECT coalesce(sum(CASE WHEN came THEN mass_mg ELSE -mass_mg END) FILTER (WHERE seq <= $3::bigint), 0)::bigint AS "openingMg",
       coalesce(sum(mass_mg) FILTER (WHERE seq > $3::bigint AND came), 0)::bigint AS "receiptsMg",
       coalesce(sum(mass_mg) FILTER (WHERE seq > $3::bigint AND NOT came), 0)::bigint AS "removalsMg" FROM move`,
    [studioId, containerIds, sinceSeq],
  );
  return row ?? { openingMg: 0, receiptsMg: 0, removalsMg: 0 };
}

export type BookWeighing = { stepMg: number; massMg: number; sign: 1 | -1; scaleId: string | null; times: number };
/** Every weighing behind the book of these containers, those alike as one with their number. */
export const weighings = (tx: Tx, studioId: string, containerIds: string[]): Promise<BookWeighing[]> =>
  tx.rows(
    `WITH bottle AS (SELECT id, 'container:' || id AS place, gross_mg FROM container WHERE studio_id = $1::uuid AND id = ANY ($2::uuid[])),
     move AS (
       SELECT l.*, b.gross_mg, 1 AS sign FROM ledger_line l JOIN bottle b ON b.place = l.to_place WHERE l.studio_id = $1::uuid
       UNION ALL SELECT l.*, b.gross_mg, -1 FROM ledger_line l JOIN bottle b ON b.place = l.from_place WHERE l.studio_id = $1::uuid)
     SELECT m.scale_step_mg AS "stepMg", m.sign, m.scale_id AS "scaleId", ${WEIGHED_MG} AS "massMg", count(*) AS times
     FROM move m ${WEIGHING_OF_MOVE}
     WHERE ${WEIGHED_MG} IS NOT NULL GROUP BY 1, 2, 3, 4`,
    [studioId, containerIds],
  );

/** What is kept of a result: what is told, and the period's row for the running test. */
export type KeptResult = CountResult & { row?: PeriodRow };

export type NewCount = {
  id: string;
  scaleStepMg: number;
  scaleId: string | null;
  ledgerSeq: number;
  results: KeptResult[];
  lines: { containerId: string; grossMg: number; netMg: number; firstMg: number | null; bookMg: number }[];
};
export async function insertCount(tx: Tx, by: Posting, count: NewCount): Promise<void> {
  await tx.rows(
    `INSERT INTO stock_count (studio_id, id, at, account_id, scale_step_mg, ledger_seq, results, scale_id)
     VALUES ($1::uuid, $2::uuid, $3::timestamptz, $4::uuid, $5::bigint, $6::bigint, $7::text::jsonb, $8::uuid)`,
    [by.studioId, count.id, by.at, by.accountId, count.scaleStepMg, count.ledgerSeq, JSON.stringify(count.results), count.scaleId],
  );
  await tx.rows(
    `INSERT INTO stock_count_line (studio_id, count_id, container_id, gross_mg, net_mg, book_mg, first_gross_mg)
     SELECT $1::uuid, $2::uuid, * FROM unnest($3::uuid[], $4::bigint[], $5::bigint[], $6::bigint[], $7::bigint[])`,
    [
      by.studioId,
      count.id,
      count.lines.map((l) => l.containerId),
      count.lines.map((l) => l.grossMg),
      count.lines.map((l) => l.netMg),
      count.lines.map((l) => l.bookMg),
      count.lines.map((l) => l.firstMg),
    ],
  );
}

export type CountRow = { id: string; at: Date; byName: string; scaleStepMg: number; results: KeptResult[] };
export const counts = (tx: Tx, studioId: string, id: string | null): Promise<CountRow[]> =>
  tx.rows<CountRow>(
    `SELECT n.id, n.at, a.name AS "byName", n.scale_step_mg AS "scaleStepMg", n.results FROM stock_count n
     JOIN account a ON a.studio_id = n.studio_id AND a.id = n.account_id
     WHERE n.studio_id = $1::uuid AND ($2::uuid IS NULL OR n.id = $2::uuid) ORDER BY n.at DESC, n.id DESC LIMIT 100`,
    [studioId, id],
  );

/** What write-offs of the container of a count's line `i` take out of its book, mg, of those not refused for which `where` holds. */
const writtenOffMg = (where: string): string => `coalesce((
  SELECT sum(CASE WHEN q.content->>'toPlace' = 'unaccounted' THEN 1 ELSE -1 END * (q.content->>'massMg')::bigint) FROM stock_request q
  LEFT JOIN stock_decision d ON d.studio_id = q.studio_id AND d.request_id = q.id
  WHERE q.studio_id = i.studio_id AND q.kind = 'write-off' AND d.outcome IS DISTINCT FROM 'refused'
    AND 'container:' || i.container_id IN (q.content->>'fromPlace', q.content->>'toPlace') AND ${where}), 0)`;

/** Of a count's line `i`: its difference, less every write-off that names it. */
const OWN_LEFT_MG = `i.book_mg - i.net_mg - ${writtenOffMg(`q.content->>'countId' = i.count_id::text`)}`;
/** Write-offs that name another count and that the book figure of line `i` does not hold yet: they explain the same loss. */
const ELSEWHERE_MG = writtenOffMg(`q.content->>'countId' <> i.count_id::text
  AND (d.at IS NULL OR d.at >= (SELECT n.at FROM stock_count n WHERE n.studio_id = i.studio_id AND n.id = i.count_id))`);
/** What is still to be explained: never more than the count found, and never the other way round. */
const TO_EXPLAIN_MG = `(SELECT CASE WHEN own > 0 THEN greatest(0, least(own, own - elsewhere)) ELSE least(0, greatest(own, own - elsewhere)) END
  FROM (SELECT ${OWN_LEFT_MG} AS own, ${ELSEWHERE_MG} AS elsewhere) AS t)::bigint`;

/** What is still to be explained of a count's difference in one container, mg; undefined where the count did not weigh it. */
export async function toExplainMg(tx: Tx, studioId: string, countId: string, containerId: string): Promise<number | undefined> {
  const [row] = await tx.rows<{ mg: number }>(
    `SELECT ${TO_EXPLAIN_MG} AS mg FROM stock_count_line i WHERE i.studio_id = $1::uuid AND i.count_id = $2::uuid AND i.container_id = $3::uuid`,
    [studioId, countId, containerId],
  );
  return row?.mg;
}

export type CountLineRow = {
  countId: string;
  containerId: string;
  toExplainMg: number;
  containerLabel: string;
  substance: Substance;
  grossMg: number;
  netMg: number;
  bookMg: number;
};
export const countLines = (tx: Tx, studioId: string, countIds: string[]): Promise<CountLineRow[]> =>
  tx.rows<CountLineRow>(
    `SELECT i.count_id AS "countId", i.container_id AS "containerId", ${TO_EXPLAIN_MG} AS "toExplainMg", c.label AS "containerLabel", l.substance, i.gross_mg AS "grossMg", i.net_mg AS "netMg", i.book_mg AS "bookMg"
     FROM stock_count_line i
     JOIN container c ON c.studio_id = i.studio_id AND c.id = i.container_id
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     WHERE i.studio_id = $1::uuid AND i.count_id = ANY ($2::uuid[]) ORDER BY c.label`,
    [studioId, countIds],
  );
