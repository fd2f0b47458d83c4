import type { LotCertificate, Substance } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import { assertMovement } from './ledger.ts';
import type { Movement } from './ledger.ts';

export type Posting = { studioId: string; accountId: string; at: Date };

/**
 * Moves mass: both balances and the ledger line in one statement, so that no reader and no crash sees one without the other.
 * A place that holds less gives nothing; only the supplier may go below nothing. The chain's head is locked first, which
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
       WHERE studio_id = $1::uuid AND place = $5::text AND lot_id = $4::uuid AND place <> 'supplier' AND balance_mg >= $7::bigint
       RETURNING 1),
     supplied AS (
       INSERT INTO place_balance (studio_id, place, lot_id, balance_mg)
       SELECT $1::uuid, 'supplier', $4::uuid, -$7::bigint FROM ready WHERE $5::text = 'supplier'
       ON CONFLICT (studio_id, place, lot_id) DO UPDATE SET balance_mg = place_balance.balance_mg + EXCLUDED.balance_mg
       RETURNING 1),
     source AS (SELECT 1 FROM drawn UNION ALL SELECT 1 FROM supplied),
     target AS (
       INSERT INTO place_balance (studio_id, place, lot_id, balance_mg)
       SELECT $1::uuid, $6::text, $4::uuid, $7::bigint FROM source
       ON CONFLICT (studio_id, place, lot_id) DO UPDATE SET balance_mg = place_balance.balance_mg + EXCLUDED.balance_mg),
     line AS (
       INSERT INTO ledger_line (studio_id, seq, id, at, kind, lot_id, from_place, to_place, mass_mg, scale_step_mg, account_id, subject_id, reason, previous_hash, hash)
       SELECT $1::uuid, 0, $2::uuid, $9::timestamptz, $3::text, $4::uuid, $5::text, $6::text, $7::bigint, $8::bigint, $10::uuid, $11::uuid, $12::text, '', '' FROM source
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

export type NewLot = LotCertificate & {
  id: string;
  supplier: string;
  lotNumber: string;
  sdsLink: string;
  sdsRevisedOn: string | null;
};
export async function insertLot(tx: Tx, by: Posting, lot: NewLot): Promise<void> {
  await tx.rows(
    `INSERT INTO lot (studio_id, id, substance, supplier, lot_number, purity_percent, purity_uncertainty_percent, sds_link, sds_revised_on, received_at, received_by,
       assay_is, carbonate_percent, water_percent)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5, $6::numeric, $7::numeric, $8, $9::date, $10::timestamptz, $11::uuid, $12, $13::numeric, $14::numeric)`,
    [
      by.studioId,
      lot.id,
      lot.substance,
      lot.supplier,
      lot.lotNumber,
      lot.purityPercent,
      lot.purityUncertaintyPercent,
      lot.sdsLink,
      lot.sdsRevisedOn,
      by.at,
      by.accountId,
      lot.assayIs,
      lot.carbonatePercent,
      lot.waterPercent,
    ],
  );
}

export type NewContainer = { id: string; lotId: string; label: string; grossMg: number; tareMg: number; scaleStepMg: number };
export async function insertContainer(tx: Tx, by: Posting, container: NewContainer): Promise<void> {
  await tx.rows(
    `INSERT INTO container (studio_id, id, lot_id, label, gross_mg, tare_mg, scale_step_mg, received_at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::bigint, $6::bigint, $7::bigint, $8::timestamptz)`,
    [by.studioId, container.id, container.lotId, container.label, container.grossMg, container.tareMg, container.scaleStepMg, by.at],
  );
}

// float8, so that both doors to the database give plain numbers; exact for three decimals and for masses below 2^53 mg
const CERTIFICATE = `substance, purity_percent::float8 AS "purityPercent", purity_uncertainty_percent::float8 AS "purityUncertaintyPercent",
  assay_is AS "assayIs", carbonate_percent::float8 AS "carbonatePercent", water_percent::float8 AS "waterPercent"`;
export type CertifiedLot = LotCertificate & { id: string; lotNumber: string };
export async function certifiedLot(tx: Tx, studioId: string, lotId: string): Promise<CertifiedLot | undefined> {
  const [row] = await tx.rows<CertifiedLot>(
    `SELECT id, lot_number AS "lotNumber", ${CERTIFICATE}
     FROM lot WHERE studio_id = $1::uuid AND id = $2::uuid`,
    [studioId, lotId],
  );
  return row;
}

export async function lotOnShelfMg(tx: Tx, studioId: string, lotId: string): Promise<number> {
  const [row] = await tx.rows<{ mg: number }>(
    `SELECT coalesce(sum(balance_mg), 0)::float8 AS mg FROM place_balance
     WHERE studio_id = $1::uuid AND lot_id = $2::uuid AND place LIKE 'container:%'`,
    [studioId, lotId],
  );
  return row?.mg ?? 0;
}

export type LotRow = NewLot & { receivedAt: Date };
export const lots = (tx: Tx, studioId: string): Promise<LotRow[]> =>
  tx.rows<LotRow>(
    `SELECT id, supplier, lot_number AS "lotNumber", ${CERTIFICATE}, sds_link AS "sdsLink", sds_revised_on AS "sdsRevisedOn", received_at AS "receivedAt"
     FROM lot WHERE studio_id = $1::uuid ORDER BY received_at DESC, id DESC`,
    [studioId],
  );

export type ContainerRow = {
  id: string;
  label: string;
  lotId: string;
  lotNumber: string;
  substance: Substance;
  tareMg: number;
  receivedMg: number;
  balanceMg: number;
  outMg: number;
};
/** Every container, or those named; `outMg` is what was handed out of it and is not accounted for by a return yet. */
export const containers = (tx: Tx, studioId: string, ids: string[] | null = null): Promise<ContainerRow[]> =>
  tx.rows<ContainerRow>(
    `SELECT c.id, c.label, c.lot_id AS "lotId", l.lot_number AS "lotNumber", l.substance, c.tare_mg AS "tareMg", c.gross_mg - c.tare_mg AS "receivedMg",
       coalesce(b.balance_mg, 0) AS "balanceMg", coalesce(o.mg, 0) AS "outMg"
     FROM container c
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     LEFT JOIN place_balance b ON b.studio_id = c.studio_id AND b.place = 'container:' || c.id AND b.lot_id = c.lot_id
     LEFT JOIN (
       SELECT k.container_id, sum(k.mass_mg)::bigint AS mg FROM checkout k
       LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
       WHERE k.studio_id = $1::uuid AND r.checkout_id IS NULL GROUP BY k.container_id) o ON o.container_id = c.id
     WHERE c.studio_id = $1::uuid AND ($2::uuid[] IS NULL OR c.id = ANY ($2::uuid[])) ORDER BY c.label`,
    [studioId, ids],
  );

export type Bottle = { label: string; lotId: string; lotNumber: string; substance: Substance };
export async function bottle(tx: Tx, studioId: string, containerId: string): Promise<Bottle | undefined> {
  const [row] = await tx.rows<Bottle>(
    `SELECT c.label, c.lot_id AS "lotId", l.lot_number AS "lotNumber", l.substance FROM container c
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id WHERE c.studio_id = $1::uuid AND c.id = $2::uuid`,
    [studioId, containerId],
  );
  return row;
}

export type ClassRow = { title: string; status: string; naohLotId: string | null; kohLotId: string | null };
export async function classById(tx: Tx, studioId: string, classId: string): Promise<ClassRow | undefined> {
  const [row] = await tx.rows<ClassRow>(
    `SELECT title, status, naoh_lot_id AS "naohLotId", koh_lot_id AS "kohLotId" FROM class WHERE studio_id = $1::uuid AND id = $2::uuid`,
    [studioId, classId],
  );
  return row;
}

export type NewCheckOut = { id: string; containerId: string; classId: string; massMg: number; scaleStepMg: number };
export async function insertCheckOut(tx: Tx, by: Posting, c: NewCheckOut): Promise<void> {
  await tx.rows(
    `INSERT INTO checkout (studio_id, id, container_id, class_id, mass_mg, scale_step_mg, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5::bigint, $6::bigint, $7::uuid, $8::timestamptz)`,
    [by.studioId, c.id, c.containerId, c.classId, c.massMg, c.scaleStepMg, by.accountId, by.at],
  );
}

/** @returns false when this checkout has a return already; waits for another return of it that is under way */
export async function insertReturn(tx: Tx, by: Posting, back: { checkOutId: string; massMg: number; scaleStepMg: number }): Promise<boolean> {
  const inserted = await tx.rows(
    `INSERT INTO checkout_return (studio_id, checkout_id, mass_mg, scale_step_mg, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::bigint, $4::bigint, $5::uuid, $6::timestamptz) ON CONFLICT DO NOTHING RETURNING checkout_id`,
    [by.studioId, back.checkOutId, back.massMg, back.scaleStepMg, by.accountId, by.at],
  );
  return inserted.length > 0;
}

export type CheckOutRow = {
  id: string;
  containerId: string;
  containerLabel: string;
  lotId: string;
  substance: Substance;
  lotNumber: string;
  classId: string;
  classTitle: string;
  massMg: number;
  scaleStepMg: number;
  at: Date;
  byName: string;
  returnedMg: number | null;
  returnedAt: Date | null;
};
export const checkOuts = (tx: Tx, studioId: string, by: { id?: string; classId?: string | undefined }): Promise<CheckOutRow[]> =>
  tx.rows<CheckOutRow>(
    `SELECT k.id, k.container_id AS "containerId", c.label AS "containerLabel", c.lot_id AS "lotId", l.substance, l.lot_number AS "lotNumber",
       k.class_id AS "classId", s.title AS "classTitle", k.mass_mg AS "massMg", k.scale_step_mg AS "scaleStepMg", k.at, a.name AS "byName",
       r.mass_mg AS "returnedMg", r.at AS "returnedAt"
     FROM checkout k
     JOIN container c ON c.studio_id = k.studio_id AND c.id = k.container_id
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     JOIN class s ON s.studio_id = k.studio_id AND s.id = k.class_id
     JOIN account a ON a.studio_id = k.studio_id AND a.id = k.account_id
     LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
     WHERE k.studio_id = $1::uuid AND ($2::uuid IS NULL OR k.id = $2::uuid) AND ($3::uuid IS NULL OR k.class_id = $3::uuid)
     ORDER BY (r.checkout_id IS NULL) DESC, k.at DESC, k.id DESC LIMIT 500`,
    [studioId, by.id ?? null, by.classId ?? null],
  );

export type LedgerRow = {
  seq: number;
  at: Date;
  kind: string;
  substance: Substance;
  lotNumber: string;
  fromPlace: string;
  toPlace: string;
  massMg: number;
  byName: string;
  reason: string;
};
export const newestLines = (tx: Tx, studioId: string, limit: number): Promise<LedgerRow[]> =>
  tx.rows<LedgerRow>(
    `SELECT l.seq, l.at, l.kind, lot.substance, lot.lot_number AS "lotNumber", l.from_place AS "fromPlace", l.to_place AS "toPlace",
       l.mass_mg AS "massMg", a.name AS "byName", l.reason
     FROM ledger_line l
     JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
     JOIN account a ON a.studio_id = l.studio_id AND a.id = l.account_id
     WHERE l.studio_id = $1::uuid ORDER BY l.seq DESC LIMIT $2`,
    [studioId, limit],
  );

/** Container labels and class titles by id. */
export async function placeNames(tx: Tx, studioId: string, ids: { containerIds: string[]; classIds: string[] }): Promise<Map<string, string>> {
  const rows = await tx.rows<{ id: string; name: string }>(
    `SELECT id, label AS name FROM container WHERE studio_id = $1::uuid AND id = ANY ($2::uuid[])
     UNION ALL SELECT id, title FROM class WHERE studio_id = $1::uuid AND id = ANY ($3::uuid[])`,
    [studioId, ids.containerIds, ids.classIds],
  );
  return new Map(rows.map((row) => [row.id, row.name]));
}

export type LedgerState = { lines: number; headHash: string | null };
export async function ledgerState(tx: Tx, studioId: string): Promise<LedgerState> {
  const [row] = await tx.rows<LedgerState>(
    `SELECT (SELECT count(*) FROM ledger_line WHERE studio_id = $1::uuid) AS lines,
       (SELECT encode(hash, 'hex') FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger') AS "headHash"`,
    [studioId],
  );
  return row ?? { lines: 0, headHash: null };
}

export const ledgerFaults = (tx: Tx): Promise<{ seq: number | null; fault: string }[]> =>
  tx.rows('SELECT seq, fault FROM ledger_faults() ORDER BY seq NULLS LAST');
