import type { Substance } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import type { Posting } from './ledger-store.ts';

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
