import type { OwnFat } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import type { FatFigures } from './fat-input.ts';

type Row = {
  id: string;
  name: string;
  botanicalName: string;
  svLow: number;
  svHigh: number;
  iodineLow: number | null;
  iodineHigh: number | null;
  densityGPerMl: number | null;
  unsaponifiablePercent: number | null;
  source: string;
  retiredAt: Date | null;
};
// float8, so that both doors to the database give plain numbers; exact for the few decimals that are kept
const FIGURES = `f.id, f.name, f.botanical_name AS "botanicalName", f.sv_low::float8 AS "svLow", f.sv_high::float8 AS "svHigh",
  f.iodine_low::float8 AS "iodineLow", f.iodine_high::float8 AS "iodineHigh", f.density_g_per_ml::float8 AS "densityGPerMl",
  f.unsaponifiable_percent::float8 AS "unsaponifiablePercent", f.source, f.retired_at AS "retiredAt"`;

export type KnownFat = { own: OwnFat; retiredAt: Date | null };
const known = ({ svLow, svHigh, iodineLow, iodineHigh, retiredAt, ...rest }: Row): KnownFat => {
  const { id, name, botanicalName, densityGPerMl, unsaponifiablePercent, source } = rest;
  const iodineValue = iodineLow === null || iodineHigh === null ? null : { low: iodineLow, high: iodineHigh };
  const own = { id, name, botanicalName, saponificationValue: { low: svLow, high: svHigh }, iodineValue, densityGPerMl, unsaponifiablePercent, source };
  return { own, retiredAt };
};

export type ListedFat = KnownFat & { addedAt: Date; addedBy: string; usedBy: { id: string; title: string }[] };
/** All of a studio's own fats, those still offered first. */
export async function fats(tx: Tx, studioId: string): Promise<ListedFat[]> {
  const rows = await tx.rows<Row & Omit<ListedFat, keyof KnownFat>>(
    `SELECT ${FIGURES}, f.added_at AS "addedAt", a.name AS "addedBy",
       coalesce((SELECT jsonb_agg(jsonb_build_object('id', r.id, 'title', r.title) ORDER BY r.title, r.id) FROM recipe r
         WHERE r.studio_id = f.studio_id AND r.draft -> 'fats' @> jsonb_build_array(jsonb_build_object('fatKey', 'own:' || f.id))), '[]') AS "usedBy"
     FROM studio_fat f JOIN account a ON a.studio_id = f.studio_id AND a.id = f.added_by
     WHERE f.studio_id = $1::uuid ORDER BY (f.retired_at IS NOT NULL), lower(f.name), f.id`,
    [studioId],
  );
  return rows.map(({ addedAt, addedBy, usedBy, ...row }) => ({ ...known(row), addedAt, addedBy, usedBy }));
}

/** Those with these ids, retired ones too. Locked, so that none is retired while a recipe that names it is being saved. */
export async function byIds(tx: Tx, studioId: string, ids: readonly string[]): Promise<KnownFat[]> {
  const rows = await tx.rows<Row>(`SELECT ${FIGURES} FROM studio_fat f WHERE f.studio_id = $1::uuid AND f.id = ANY ($2::uuid[]) FOR SHARE`, [studioId, ids]);
  return rows.map(known);
}

export async function nameTaken(tx: Tx, studioId: string, name: string): Promise<{ retired: boolean } | undefined> {
  const [row] = await tx.rows<{ retired: boolean }>(
    'SELECT retired_at IS NOT NULL AS retired FROM studio_fat WHERE studio_id = $1::uuid AND lower(name) = lower($2)',
    [studioId, name],
  );
  return row;
}

export async function insert(tx: Tx, fat: FatFigures & { studioId: string; id: string; at: Date; by: string }): Promise<void> {
  await tx.rows(
    `INSERT INTO studio_fat (studio_id, id, name, botanical_name, sv_low, sv_high, iodine_low, iodine_high, density_g_per_ml, unsaponifiable_percent,
       source, added_at, added_by)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5::numeric, $6::numeric, $7::numeric, $8::numeric, $9::numeric, $10::numeric, $11, $12::timestamptz, $13::uuid)`,
    [
      fat.studioId,
      fat.id,
      fat.name,
      fat.botanicalName,
      fat.saponificationValue.low,
      fat.saponificationValue.high,
      fat.iodineValue?.low ?? null,
      fat.iodineValue?.high ?? null,
      fat.densityGPerMl,
      fat.unsaponifiablePercent,
      fat.source,
      fat.at,
      fat.by,
    ],
  );
}

/** @returns false when there is no such fat, or it is retired already */
export async function retire(tx: Tx, studioId: string, id: string, at: Date): Promise<boolean> {
  const rows = await tx.rows(
    'UPDATE studio_fat SET retired_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND retired_at IS NULL RETURNING id',
    [studioId, id, at],
  );
  return rows.length > 0;
}
