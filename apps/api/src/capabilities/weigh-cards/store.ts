import type { CardContent, Verdict } from '@ashwater/contracts';
import type { z } from 'zod';
import type { Tx } from '../../plugins/database/database.ts';

type V = z.infer<typeof Verdict>;
export type CardRow = {
  id: string;
  class_id: string;
  class_station_id: string;
  number: string;
  issue: number;
  content: CardContent;
  issued_at: Date;
  join_code: string;
  class_status: string;
  voided: boolean;
};
const CARD = `SELECT w.id, w.class_id, w.class_station_id, w.number, w.issue, w.content, w.issued_at, s.join_code, c.status AS class_status,
  EXISTS (SELECT FROM weigh_card n WHERE n.studio_id = w.studio_id AND n.class_station_id = w.class_station_id AND n.issue > w.issue) AS voided
  FROM weigh_card w
  JOIN class_station s ON s.studio_id = w.studio_id AND s.id = w.class_station_id
  JOIN class c ON c.studio_id = w.studio_id AND c.id = w.class_id
  WHERE w.studio_id = $1::uuid`;

export async function cardById(tx: Tx, studioId: string, id: string): Promise<CardRow | undefined> {
  return (await tx.rows<CardRow>(`${CARD} AND w.id = $2::uuid`, [studioId, id]))[0];
}
export async function currentCardAt(tx: Tx, studioId: string, classStationId: string): Promise<CardRow | undefined> {
  return (await tx.rows<CardRow>(`${CARD} AND w.class_station_id = $2::uuid ORDER BY w.issue DESC LIMIT 1`, [studioId, classStationId]))[0];
}
export async function cardsOfClass(tx: Tx, studioId: string, classId: string): Promise<CardRow[]> {
  return tx.rows<CardRow>(`${CARD} AND w.class_id = $2::uuid ORDER BY s.position, w.issue DESC`, [studioId, classId]);
}

export type NewCard = {
  studioId: string;
  id: string;
  classId: string;
  classStationId: string;
  recipeVersionId: string;
  number: string;
  content: CardContent;
  at: Date;
  by: string;
};
export async function insertCard(tx: Tx, card: NewCard): Promise<void> {
  await tx.rows(
    `INSERT INTO weigh_card (studio_id, id, class_id, class_station_id, recipe_version_id, number, issue, content, issued_at, issued_by)
     SELECT $1::uuid, $2::uuid, $3::uuid, $4::uuid, $5::uuid, $6,
       1 + coalesce((SELECT max(issue) FROM weigh_card WHERE studio_id = $1::uuid AND class_station_id = $4::uuid), 0),
       $7::text::jsonb, $8::timestamptz, $9::uuid`,
    [card.studioId, card.id, card.classId, card.classStationId, card.recipeVersionId, card.number, JSON.stringify(card.content), card.at, card.by],
  );
}

export type StepRow = { card_id: string; step_no: number; at: Date; by_name: string };
export type ReadingRow = {
  id: string;
  card_id: string;
  step_no: number;
  entered: string;
  mass_mg: number | null;
  temperature_milli_c: number | null;
  verdict: V;
  off_by: number;
  advice: string;
  at: Date;
  by_name: string;
  superseded: boolean;
};
const BY = `coalesce((SELECT name FROM seat p WHERE p.studio_id = t.studio_id AND p.id = t.seat_id), (SELECT name FROM account a WHERE a.studio_id = t.studio_id AND a.id = t.account_id), '') AS by_name`;

export async function stepsDone(tx: Tx, studioId: string, cardIds: string[]): Promise<StepRow[]> {
  return tx.rows<StepRow>(
    `SELECT t.card_id, t.step_no, t.at, ${BY} FROM card_step t WHERE t.studio_id = $1::uuid AND t.card_id = ANY($2::uuid[]) ORDER BY t.step_no`,
    [studioId, cardIds],
  );
}
export async function readings(tx: Tx, studioId: string, cardIds: string[]): Promise<ReadingRow[]> {
  return tx.rows<ReadingRow>(
    `SELECT t.id, t.card_id, t.step_no, t.entered, t.mass_mg::float8 AS mass_mg, t.temperature_milli_c, t.verdict, t.off_by::float8 AS off_by, t.advice, t.at, ${BY},
       EXISTS (SELECT FROM reading n WHERE n.studio_id = t.studio_id AND n.supersedes_id = t.id) AS superseded
     FROM reading t WHERE t.studio_id = $1::uuid AND t.card_id = ANY($2::uuid[]) ORDER BY t.seq`,
    [studioId, cardIds],
  );
}

/** Held while an act at a card is judged and written, so that two taps at one station come one after the other. */
export async function lockCard(tx: Tx, cardId: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 7))', [cardId]);
}

export type NewReading = {
  studioId: string;
  id: string;
  cardId: string;
  stepNo: number;
  seatId: string;
  entered: string;
  massMg: number | null;
  temperatureMilliC: number | null;
  verdict: V;
  offBy: number;
  advice: string;
  supersedesId: string | null;
  at: Date;
};
export async function insertReading(tx: Tx, r: NewReading): Promise<void> {
  await tx.rows(
    `INSERT INTO reading (studio_id, id, card_id, step_no, seat_id, entered, mass_mg, temperature_milli_c, verdict, off_by, advice, supersedes_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6, $7::bigint, $8::int, $9, $10::bigint, $11, $12::uuid, $13::timestamptz)`,
    [r.studioId, r.id, r.cardId, r.stepNo, r.seatId, r.entered, r.massMg, r.temperatureMilliC, r.verdict, r.offBy, r.advice, r.supersedesId, r.at],
  );
}
export async function insertStep(tx: Tx, s: { studioId: string; cardId: string; stepNo: number; seatId: string; at: Date }): Promise<void> {
  await tx.rows('INSERT INTO card_step (studio_id, card_id, step_no, seat_id, at) VALUES ($1::uuid, $2::uuid, $3, $4::uuid, $5::timestamptz)', [
    s.studioId,
    s.cardId,
    s.stepNo,
    s.seatId,
    s.at,
  ]);
}
