import type { OfferOut, Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type NewOffer = Omit<OfferOut, 'notedAt' | 'perPureKgMinor'>;
export async function insertOffer(tx: Tx, by: Posting, o: NewOffer): Promise<void> {
  await tx.rows(
    `INSERT INTO supplier_offer (studio_id, id, supplier, substance, product, pack_mg, price_minor, freight_minor, minimum_packs, purity_percent, lead_days, noted_at, noted_by)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5, $6::bigint, $7::bigint, $8::bigint, $9::int, $10::numeric, $11::int, $12::timestamptz, $13::uuid)`,
    [
      by.studioId,
      o.id,
      o.supplier,
      o.substance,
      o.product,
      o.packMg,
      o.priceMinor,
      o.freightMinor,
      o.minimumPacks,
      o.purityPercent,
      o.leadDays,
      by.at,
      by.accountId,
    ],
  );
}
export type OfferRow = NewOffer & { notedAt: Date };
export const offers = (tx: Tx, studioId: string): Promise<OfferRow[]> =>
  tx.rows<OfferRow>(
    `SELECT id, supplier, substance, product, pack_mg AS "packMg", price_minor AS "priceMinor", freight_minor AS "freightMinor", minimum_packs AS "minimumPacks",
       purity_percent::float8 AS "purityPercent", lead_days AS "leadDays", noted_at AS "notedAt"
     FROM supplier_offer WHERE studio_id = $1::uuid AND retired_at IS NULL ORDER BY substance, supplier, noted_at DESC`,
    [studioId],
  );
/** @returns 'none' when there is no such offer, 'retired' when it was retired before */
export async function retireOffer(tx: Tx, studioId: string, id: string, at: Date): Promise<'done' | 'retired' | 'none'> {
  const done = await tx.rows(
    'UPDATE supplier_offer SET retired_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND retired_at IS NULL RETURNING id',
    [studioId, id, at],
  );
  if (done.length > 0) return 'done';
  return (await tx.rows('SELECT 1 FROM supplier_offer WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, id])).length > 0 ? 'retired' : 'none';
}

export type Shelf = { substance: Substance; onShelfMg: number; inDateMg: number };
export const shelf = (tx: Tx, studioId: string, today: string): Promise<Shelf[]> =>
  tx.rows<Shelf>(
    `SELECT l.substance, sum(b.balance_mg)::bigint AS "onShelfMg", coalesce(sum(b.balance_mg) FILTER (WHERE l.best_before IS NULL OR l.best_before >= $2::date), 0)::bigint AS "inDateMg"
     FROM place_balance b JOIN lot l ON l.studio_id = b.studio_id AND l.id = b.lot_id
     WHERE b.studio_id = $1::uuid AND b.place LIKE 'container:%' GROUP BY 1`,
    [studioId, today],
  );

/** What classes used up since an instant, by substance, mg. */
export const usedSince = (tx: Tx, studioId: string, since: Date): Promise<{ substance: Substance; mg: number }[]> =>
  tx.rows(
    `SELECT l.substance, sum(k.mass_mg)::bigint AS mg FROM ledger_line k JOIN lot l ON l.studio_id = k.studio_id AND l.id = k.lot_id
     WHERE k.studio_id = $1::uuid AND k.at >= $2::timestamptz AND k.kind = 'used' GROUP BY 1`,
    [studioId, since],
  );

export type Coming = {
  classId: string;
  title: string;
  day: string;
  substance: Substance;
  cardsMg: number;
  stations: number;
  withoutCard: number;
  sparePercent: number;
};
/** Classes to come that are not cancelled, with what their cards in force weigh out, and how many stations have no card yet. */
export const coming = (tx: Tx, studioId: string, zone: string, from: Date): Promise<Coming[]> =>
  tx.rows<Coming>(
    `SELECT c.id AS "classId", c.title, (c.starts_at AT TIME ZONE $2)::date::text AS day, s.substance, c.spare_percent AS "sparePercent",
       coalesce(sum(w.mg), 0)::bigint AS "cardsMg", count(*)::int AS stations, count(*) FILTER (WHERE NOT w.issued)::int AS "withoutCard"
     FROM class c CROSS JOIN (VALUES ('NaOH', 'naoh'), ('KOH', 'koh')) AS s(substance, kind)
     JOIN class_station t ON t.studio_id = c.studio_id AND t.class_id = c.id
     CROSS JOIN LATERAL (
       SELECT EXISTS (SELECT FROM weigh_card w WHERE w.studio_id = t.studio_id AND w.class_station_id = t.id) AS issued,
         (SELECT sum((line->>'targetMg')::bigint) FROM (SELECT content FROM weigh_card w WHERE w.studio_id = t.studio_id AND w.class_station_id = t.id ORDER BY issue DESC LIMIT 1) w,
            jsonb_array_elements(w.content->'lines') AS line WHERE line->>'kind' = s.kind) AS mg) AS w
     WHERE c.studio_id = $1::uuid AND c.status IN ('draft', 'published') AND c.starts_at >= $3::timestamptz
     GROUP BY 1, 2, 3, 4, 5 ORDER BY 3, 2`,
    [studioId, zone, from],
  );

/** What a station's card weighs out on average, over the newest hundred cards, by substance, mg. */
export const meanPerStation = (tx: Tx, studioId: string): Promise<{ substance: Substance; mg: number }[]> =>
  tx.rows(
    `SELECT s.substance, coalesce(avg(coalesce(w.mg, 0)), 0)::bigint AS mg FROM (VALUES ('NaOH', 'naoh'), ('KOH', 'koh')) AS s(substance, kind)
     LEFT JOIN LATERAL (
       SELECT (SELECT sum((line->>'targetMg')::bigint) FROM jsonb_array_elements(w.content->'lines') AS line WHERE line->>'kind' = s.kind) AS mg
       FROM (SELECT content FROM weigh_card WHERE studio_id = $1::uuid ORDER BY issued_at DESC LIMIT 100) w) w ON true GROUP BY 1`,
    [studioId],
  );
