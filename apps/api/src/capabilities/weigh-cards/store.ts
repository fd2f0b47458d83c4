import type { CardContent, Verdict } from '@ashwater/contracts';
import type { z } from 'zod';
import type { Tx } from '../../plugins/database/database.ts';
import { effectiveContent } from './effective.ts';
import type { CardChange } from './effective.ts';
import type { CardBasis } from './proposal.ts';
import type { CheckRow } from './second-reading.ts';

type V = z.infer<typeof Verdict>;
/**
 * `issued` never changes; `content` is the card as it is to be followed, with every change in it. A class that moves reissues no
 * card, for nothing to be weighed changes: when and where stand in `content` as the class has them now, not as they were issued.
 */
export type CardRow = {
  id: string;
  class_id: string;
  class_station_id: string;
  number: string;
  issue: number;
  issued: IssuedContent;
  content: CardContent;
  changes: CardChange[];
  issued_at: Date;
  join_code: string;
  class_status: string;
  voided: boolean;
};
/** As stored: what it was worked out from stays with the card and is shown to nobody. Cards from before lack it. */
export type IssuedContent = CardContent & { basis?: CardBasis };
const CHANGES = `coalesce((SELECT jsonb_agg(jsonb_build_object('id', h.id, 'stepNo', h.step_no, 'act', h.act, 'words', h.words, 'content', h.content,
    'at', to_char(h.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'byName', a.name) ORDER BY h.seq)
    FROM card_change h JOIN account a ON a.studio_id = h.studio_id AND a.id = h.account_id WHERE h.studio_id = w.studio_id AND h.card_id = w.id), '[]') AS changes`;
const CARD = `SELECT c.starts_at, c.room, w.id, w.class_id, w.class_station_id, w.number, w.issue, w.content AS issued, w.issued_at, s.join_code, c.status AS class_status, ${CHANGES},
  EXISTS (SELECT FROM weigh_card n WHERE n.studio_id = w.studio_id AND n.class_station_id = w.class_station_id AND n.issue > w.issue) AS voided
  FROM weigh_card w
  JOIN class_station s ON s.studio_id = w.studio_id AND s.id = w.class_station_id
  JOIN class c ON c.studio_id = w.studio_id AND c.id = w.class_id
  WHERE w.studio_id = $1::uuid`;
async function cards(tx: Tx, more: string, values: unknown[]): Promise<CardRow[]> {
  const rows = await tx.rows<Omit<CardRow, 'content'> & { starts_at: Date; room: string }>(`${CARD} ${more}`, values);
  return rows.map(({ starts_at, room, ...row }) => ({
    ...row,
    content: { ...effectiveContent(row.issued, row.changes), startsAt: starts_at.toISOString(), room },
  }));
}

export const cardById = async (tx: Tx, studioId: string, id: string): Promise<CardRow | undefined> =>
  (await cards(tx, 'AND w.id = $2::uuid', [studioId, id]))[0];
export const currentCardAt = async (tx: Tx, studioId: string, classStationId: string): Promise<CardRow | undefined> =>
  (await cards(tx, 'AND w.class_station_id = $2::uuid ORDER BY w.issue DESC LIMIT 1', [studioId, classStationId]))[0];
export const cardsOfClass = (tx: Tx, studioId: string, classId: string): Promise<CardRow[]> =>
  cards(tx, 'AND w.class_id = $2::uuid ORDER BY s.position, w.issue DESC', [studioId, classId]);

export type NewChange = { studioId: string; cardId: string; accountId: string; at: Date } & Omit<CardChange, 'at' | 'byName'>;
export async function insertChange(tx: Tx, c: NewChange): Promise<void> {
  await tx.rows(
    `INSERT INTO card_change (studio_id, id, card_id, step_no, act, words, content, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6, $7::text::jsonb, $8::uuid, $9::timestamptz)`,
    [c.studioId, c.id, c.cardId, c.stepNo, c.act, c.words, JSON.stringify(c.content), c.accountId, c.at],
  );
}

export type NewCard = {
  studioId: string;
  id: string;
  classId: string;
  classStationId: string;
  recipeVersionId: string;
  number: string;
  content: IssuedContent;
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
  seat_id: string | null;
  source: 'station' | 'offline' | 'paper';
  second_read: CheckRow | null;
};
const BY = `coalesce((SELECT name FROM seat p WHERE p.studio_id = t.studio_id AND p.id = t.seat_id), (SELECT name FROM account a WHERE a.studio_id = t.studio_id AND a.id = t.account_id), '') AS by_name`;

// Only staff who copy a printed card finish a step with their account; whoever reads the record must see that.
const BY_STEP = BY.replace('(SELECT name FROM account', "(SELECT name || ', from paper' FROM account");

export async function stepsDone(tx: Tx, studioId: string, cardIds: string[]): Promise<StepRow[]> {
  return tx.rows<StepRow>(
    `SELECT t.card_id, t.step_no, t.at, ${BY_STEP} FROM card_step t WHERE t.studio_id = $1::uuid AND t.card_id = ANY($2::uuid[]) ORDER BY t.step_no`,
    [studioId, cardIds],
  );
}
export async function readings(tx: Tx, studioId: string, cardIds: string[]): Promise<ReadingRow[]> {
  return tx.rows<ReadingRow>(
    `SELECT t.id, t.card_id, t.step_no, t.entered, t.mass_mg::float8 AS mass_mg, t.temperature_milli_c, t.verdict, t.off_by::float8 AS off_by, t.advice, t.at, ${BY}, t.seat_id, t.source,
       CASE WHEN k.id IS NOT NULL THEN jsonb_build_object('byName', k.by_name, 'entered', k.entered, 'massMg', k.mass_mg, 'agrees', k.agrees,
         'at', to_char(k.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) END AS second_read,
       EXISTS (SELECT FROM reading n WHERE n.studio_id = t.studio_id AND n.supersedes_id = t.id) AS superseded
     FROM reading t LEFT JOIN reading_check k ON k.studio_id = t.studio_id AND k.reading_id = t.id
     WHERE t.studio_id = $1::uuid AND t.card_id = ANY($2::uuid[]) ORDER BY t.seq`,
    [studioId, cardIds],
  );
}

/** Held while an act at a card is judged and written, so that two taps at one station come one after the other. */
export async function lockCard(tx: Tx, cardId: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 7))', [cardId]);
}

/** Who wrote a row: a seat, or staff who copied it from paper. */
type By = { kind: 'seat' | 'staff'; id: string };
const writers = (by: By): [seatId: string | null, accountId: string | null] => (by.kind === 'seat' ? [by.id, null] : [null, by.id]);

export type NewReading = {
  studioId: string;
  id: string;
  cardId: string;
  stepNo: number;
  by: By;
  source: ReadingRow['source'];
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
    `INSERT INTO reading (studio_id, id, card_id, step_no, seat_id, account_id, source, entered, mass_mg, temperature_milli_c, verdict, off_by, advice, supersedes_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6::uuid, $7, $8, $9::bigint, $10::int, $11, $12::bigint, $13, $14::uuid, $15::timestamptz)`,
    [
      r.studioId,
      r.id,
      r.cardId,
      r.stepNo,
      ...writers(r.by),
      r.source,
      r.entered,
      r.massMg,
      r.temperatureMilliC,
      r.verdict,
      r.offBy,
      r.advice,
      r.supersedesId,
      r.at,
    ],
  );
}
export async function insertStep(tx: Tx, s: { studioId: string; cardId: string; stepNo: number; by: By; at: Date }): Promise<void> {
  await tx.rows(
    'INSERT INTO card_step (studio_id, card_id, step_no, seat_id, account_id, at) VALUES ($1::uuid, $2::uuid, $3, $4::uuid, $5::uuid, $6::timestamptz)',
    [s.studioId, s.cardId, s.stepNo, ...writers(s.by), s.at],
  );
}
