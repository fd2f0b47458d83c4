import type { Tx } from '../../../plugins/database/database.ts';

/** Step and capacity of a scale that is in use, mg. */
export async function scaleInUse(tx: Tx, studioId: string, id: string): Promise<{ name: string; stepMg: number; capacityMg: number } | undefined> {
  const [row] = await tx.rows<{ name: string; stepMg: number; capacityMg: number }>(
    'SELECT name, step_mg::float8 AS "stepMg", capacity_mg::float8 AS "capacityMg" FROM cabinet_scale WHERE studio_id = $1::uuid AND id = $2::uuid AND retired_at IS NULL',
    [studioId, id],
  );
  return row;
}

export type ScaleRow = {
  id: string;
  name: string;
  stepMg: number;
  capacityMg: number;
  verificationIntervalMg: number | null;
  accuracyClass: 'I' | 'II' | 'III' | 'IIII' | null;
  addedAt: Date;
  retiredAt: Date | null;
};
/** Those in use first, then by name. */
export const scales = (tx: Tx, studioId: string, id: string | null = null): Promise<ScaleRow[]> =>
  tx.rows<ScaleRow>(
    `SELECT id, name, step_mg::float8 AS "stepMg", capacity_mg::float8 AS "capacityMg", verification_interval_mg::float8 AS "verificationIntervalMg",
       accuracy_class AS "accuracyClass", added_at AS "addedAt", retired_at AS "retiredAt"
     FROM cabinet_scale WHERE studio_id = $1::uuid AND ($2::uuid IS NULL OR id = $2::uuid) ORDER BY retired_at IS NOT NULL, name`,
    [studioId, id],
  );

export type NewScale = Omit<ScaleRow, 'addedAt' | 'retiredAt'>;
export async function insertScale(tx: Tx, studioId: string, scale: NewScale, at: Date): Promise<void> {
  await tx.rows(
    `INSERT INTO cabinet_scale (studio_id, id, name, step_mg, capacity_mg, verification_interval_mg, accuracy_class, added_at)
     VALUES ($1::uuid, $2::uuid, $3, $4::bigint, $5::bigint, $6::bigint, $7, $8::timestamptz)`,
    [studioId, scale.id, scale.name, scale.stepMg, scale.capacityMg, scale.verificationIntervalMg, scale.accuracyClass, at],
  );
}

/** @returns false when it was retired already */
export async function retireScale(tx: Tx, studioId: string, id: string, at: Date): Promise<boolean> {
  const retired = await tx.rows(
    'UPDATE cabinet_scale SET retired_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND retired_at IS NULL RETURNING id',
    [studioId, id, at],
  );
  return retired.length > 0;
}

export type CheckRow = { id: string; scaleId: string; knownMg: number; knownLimitMg: number; shownMg: number; at: Date; byName: string };
/** Newest first. */
export const checks = (tx: Tx, studioId: string): Promise<CheckRow[]> =>
  tx.rows<CheckRow>(
    `SELECT k.id, k.scale_id AS "scaleId", k.known_mg::float8 AS "knownMg", k.known_limit_mg::float8 AS "knownLimitMg", k.shown_mg::float8 AS "shownMg", k.at,
       a.name AS "byName"
     FROM scale_check k JOIN account a ON a.studio_id = k.studio_id AND a.id = k.by
     WHERE k.studio_id = $1::uuid ORDER BY k.at DESC, k.id DESC LIMIT 1000`,
    [studioId],
  );

export async function insertCheck(tx: Tx, studioId: string, check: Omit<CheckRow, 'byName'> & { by: string }): Promise<void> {
  await tx.rows(
    `INSERT INTO scale_check (studio_id, id, scale_id, known_mg, known_limit_mg, shown_mg, at, by)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::bigint, $5::bigint, $6::bigint, $7::timestamptz, $8::uuid)`,
    [studioId, check.id, check.scaleId, check.knownMg, check.knownLimitMg, check.shownMg, check.at, check.by],
  );
}
