import type { LotCertificate, Substance } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import type { Posting } from './ledger-store.ts';

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

/** Every container ever received, with its lot as it was entered; columns in the order of a delivery file. Masses in grams. */
export async function deliveries(tx: Tx, studioId: string): Promise<(string | number)[][]> {
  const rows = await tx.rows<{ cells: (string | number)[] }>(
    `SELECT jsonb_build_array(l.substance, l.supplier, l.lot_number, trim_scale(l.purity_percent), trim_scale(l.purity_uncertainty_percent), l.assay_is,
       coalesce(trim_scale(l.carbonate_percent)::text, ''), coalesce(trim_scale(l.water_percent)::text, ''), l.sds_link, coalesce(l.sds_revised_on::text, ''),
       trim_scale(c.scale_step_mg / 1000.0), c.label, trim_scale(c.gross_mg / 1000.0), trim_scale(c.tare_mg / 1000.0)) AS cells
     FROM container c JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     WHERE c.studio_id = $1::uuid ORDER BY l.received_at, l.id, c.label`,
    [studioId],
  );
  return rows.map(({ cells }) => cells);
}
