import type { BottleState, LotCertificate, Substance } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';

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

export type LotRow = LotCertificate & {
  id: string;
  supplier: string;
  lotNumber: string;
  product: string;
  grade: string;
  sdsLink: string;
  sdsFileId: string | null;
  sdsRevisedOn: string | null;
  bestBefore: string | null;
  priceMinor: number | null;
  freightMinor: number | null;
  leadDays: number | null;
  papersDisagree: string;
  receivedAt: Date;
  receivedByName: string;
};
/** Every lot, or one, with its newest safety data sheet. */
export const lots = (tx: Tx, studioId: string, id: string | null = null): Promise<LotRow[]> =>
  tx.rows<LotRow>(
    `SELECT l.id, supplier, lot_number AS "lotNumber", product, grade, ${CERTIFICATE}, coalesce(s.link, l.sds_link) AS "sdsLink", s.file_id AS "sdsFileId",
       CASE WHEN s.link IS NULL THEN l.sds_revised_on ELSE s.revised_on END::text AS "sdsRevisedOn", best_before::text AS "bestBefore",
       price_minor::float8 AS "priceMinor", freight_minor::float8 AS "freightMinor", lead_days AS "leadDays", papers_disagree AS "papersDisagree",
       received_at AS "receivedAt", a.name AS "receivedByName"
     FROM lot l
     JOIN account a ON a.studio_id = l.studio_id AND a.id = l.received_by
     LEFT JOIN LATERAL (
       SELECT p.link, p.file_id, p.revised_on FROM lot_paper p
       WHERE p.studio_id = l.studio_id AND p.lot_id = l.id AND p.kind = 'safety data sheet' ORDER BY p.seq DESC LIMIT 1) s ON true
     WHERE l.studio_id = $1::uuid AND ($2::uuid IS NULL OR l.id = $2::uuid) ORDER BY received_at DESC, l.id DESC`,
    [studioId, id],
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
  state: BottleState;
  place: string;
  inHands: boolean;
};
/** Every container, or those named; `outMg` is what was handed out of it and is not accounted for by a return yet. */
export const containers = (tx: Tx, studioId: string, ids: string[] | null = null): Promise<ContainerRow[]> =>
  tx.rows<ContainerRow>(
    `SELECT c.id, c.label, c.lot_id AS "lotId", l.lot_number AS "lotNumber", l.substance, c.tare_mg AS "tareMg", c.gross_mg - c.tare_mg AS "receivedMg",
       coalesce(b.balance_mg, 0) AS "balanceMg", coalesce(o.mg, 0) AS "outMg",
       coalesce(t.kind, 'closed') AS state, coalesce(m.remark, '') AS place, coalesce(o.whole, false) AS "inHands"
     FROM container c
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     LEFT JOIN place_balance b ON b.studio_id = c.studio_id AND b.place = 'container:' || c.id AND b.lot_id = c.lot_id
     LEFT JOIN (
       SELECT k.container_id, sum(k.mass_mg)::bigint AS mg, bool_or(k.whole) AS whole FROM checkout k
       LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
       WHERE k.studio_id = $1::uuid AND r.checkout_id IS NULL GROUP BY k.container_id) o ON o.container_id = c.id
     LEFT JOIN LATERAL (
       SELECT kind FROM container_act x WHERE x.studio_id = c.studio_id AND x.container_id = c.id AND kind <> 'moved' ORDER BY seq DESC LIMIT 1) t ON true
     LEFT JOIN LATERAL (
       SELECT remark FROM container_act x WHERE x.studio_id = c.studio_id AND x.container_id = c.id AND kind = 'moved' ORDER BY seq DESC LIMIT 1) m ON true
     WHERE c.studio_id = $1::uuid AND ($2::uuid[] IS NULL OR c.id = ANY ($2::uuid[])) ORDER BY c.label`,
    [studioId, ids],
  );

/** Every container that a supplier sent, with its lot as it was entered (not those filled here from another); columns in the order of a delivery file. Masses in grams, money with the currency's decimals. */
export async function deliveries(tx: Tx, studioId: string, decimals: number): Promise<(string | number)[][]> {
  const rows = await tx.rows<{ cells: (string | number)[] }>(
    `SELECT jsonb_build_array(l.substance, l.supplier, l.lot_number, trim_scale(l.purity_percent), trim_scale(l.purity_uncertainty_percent), l.assay_is,
       coalesce(trim_scale(l.carbonate_percent)::text, ''), coalesce(trim_scale(l.water_percent)::text, ''), l.sds_link, coalesce(l.sds_revised_on::text, ''),
       l.product, l.grade, coalesce(l.best_before::text, ''), coalesce(trim_scale(l.price_minor / (10::numeric ^ $2::int))::text, ''),
       coalesce(trim_scale(l.freight_minor / (10::numeric ^ $2::int))::text, ''), coalesce(l.lead_days::text, ''), coalesce(s.name, ''), trim_scale(c.scale_step_mg / 1000.0), c.label, trim_scale(c.gross_mg / 1000.0), trim_scale(c.tare_mg / 1000.0)) AS cells
     FROM container c JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     LEFT JOIN cabinet_scale s ON s.studio_id = c.studio_id AND s.id = c.scale_id
     WHERE c.studio_id = $1::uuid
       AND EXISTS (SELECT 1 FROM ledger_line r WHERE r.studio_id = c.studio_id AND r.to_place = 'container:' || c.id AND r.kind = 'receipt')
     ORDER BY l.received_at, l.id, c.label`,
    [studioId, decimals],
  );
  return rows.map(({ cells }) => cells);
}
