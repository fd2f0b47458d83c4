import type { LotCertificate } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type NewLot = LotCertificate & {
  id: string;
  supplier: string;
  lotNumber: string;
  product: string;
  grade: string;
  sdsLink: string;
  sdsRevisedOn: string | null;
  bestBefore: string | null;
  priceMinor: number | null;
  freightMinor: number | null;
  leadDays: number | null;
  papersDisagree: string;
};
export async function insertLot(tx: Tx, by: Posting, lot: NewLot): Promise<void> {
  const columns: [name: string, cast: string, value: unknown][] = [
    ['studio_id', 'uuid', by.studioId],
    ['id', 'uuid', lot.id],
    ['substance', 'text', lot.substance],
    ['supplier', 'text', lot.supplier],
    ['lot_number', 'text', lot.lotNumber],
    ['product', 'text', lot.product],
    ['grade', 'text', lot.grade],
    ['purity_percent', 'numeric', lot.purityPercent],
    ['purity_uncertainty_percent', 'numeric', lot.purityUncertaintyPercent],
    ['assay_is', 'text', lot.assayIs],
    ['carbonate_percent', 'numeric', lot.carbonatePercent],
    ['water_percent', 'numeric', lot.waterPercent],
    ['sds_link', 'text', lot.sdsLink],
    ['sds_revised_on', 'date', lot.sdsRevisedOn],
    ['best_before', 'date', lot.bestBefore],
    ['price_minor', 'bigint', lot.priceMinor],
    ['freight_minor', 'bigint', lot.freightMinor],
    ['lead_days', 'int', lot.leadDays],
    ['papers_disagree', 'text', lot.papersDisagree],
    ['received_at', 'timestamptz', by.at],
    ['received_by', 'uuid', by.accountId],
  ];
  await tx.rows(
    `INSERT INTO lot (${columns.map(([name]) => name).join(', ')}) VALUES (${columns.map(([, cast], i) => `$${i + 1}::${cast}`).join(', ')})`,
    columns.map(([, , value]) => value),
  );
}

export type NewContainer = { id: string; lotId: string; label: string; grossMg: number; tareMg: number; scaleStepMg: number; scaleId: string | null };
export async function insertContainer(tx: Tx, by: Posting, container: NewContainer): Promise<void> {
  await tx.rows(
    `INSERT INTO container (studio_id, id, lot_id, label, gross_mg, tare_mg, scale_step_mg, scale_id, received_at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::bigint, $6::bigint, $7::bigint, $8::uuid, $9::timestamptz)`,
    [by.studioId, container.id, container.lotId, container.label, container.grossMg, container.tareMg, container.scaleStepMg, container.scaleId, by.at],
  );
}

export type Limits = { sdsDays: number; storageLimitMg: number; currency: string };
export async function limits(tx: Tx, studioId: string): Promise<Limits> {
  const [row] = await tx.rows<Limits>('SELECT sds_days AS "sdsDays", storage_limit_mg::float8 AS "storageLimitMg", currency FROM studio WHERE id = $1::uuid', [
    studioId,
  ]);
  if (!row) throw new Error('the studio of this request is gone');
  return row;
}

/** What waits: requests without a decision, and what was handed out and is past its time. */
export async function waiting(tx: Tx, studioId: string, now: Date): Promise<{ openRequests: number; overdue: number }> {
  const [row] = await tx.rows<{ openRequests: number; overdue: number }>(
    `SELECT (SELECT count(*) FROM stock_request q LEFT JOIN stock_decision d ON d.studio_id = q.studio_id AND d.request_id = q.id
         WHERE q.studio_id = $1::uuid AND d.request_id IS NULL)::int AS "openRequests",
       (SELECT count(*) FROM checkout k LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
         WHERE k.studio_id = $1::uuid AND r.checkout_id IS NULL AND k.due_at < $2::timestamptz)::int AS overdue`,
    [studioId, now],
  );
  return row ?? { openRequests: 0, overdue: 0 };
}

/** The cabinet's scales in use, by name. */
export const scalesInUse = (tx: Tx, studioId: string): Promise<{ id: string; name: string; stepMg: number }[]> =>
  tx.rows('SELECT id, name, step_mg::float8 AS "stepMg" FROM cabinet_scale WHERE studio_id = $1::uuid AND retired_at IS NULL ORDER BY name', [studioId]);
