import type { DifferenceKind, Substance } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type HandedRow = {
  classId: string;
  classTitle: string;
  startsAt: Date;
  substance: Substance;
  massMg: number;
  grossMg: number | null;
  whole: boolean;
  scaleId: string | null;
  scaleStepMg: number;
  back: boolean;
  returnedMg: number | null;
  returnedGrossMg: number | null;
  returnScaleId: string | null;
  returnScaleStepMg: number | null;
};
/** What was handed out to classes, and what came back of each. Newest class first. */
export const handed = (tx: Tx, studioId: string, classId: string | null): Promise<HandedRow[]> =>
  tx.rows<HandedRow>(
    `SELECT k.class_id AS "classId", s.title AS "classTitle", s.starts_at AS "startsAt", l.substance, k.mass_mg::float8 AS "massMg",
       k.gross_mg::float8 AS "grossMg", k.whole, k.scale_id AS "scaleId", k.scale_step_mg::float8 AS "scaleStepMg", r.checkout_id IS NOT NULL AS back,
       r.mass_mg::float8 AS "returnedMg", r.gross_mg::float8 AS "returnedGrossMg", r.scale_id AS "returnScaleId", r.scale_step_mg::float8 AS "returnScaleStepMg"
     FROM checkout k
     JOIN class s ON s.studio_id = k.studio_id AND s.id = k.class_id
     JOIN container c ON c.studio_id = k.studio_id AND c.id = k.container_id
     JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id
     WHERE k.studio_id = $1::uuid AND ($2::uuid IS NULL OR k.class_id = $2::uuid)
     ORDER BY s.starts_at DESC, k.class_id, l.substance, k.at`,
    [studioId, classId],
  );

export type WeighedRow = {
  classId: string;
  cardId: string;
  classStationId: string;
  substance: Substance;
  massMg: number;
  stepMg: number;
};
/**
 * The readings of caustic that stand on every card ever issued for these classes, also one that was replaced or whose batch was
 * discarded: what was weighed is out of the vessel either way. A corrected reading counts as its correction; a line weighed whole once
 * more, after something was taken out, counts from there on.
 */
export const weighed = (tx: Tx, studioId: string, classIds: string[]): Promise<WeighedRow[]> =>
  tx.rows<WeighedRow>(
    `WITH card AS (SELECT id, class_id, class_station_id, content FROM weigh_card WHERE studio_id = $1::uuid AND class_id = ANY ($2::uuid[])),
     line AS (
       SELECT card.id AS card_id, item ->> 'key' AS key, CASE item ->> 'kind' WHEN 'naoh' THEN 'NaOH' ELSE 'KOH' END AS substance, (item ->> 'stepMg')::float8 AS step_mg
       FROM card, jsonb_array_elements(card.content -> 'lines') AS item WHERE item ->> 'kind' IN ('naoh', 'koh')),
     step AS (
       SELECT card.id AS card_id, (item ->> 'no')::int AS no, item ->> 'lineKey' AS key, item ->> 'weighs' AS weighs
       FROM card, jsonb_array_elements(card.content -> 'steps') AS item
       UNION ALL
       SELECT h.card_id, (item ->> 'no')::int, item ->> 'lineKey', item ->> 'weighs'
       FROM card JOIN card_change h ON h.studio_id = $1::uuid AND h.card_id = card.id, jsonb_array_elements(h.content -> 'steps') AS item),
     standing AS (
       SELECT t.card_id, line.key, line.substance, line.step_mg, t.mass_mg::float8 AS mass_mg, t.seq, step.weighs
       FROM card JOIN reading t ON t.studio_id = $1::uuid AND t.card_id = card.id AND t.mass_mg > 0
       JOIN step ON step.card_id = t.card_id AND step.no = t.step_no
       JOIN line ON line.card_id = step.card_id AND line.key = step.key
       WHERE NOT EXISTS (SELECT FROM reading n WHERE n.studio_id = t.studio_id AND n.supersedes_id = t.id))
     SELECT card.class_id AS "classId", card.id AS "cardId", card.class_station_id AS "classStationId", s.substance, s.mass_mg AS "massMg", s.step_mg AS "stepMg"
     FROM standing s JOIN card ON card.id = s.card_id
     WHERE NOT EXISTS (SELECT FROM standing later WHERE later.card_id = s.card_id AND later.key = s.key AND later.weighs = 'again' AND later.seq > s.seq)
     ORDER BY s.seq`,
    [studioId, classIds],
  );

export type BenchRow = {
  classStationId: string;
  stationId: string;
  stepMg: number;
  capacityMg: number;
  verificationIntervalMg: number | null;
  accuracyClass: 'I' | 'II' | 'III' | 'IIII' | 'HB 44 III' | null;
  lyeStepMg: number | null;
  lyeCapacityMg: number | null;
  startsAt: Date;
};
/** The scales of the stations of these classes, as they were set up for the day. */
export const benches = (tx: Tx, studioId: string, classIds: string[]): Promise<BenchRow[]> =>
  tx.rows<BenchRow>(
    `SELECT b.id AS "classStationId", b.station_id AS "stationId", b.scale_step_mg::float8 AS "stepMg", b.scale_capacity_mg::float8 AS "capacityMg",
       b.verification_interval_mg::float8 AS "verificationIntervalMg", b.accuracy_class AS "accuracyClass", b.lye_scale_step_mg::float8 AS "lyeStepMg",
       b.lye_scale_capacity_mg::float8 AS "lyeCapacityMg", s.starts_at AS "startsAt"
     FROM class_station b JOIN class s ON s.studio_id = b.studio_id AND s.id = b.class_id
     WHERE b.studio_id = $1::uuid AND b.class_id = ANY ($2::uuid[])`,
    [studioId, classIds],
  );

export type BenchCheck = { stationId: string; scale: 'main' | 'lye'; knownMg: number; knownLimitMg: number; shownMg: number; at: Date };
export const benchChecks = (tx: Tx, studioId: string, stationIds: string[]): Promise<BenchCheck[]> =>
  tx.rows<BenchCheck>(
    `SELECT station_id AS "stationId", scale, known_mg::float8 AS "knownMg", known_limit_mg::float8 AS "knownLimitMg", shown_mg::float8 AS "shownMg", at
     FROM check_weighing WHERE studio_id = $1::uuid AND station_id = ANY ($2::uuid[])`,
    [studioId, stationIds],
  );

export type ExplanationRow = {
  id: string;
  classId: string;
  substance: Substance;
  kind: DifferenceKind;
  massMg: number;
  remark: string;
  at: Date;
  byName: string;
};
export const explanations = (tx: Tx, studioId: string, classIds: string[]): Promise<ExplanationRow[]> =>
  tx.rows<ExplanationRow>(
    `SELECT d.id, d.class_id AS "classId", d.substance, d.kind, d.mass_mg::float8 AS "massMg", d.remark, d.at, a.name AS "byName"
     FROM class_difference d JOIN account a ON a.studio_id = d.studio_id AND a.id = d.account_id
     WHERE d.studio_id = $1::uuid AND d.class_id = ANY ($2::uuid[]) ORDER BY d.at, d.id`,
    [studioId, classIds],
  );

export type NewExplanation = { id: string; classId: string; substance: Substance; kind: DifferenceKind; massMg: number; remark: string };
export async function insertExplanation(tx: Tx, by: Posting, e: NewExplanation): Promise<void> {
  await tx.rows(
    `INSERT INTO class_difference (studio_id, id, class_id, substance, kind, mass_mg, remark, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6::bigint, $7, $8::uuid, $9::timestamptz)`,
    [by.studioId, e.id, e.classId, e.substance, e.kind, e.massMg, e.remark, by.accountId, by.at],
  );
}

/** Held until this transaction ends, so that of two explanations of one difference the second is judged after the first. */
export async function holdClass(tx: Tx, classId: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 11))', [classId]);
}

export async function classExists(tx: Tx, studioId: string, classId: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM class WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, classId])).length > 0;
}
