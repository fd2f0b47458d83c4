import type { BalanceOfSubstance, Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type ReportContent = { substances: BalanceOfSubstance[]; lines: number };
export type NewReport = { id: string; number: string; fromDay: string; toDay: string; content: ReportContent; headSeq: number; headHash: string };

export async function insertReport(tx: Tx, by: Posting, r: NewReport): Promise<void> {
  await tx.rows(
    `INSERT INTO balance_report (studio_id, id, number, from_day, to_day, content, head_seq, head_hash, made_by, at)
     VALUES ($1::uuid, $2::uuid, $3, $4::date, $5::date, $6::text::jsonb, $7::bigint, decode($8, 'hex'), $9::uuid, $10::timestamptz)`,
    [by.studioId, r.id, r.number, r.fromDay, r.toDay, JSON.stringify(r.content), r.headSeq, r.headHash, by.accountId, by.at],
  );
}

export type ReportRow = {
  id: string;
  number: string;
  fromDay: string;
  toDay: string;
  at: Date;
  byName: string;
  content: ReportContent;
  headSeq: number;
  headHash: string;
  stillThere: boolean;
  signatures: number;
};
/** Reports, newest first, or one. `stillThere`: the ledger has the line the report was closed on, with the hash it had. */
export const reports = (tx: Tx, studioId: string, id: string | null = null): Promise<ReportRow[]> =>
  tx.rows<ReportRow>(
    `SELECT r.id, r.number, r.from_day::text AS "fromDay", r.to_day::text AS "toDay", r.at, a.name AS "byName", r.content, r.head_seq AS "headSeq",
       encode(r.head_hash, 'hex') AS "headHash",
       r.head_seq = 0 OR EXISTS (SELECT FROM ledger_line l WHERE l.studio_id = r.studio_id AND l.seq = r.head_seq AND l.hash = r.head_hash) AS "stillThere",
       (SELECT count(*)::int FROM balance_signature s WHERE s.studio_id = r.studio_id AND s.report_id = r.id) AS signatures
     FROM balance_report r JOIN account a ON a.studio_id = r.studio_id AND a.id = r.made_by
     WHERE r.studio_id = $1::uuid AND ($2::uuid IS NULL OR r.id = $2::uuid) ORDER BY r.at DESC LIMIT 200`,
    [studioId, id],
  );

/** @returns false when this person signed it already */
export async function insertSignature(tx: Tx, by: Posting, reportId: string): Promise<boolean> {
  const signed = await tx.rows(
    `INSERT INTO balance_signature (studio_id, report_id, account_id, at) VALUES ($1::uuid, $2::uuid, $3::uuid, $4::timestamptz)
     ON CONFLICT DO NOTHING RETURNING report_id`,
    [by.studioId, reportId, by.accountId, by.at],
  );
  return signed.length > 0;
}
export const signatures = (tx: Tx, studioId: string, reportId: string): Promise<{ accountId: string; byName: string; at: Date }[]> =>
  tx.rows(
    `SELECT s.account_id AS "accountId", a.name AS "byName", s.at FROM balance_signature s
     JOIN account a ON a.studio_id = s.studio_id AND a.id = s.account_id WHERE s.studio_id = $1::uuid AND s.report_id = $2::uuid ORDER BY s.at`,
    [studioId, reportId],
  );

export async function head(tx: Tx, studioId: string): Promise<{ seq: number; hash: string }> {
  const [row] = await tx.rows<{ seq: number; hash: string }>(
    `SELECT seq, encode(hash, 'hex') AS hash FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger' FOR UPDATE`,
    [studioId],
  );
  return row ?? { seq: 0, hash: '00' };
}

/** What moved over the shelf's edge on each day since `from`, by substance: in less out. */
export const dailyMoves = (tx: Tx, studioId: string, zone: string, from: Date): Promise<{ day: string; substance: Substance; mg: number }[]> =>
  tx.rows(
    `SELECT (l.at AT TIME ZONE $2)::date::text AS day, lot.substance,
       sum(CASE WHEN l.to_place LIKE 'container:%' THEN l.mass_mg ELSE -l.mass_mg END)::bigint AS mg
     FROM ledger_line l JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
     WHERE l.studio_id = $1::uuid AND l.at >= $3::timestamptz AND (l.to_place LIKE 'container:%') <> (l.from_place LIKE 'container:%')
     GROUP BY 1, 2 ORDER BY 1`,
    [studioId, zone, from],
  );

export type ClassUse = { classId: string; title: string; day: string; substance: Substance; plannedMg: number; usedMg: number };
/** The newest classes whose caustic came back: what their cards in force wanted, and what left the cabinet for good. */
export const classUse = (tx: Tx, studioId: string, zone: string): Promise<ClassUse[]> =>
  tx.rows<ClassUse>(
    `WITH used AS (
       SELECT split_part(l.to_place, ':', 2)::uuid AS class_id, lot.substance, sum(l.mass_mg) AS mg FROM ledger_line l
       JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
       WHERE l.studio_id = $1::uuid AND l.kind = 'used' AND l.to_place LIKE 'product:%' GROUP BY 1, 2),
     newest AS (
       SELECT u.*, c.title, c.starts_at FROM used u JOIN class c ON c.studio_id = $1::uuid AND c.id = u.class_id ORDER BY c.starts_at DESC LIMIT 24),
     card AS (
       SELECT DISTINCT ON (w.class_station_id) w.class_id, w.content FROM weigh_card w
       WHERE w.studio_id = $1::uuid AND w.class_id IN (SELECT class_id FROM newest) ORDER BY w.class_station_id, w.issue DESC),
     planned AS (
       SELECT card.class_id, CASE line->>'kind' WHEN 'naoh' THEN 'NaOH' ELSE 'KOH' END AS substance, sum((line->>'targetMg')::bigint) AS mg
       FROM card, jsonb_array_elements(card.content->'lines') AS line WHERE line->>'kind' IN ('naoh', 'koh') GROUP BY 1, 2)
     SELECT n.class_id AS "classId", n.title, (n.starts_at AT TIME ZONE $2)::date::text AS day, n.substance, coalesce(p.mg, 0)::bigint AS "plannedMg",
       n.mg::bigint AS "usedMg"
     FROM newest n LEFT JOIN planned p ON p.class_id = n.class_id AND p.substance = n.substance ORDER BY n.starts_at, n.substance`,
    [studioId, zone],
  );
