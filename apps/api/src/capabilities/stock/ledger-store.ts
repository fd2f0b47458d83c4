import type { Tx } from '../../plugins/database/database.ts';
import { assertMovement, BOUNDLESS } from './ledger.ts';
import type { Movement } from './ledger.ts';

export type Posting = { studioId: string; accountId: string; at: Date };

/**
 * Moves mass: both balances and the ledger line in one statement, so that no reader and no crash sees one without the other.
 * A place that holds less gives nothing; only what lies outside the studio (BOUNDLESS) may go below nothing. The chain's head is locked first, which
 * puts the movements of a studio in one order: two of them in opposite directions would otherwise wait for each other.
 * @returns the line's number, or undefined when the place holds less
 */
export async function postLine(tx: Tx, by: Posting, line: Movement): Promise<number | undefined> {
  assertMovement(line);
  const [posted] = await tx.rows<{ seq: number }>(
    `WITH turn AS MATERIALIZED (SELECT 1 FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger' FOR UPDATE),
     ready AS (SELECT count(*) FROM turn),
     drawn AS (
       UPDATE place_balance SET balance_mg = balance_mg - $7::bigint FROM ready
       WHERE studio_id = $1::uuid AND place = $5::text AND lot_id = $4::uuid AND NOT place = ANY ($16::text[]) AND balance_mg >= $7::bigint
       RETURNING 1),
     supplied AS (
       INSERT INTO place_balance (studio_id, place, lot_id, balance_mg)
       SELECT $1::uuid, $5::text, $4::uuid, -$7::bigint FROM ready WHERE $5::text = ANY ($16::text[])
       ON CONFLICT (studio_id, place, lot_id) DO UPDATE SET balance_mg = place_balance.balance_mg + EXCLUDED.balance_mg
       RETURNING 1),
     source AS (SELECT 1 FROM drawn UNION ALL SELECT 1 FROM supplied),
     target AS (
       INSERT INTO place_balance (studio_id, place, lot_id, balance_mg)
       SELECT $1::uuid, $6::text, $4::uuid, $7::bigint FROM source
       ON CONFLICT (studio_id, place, lot_id) DO UPDATE SET balance_mg = place_balance.balance_mg + EXCLUDED.balance_mg),
     line AS (
       INSERT INTO ledger_line (studio_id, seq, id, at, kind, lot_id, from_place, to_place, mass_mg, scale_step_mg, account_id, subject_id, reason, scale_id, reverses_seq, request_id,
         previous_hash, hash)
       SELECT $1::uuid, 0, $2::uuid, $9::timestamptz, $3::text, $4::uuid, $5::text, $6::text, $7::bigint, $8::bigint, $10::uuid, $11::uuid, $12::text, $13::uuid,
         $14::bigint, $15::uuid, '', '' FROM source
       RETURNING seq)
     SELECT seq FROM line`,
    [
      by.studioId,
      line.id,
      line.kind,
      line.lotId,
      line.fromPlace,
      line.toPlace,
      line.massMg,
      line.scaleStepMg,
      by.at,
      by.accountId,
      line.subjectId,
      line.reason,
      line.scaleId ?? null,
      line.reversesSeq ?? null,
      line.requestId ?? null,
      BOUNDLESS,
    ],
  );
  return posted?.seq;
}

/** Keeps the ledger still until this transaction ends. @returns the number of its newest line */
export async function holdLedger(tx: Tx, studioId: string): Promise<number> {
  const [head] = await tx.rows<{ seq: number }>(`SELECT seq FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger' FOR UPDATE`, [studioId]);
  return head?.seq ?? 0;
}

export async function balanceMg(tx: Tx, studioId: string, place: string, lotId: string): Promise<number> {
  const [row] = await tx.rows<{ mg: number }>('SELECT balance_mg AS mg FROM place_balance WHERE studio_id = $1::uuid AND place = $2 AND lot_id = $3::uuid', [
    studioId,
    place,
    lotId,
  ]);
  return row?.mg ?? 0;
}

/** Container labels, class titles and jar numbers by id. */
export async function placeNames(
  tx: Tx,
  studioId: string,
  ids: { containerIds: string[]; classIds: string[]; jarIds: string[] },
): Promise<Map<string, string>> {
  const rows = await tx.rows<{ id: string; name: string }>(
    `SELECT id, label AS name FROM container WHERE studio_id = $1::uuid AND id = ANY ($2::uuid[])
     UNION ALL SELECT id, title FROM class WHERE studio_id = $1::uuid AND id = ANY ($3::uuid[])
     UNION ALL SELECT id, number FROM jar WHERE studio_id = $1::uuid AND id = ANY ($4::uuid[])`,
    [studioId, ids.containerIds, ids.classIds, ids.jarIds],
  );
  return new Map(rows.map((row) => [row.id, row.name]));
}

/** The ledger's last line by the record of it, without reading the ledger. */
export async function ledgerHead(tx: Tx, studioId: string): Promise<{ seq: number; hash: string } | undefined> {
  const [row] = await tx.rows<{ seq: number; hash: string }>(
    `SELECT seq, encode(hash, 'hex') AS hash FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger'`,
    [studioId],
  );
  return row;
}

export async function lineCount(tx: Tx, studioId: string): Promise<number> {
  const [row] = await tx.rows<{ lines: number }>('SELECT count(*) AS lines FROM ledger_line WHERE studio_id = $1::uuid', [studioId]);
  return row?.lines ?? 0;
}

export const ledgerFaults = (tx: Tx): Promise<{ seq: number | null; fault: string }[]> =>
  tx.rows('SELECT seq, fault FROM ledger_faults() ORDER BY seq NULLS LAST');
