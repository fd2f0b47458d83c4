import type { BalanceOfSubstance, LedgerQuery, Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';

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
  scaleName: string | null;
  reversesSeq: number | null;
};
type Filter = Omit<LedgerQuery, 'limit' | 'containerId' | 'classId' | 'fromDay' | 'toDay'> & {
  places: string[] | null;
  from: Date | null;
  until: Date | null;
};

// A filter by place reads both indexes of places; `= ANY` with an OR would read the whole ledger.
const AT_PLACES = `l.seq IN (
  SELECT seq FROM ledger_line WHERE studio_id = $1::uuid AND to_place = ANY ($2::text[])
  UNION SELECT seq FROM ledger_line WHERE studio_id = $1::uuid AND from_place = ANY ($2::text[]))`;

/** Lines that pass the filter, newest first, at most `limit`. */
export const lines = (tx: Tx, studioId: string, filter: Filter, limit: number): Promise<LedgerRow[]> =>
  tx.rows<LedgerRow>(
    `SELECT l.seq, l.at, l.kind, lot.substance, lot.lot_number AS "lotNumber", l.from_place AS "fromPlace", l.to_place AS "toPlace",
       l.mass_mg AS "massMg", a.name AS "byName", l.reason, s.name AS "scaleName", l.reverses_seq AS "reversesSeq"
     FROM ledger_line l
     JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
     JOIN account a ON a.studio_id = l.studio_id AND a.id = l.account_id
     LEFT JOIN cabinet_scale s ON s.studio_id = l.studio_id AND s.id = l.scale_id
     WHERE l.studio_id = $1::uuid AND ${filter.places ? AT_PLACES : '$2::text[] IS NULL'} AND ($3::uuid IS NULL OR l.lot_id = $3::uuid)
       AND ($4::text IS NULL OR lot.substance = $4) AND ($5::uuid IS NULL OR l.account_id = $5::uuid) AND ($6::text IS NULL OR l.kind = $6)
       AND ($7::timestamptz IS NULL OR l.at >= $7::timestamptz) AND ($8::timestamptz IS NULL OR l.at < $8::timestamptz)
       AND ($9::bigint IS NULL OR l.seq < $9::bigint)
     ORDER BY l.seq DESC LIMIT $10`,
    [
      studioId,
      filter.places,
      filter.lotId ?? null,
      filter.substance ?? null,
      filter.accountId ?? null,
      filter.kind ?? null,
      filter.from,
      filter.until,
      filter.before ?? null,
      limit,
    ],
  );

/** What one place holds now, and what lines after `seq` moved into it: their difference is what it held then. */
export async function heldAfter(tx: Tx, studioId: string, place: string, seq: number): Promise<number> {
  const [row] = await tx.rows<{ mg: number }>(
    `SELECT (SELECT coalesce(sum(balance_mg), 0) FROM place_balance WHERE studio_id = $1::uuid AND place = $2)::bigint
       - (SELECT coalesce(sum(mass_mg), 0) FROM ledger_line WHERE studio_id = $1::uuid AND to_place = $2 AND seq > $3)::bigint
       + (SELECT coalesce(sum(mass_mg), 0) FROM ledger_line WHERE studio_id = $1::uuid AND from_place = $2 AND seq > $3)::bigint AS mg`,
    [studioId, place, seq],
  );
  return row?.mg ?? 0;
}

/** What stood in all containers after line `seq`, by substance, mg; of one lot when it is named. */
export const shelfAfter = (tx: Tx, studioId: string, seq: number, lotId: string | null): Promise<{ substance: Substance; mg: number }[]> =>
  tx.rows(
    `SELECT s.substance, (coalesce(b.mg, 0) - coalesce(m.mg, 0))::bigint AS mg FROM (VALUES ('NaOH'), ('KOH')) AS s(substance)
     LEFT JOIN (SELECT lot.substance, sum(p.balance_mg) AS mg FROM place_balance p JOIN lot ON lot.studio_id = p.studio_id AND lot.id = p.lot_id
       WHERE p.studio_id = $1::uuid AND p.place LIKE 'container:%' AND ($3::uuid IS NULL OR p.lot_id = $3::uuid) GROUP BY 1) b ON b.substance = s.substance
     LEFT JOIN (SELECT lot.substance, sum(CASE WHEN l.to_place LIKE 'container:%' THEN l.mass_mg ELSE 0 END
         - CASE WHEN l.from_place LIKE 'container:%' THEN l.mass_mg ELSE 0 END) AS mg
       FROM ledger_line l JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
       WHERE l.studio_id = $1::uuid AND l.seq > $2 AND ($3::uuid IS NULL OR l.lot_id = $3::uuid) GROUP BY 1) m ON m.substance = s.substance`,
    [studioId, seq, lotId],
  );

type Choice = { id: string; name: string };
export async function choices(tx: Tx, studioId: string): Promise<Record<'containers' | 'lots' | 'classes' | 'people', Choice[]>> {
  const all = (sql: string) => tx.rows<Choice>(sql, [studioId]);
  return {
    containers: await all('SELECT id, label AS name FROM container WHERE studio_id = $1::uuid ORDER BY label'),
    lots: await all(`SELECT id, substance || ', ' || lot_number AS name FROM lot WHERE studio_id = $1::uuid ORDER BY received_at DESC LIMIT 300`),
    classes: await all(
      `SELECT c.id, c.title AS name FROM class c WHERE c.studio_id = $1::uuid AND EXISTS (
         SELECT FROM checkout k WHERE k.studio_id = c.studio_id AND k.class_id = c.id) ORDER BY c.starts_at DESC LIMIT 300`,
    ),
    people: await all('SELECT id, name FROM account WHERE studio_id = $1::uuid ORDER BY name'),
  };
}

export type Flow = { substance: Substance; kind: string; goesIn: boolean; massMg: number };
/** What crossed the shelf's edge in a period, by substance and kind of line. A transfer between containers crosses none. */
export const flows = (tx: Tx, studioId: string, from: Date, until: Date): Promise<Flow[]> =>
  tx.rows<Flow>(
    `SELECT lot.substance, l.kind, l.to_place LIKE 'container:%' AS "goesIn", sum(l.mass_mg)::bigint AS "massMg"
     FROM ledger_line l JOIN lot ON lot.studio_id = l.studio_id AND lot.id = l.lot_id
     WHERE l.studio_id = $1::uuid AND l.at >= $2::timestamptz AND l.at < $3::timestamptz
       AND (l.to_place LIKE 'container:%') <> (l.from_place LIKE 'container:%')
     GROUP BY 1, 2, 3 ORDER BY 1, 2`,
    [studioId, from, until],
  );

export type Held = { substance: Substance; sort: string; nowMg: number; sinceFromMg: number; sinceUntilMg: number };
/**
 * What stands now in places of each sort (containers, classes, errands, unaccounted), by substance, and what has come into them since
 * each of two instants, out of them counted off: what stood there then is the difference. One pass over the lines since the first.
 */
export const heldSince = (tx: Tx, studioId: string, from: Date, until: Date): Promise<Held[]> =>
  tx.rows<Held>(
    `WITH now AS (
       SELECT lot.substance, split_part(p.place, ':', 1) AS sort, sum(p.balance_mg) AS mg FROM place_balance p
       JOIN lot ON lot.studio_id = p.studio_id AND lot.id = p.lot_id WHERE p.studio_id = $1::uuid GROUP BY 1, 2),
     way AS (
       SELECT lot_id, from_place, to_place, sum(mass_mg) AS mg, sum(mass_mg) FILTER (WHERE at >= $3::timestamptz) AS later_mg
       FROM ledger_line WHERE studio_id = $1::uuid AND at >= $2::timestamptz GROUP BY 1, 2, 3),
     moved AS (
       SELECT lot.substance, split_part(ends.place, ':', 1) AS sort, sum(ends.sign * way.mg) AS mg, sum(ends.sign * coalesce(way.later_mg, 0)) AS later_mg
       FROM way JOIN lot ON lot.studio_id = $1::uuid AND lot.id = way.lot_id
       CROSS JOIN LATERAL (VALUES (way.to_place, 1), (way.from_place, -1)) AS ends(place, sign) GROUP BY 1, 2)
     SELECT substance, sort, coalesce(now.mg, 0)::bigint AS "nowMg", coalesce(moved.mg, 0)::bigint AS "sinceFromMg",
       coalesce(moved.later_mg, 0)::bigint AS "sinceUntilMg"
     FROM now FULL JOIN moved USING (substance, sort) WHERE sort IN ('container', 'class', 'errand', 'unaccounted')`,
    [studioId, from, until],
  );

export async function linesIn(tx: Tx, studioId: string, from: Date, until: Date): Promise<number> {
  const [row] = await tx.rows<{ n: number }>(
    'SELECT count(*)::int AS n FROM ledger_line WHERE studio_id = $1::uuid AND at >= $2::timestamptz AND at < $3::timestamptz',
    [studioId, from, until],
  );
  return row?.n ?? 0;
}

type CountRow = { at: Date; results: (Omit<NonNullable<BalanceOfSubstance['count']>, 'day'> & { substance: Substance })[] };
/** Counts in a period, newest first, as they were stored. */
export const countsIn = (tx: Tx, studioId: string, from: Date, until: Date): Promise<CountRow[]> =>
  tx.rows<CountRow>('SELECT at, results FROM stock_count WHERE studio_id = $1::uuid AND at >= $2::timestamptz AND at < $3::timestamptz ORDER BY at DESC', [
    studioId,
    from,
    until,
  ]);
