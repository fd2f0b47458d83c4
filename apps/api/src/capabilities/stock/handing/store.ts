import type { Purpose, Role, Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type Bottle = { label: string; lotId: string; lotNumber: string; substance: Substance; tareMg: number; bookMg: number };
export async function bottle(tx: Tx, studioId: string, containerId: string): Promise<Bottle | undefined> {
  const [row] = await tx.rows<Bottle>(
    `SELECT c.label, c.lot_id AS "lotId", l.lot_number AS "lotNumber", l.substance, c.tare_mg::float8 AS "tareMg", coalesce(b.balance_mg, 0)::float8 AS "bookMg"
     FROM container c
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     LEFT JOIN place_balance b ON b.studio_id = c.studio_id AND b.place = 'container:' || c.id AND b.lot_id = c.lot_id
     WHERE c.studio_id = $1::uuid AND c.id = $2::uuid`,
    [studioId, containerId],
  );
  return row;
}

/** How a container stands: what of it is in hands, whether the container itself is, and the newest thing that was done to it. */
export type Stand = { bookMg: number; outMg: number; inHands: boolean; state: string };
export async function standOf(tx: Tx, studioId: string, containerId: string): Promise<Stand> {
  const [row] = await tx.rows<Stand>(
    `SELECT coalesce((SELECT sum(balance_mg) FROM place_balance WHERE studio_id = $1::uuid AND place = 'container:' || $2::uuid), 0)::float8 AS "bookMg",
       coalesce(sum(k.mass_mg), 0)::float8 AS "outMg", coalesce(bool_or(k.whole), false) AS "inHands",
       coalesce((SELECT kind FROM container_act WHERE studio_id = $1::uuid AND container_id = $2::uuid AND kind <> 'moved' ORDER BY seq DESC LIMIT 1), 'closed') AS state
     FROM checkout k
     WHERE k.studio_id = $1::uuid AND k.container_id = $2::uuid
       AND NOT EXISTS (SELECT FROM checkout_return r WHERE r.studio_id = k.studio_id AND r.checkout_id = k.id)`,
    [studioId, containerId],
  );
  return row!;
}

export type ClassRow = { title: string; status: string; naohLotId: string | null; kohLotId: string | null };
export async function classById(tx: Tx, studioId: string, classId: string): Promise<ClassRow | undefined> {
  const [row] = await tx.rows<ClassRow>(
    `SELECT title, status, naoh_lot_id AS "naohLotId", koh_lot_id AS "kohLotId" FROM class WHERE studio_id = $1::uuid AND id = $2::uuid`,
    [studioId, classId],
  );
  return row;
}

export type Taker = { name: string; role: Role; gone: boolean };
export async function taker(tx: Tx, studioId: string, accountId: string): Promise<Taker | undefined> {
  const [row] = await tx.rows<Taker>('SELECT name, role, disabled_at IS NOT NULL AS gone FROM account WHERE studio_id = $1::uuid AND id = $2::uuid', [
    studioId,
    accountId,
  ]);
  return row;
}

export type NewCheckOut = {
  id: string;
  containerId: string;
  classId: string | null;
  purpose: Purpose;
  takenBy: string;
  massMg: number;
  whole: boolean;
  grossMg: number | null;
  scaleId: string | null;
  scaleStepMg: number;
  dueAt: string;
  remark: string;
  requestId: string | null;
};
export async function insertCheckOut(tx: Tx, by: Posting, c: NewCheckOut): Promise<void> {
  await tx.rows(
    `INSERT INTO checkout (studio_id, id, container_id, class_id, mass_mg, scale_step_mg, account_id, at, purpose, taken_by, whole, gross_mg, scale_id, due_at,
       remark, request_id)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5::bigint, $6::bigint, $7::uuid, $8::timestamptz, $9, $10::uuid, $11, $12::bigint, $13::uuid,
       $14::timestamptz, $15, $16::uuid)`,
    [
      by.studioId,
      c.id,
      c.containerId,
      c.classId,
      c.massMg,
      c.scaleStepMg,
      by.accountId,
      by.at,
      c.purpose,
      c.takenBy,
      c.whole,
      c.grossMg,
      c.scaleId,
      c.dueAt,
      c.remark,
      c.requestId,
    ],
  );
}

export type NewReturn = { checkOutId: string; massMg: number; grossMg: number | null; scaleId: string | null; scaleStepMg: number; remark: string };
/** @returns false when this checkout has a return already; waits for another return of it that is under way */
export async function insertReturn(tx: Tx, by: Posting, back: NewReturn): Promise<boolean> {
  const inserted = await tx.rows(
    `INSERT INTO checkout_return (studio_id, checkout_id, mass_mg, scale_step_mg, account_id, at, gross_mg, scale_id, remark)
     VALUES ($1::uuid, $2::uuid, $3::bigint, $4::bigint, $5::uuid, $6::timestamptz, $7::bigint, $8::uuid, $9) ON CONFLICT DO NOTHING RETURNING checkout_id`,
    [by.studioId, back.checkOutId, back.massMg, back.scaleStepMg, by.accountId, by.at, back.grossMg, back.scaleId, back.remark],
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
  purpose: Purpose;
  classId: string | null;
  classTitle: string | null;
  massMg: number;
  whole: boolean;
  grossMg: number | null;
  tareMg: number;
  scaleId: string | null;
  scaleName: string | null;
  scaleStepMg: number;
  at: Date;
  byName: string;
  takenByName: string;
  agreedByName: string | null;
  dueAt: Date | null;
  remark: string;
  returnedMg: number | null;
  returnedGrossMg: number | null;
  returnedAt: Date | null;
  returnRemark: string;
};
/** What is still out first, then the newest. Where two people were needed, `byName` asked for it and `agreedByName` agreed. */
export const checkOuts = (tx: Tx, studioId: string, by: { id?: string; classId?: string | undefined }): Promise<CheckOutRow[]> =>
  tx.rows<CheckOutRow>(
    `SELECT k.id, k.container_id AS "containerId", c.label AS "containerLabel", c.lot_id AS "lotId", l.substance, l.lot_number AS "lotNumber", k.purpose,
       k.class_id AS "classId", s.title AS "classTitle", k.mass_mg::float8 AS "massMg", k.whole, k.gross_mg::float8 AS "grossMg", c.tare_mg::float8 AS "tareMg",
       k.scale_id AS "scaleId", m.name AS "scaleName", k.scale_step_mg::float8 AS "scaleStepMg", k.at, coalesce(p.name, a.name) AS "byName",
       coalesce(t.name, a.name) AS "takenByName", CASE WHEN q.id IS NULL THEN NULL ELSE a.name END AS "agreedByName", k.due_at AS "dueAt", k.remark,
       r.mass_mg::float8 AS "returnedMg", r.gross_mg::float8 AS "returnedGrossMg", r.at AS "returnedAt", coalesce(r.remark, '') AS "returnRemark"
     FROM checkout k
     JOIN container c ON c.studio_id = k.studio_id AND c.id = k.container_id
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     JOIN account a ON a.studio_id = k.studio_id AND a.id = k.account_id
     LEFT JOIN class s ON s.studio_id = k.studio_id AND s.id = k.class_id
     LEFT JOIN account t ON t.studio_id = k.studio_id AND t.id = k.taken_by
     LEFT JOIN cabinet_scale m ON m.studio_id = k.studio_id AND m.id = k.scale_id
     LEFT JOIN stock_request q ON q.studio_id = k.studio_id AND q.id = k.request_id
     LEFT JOIN account p ON p.studio_id = k.studio_id AND p.id = q.requested_by
     LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
     WHERE k.studio_id = $1::uuid AND ($2::uuid IS NULL OR k.id = $2::uuid) AND ($3::uuid IS NULL OR k.class_id = $3::uuid)
     ORDER BY (r.checkout_id IS NULL) DESC, k.at DESC, k.id DESC LIMIT 500`,
    [studioId, by.id ?? null, by.classId ?? null],
  );
