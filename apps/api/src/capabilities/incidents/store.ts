import type { Harm, NoteSigning } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import { NEWEST_TRIAGE, TOLD_WITH_ID } from './newest-sql.ts';

export type NewNote = {
  id: string;
  number: string;
  kind: string;
  signing: NoteSigning;
  harms: Harm[];
  classId: string | null;
  cardId: string | null;
  whenWords: string;
  place: string;
  stepTitle: string;
  what: string;
  how: string;
  whatStoppedIt: string;
  doneAtOnce: string;
  happenedOn: string;
  filedAt: Date;
  returnHash: string | null;
};

/** @returns false when the number is taken: try another */
export async function insertNote(tx: Tx, studioId: string, note: NewNote): Promise<boolean> {
  const inserted = await tx.rows(
    `INSERT INTO note (studio_id, id, number, kind, signing, harms, class_id, card_id, when_words, place, step_title, what, how, what_stopped_it, done_at_once,
       happened_on, filed_at, return_hash)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5, $6::text[], $7::uuid, $8::uuid, $9, $10, $11, $12, $13, $14, $15, $16::date, $17::timestamptz, $18)
     ON CONFLICT (studio_id, number) DO NOTHING RETURNING number`,
    [
      studioId,
      note.id,
      note.number,
      note.kind,
      note.signing,
      note.harms,
      note.classId,
      note.cardId,
      note.whenWords,
      note.place,
      note.stepTitle,
      note.what,
      note.how,
      note.whatStoppedIt,
      note.doneAtOnce,
      note.happenedOn,
      note.filedAt,
      note.returnHash,
    ],
  );
  return inserted.length > 0;
}

export type Writer = { byName: string; seatId: string | null; accountId: string | null };
export async function insertIdentity(tx: Tx, studioId: string, noteId: string, signing: NoteSigning, by: Writer): Promise<void> {
  await tx.rows(
    `INSERT INTO note_identity (studio_id, note_id, signing, by_name, seat_id, account_id) VALUES ($1::uuid, $2::uuid, $3, $4, $5::uuid, $6::uuid)`,
    [studioId, noteId, signing, by.byName, by.seatId, by.accountId],
  );
}

/** Who told a note; undefined for an anonymous one. Ask only for reviewers, or to compare it with who acts. */
export async function writerOf(tx: Tx, studioId: string, noteId: string): Promise<(Writer & { signing: NoteSigning }) | undefined> {
  const [row] = await tx.rows<Writer & { signing: NoteSigning }>(
    `SELECT by_name AS "byName", seat_id AS "seatId", account_id AS "accountId", signing FROM note_identity WHERE studio_id = $1::uuid AND note_id = $2::uuid`,
    [studioId, noteId],
  );
  return row;
}

/** Which studio a code of a class, a station or the wall belongs to. */
export async function studioOfNoteCode(lookUp: Tx, code: string): Promise<string | undefined> {
  const [row] = await lookUp.rows<{ studio_id: string }>('SELECT studio_id FROM studio_of_note_code($1)', [code]);
  return row?.studio_id;
}

export async function classExists(tx: Tx, studioId: string, classId: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM class WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, classId])).length > 0;
}

/** The card that lies at a station now. */
export async function cardAt(tx: Tx, studioId: string, classStationId: string): Promise<string | null> {
  const [row] = await tx.rows<{ id: string }>(
    'SELECT id FROM weigh_card WHERE studio_id = $1::uuid AND class_station_id = $2::uuid ORDER BY issue DESC, issued_at DESC LIMIT 1',
    [studioId, classStationId],
  );
  return row?.id ?? null;
}

/** Two sendings of the same anonymous note take turns; the lock leaves nothing behind. */
export async function takeTurn(tx: Tx, returnHash: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 0))', [returnHash]);
}

export async function byReturnHash(tx: Tx, studioId: string, returnHash: string): Promise<{ id: string; number: string } | undefined> {
  const [row] = await tx.rows<{ id: string; number: string }>('SELECT id, number FROM note WHERE studio_id = $1::uuid AND return_hash = $2', [
    studioId,
    returnHash,
  ]);
  return row;
}

export type NoteRow = {
  id: string;
  number: string;
  kind: 'near miss' | 'incident';
  signing: NoteSigning;
  harms: Harm[];
  what: string;
  how: string;
  whenWords: string;
  place: string;
  happenedOn: string;
  reviewed: boolean;
  stepTitle: string;
  whatStoppedIt: string;
  doneAtOnce: string;
  classId: string | null;
  classTitle: string | null;
  cardId: string | null;
  cardNumber: string | null;
  byName: string | null;
  erasedOn: string | null;
  actual: string | null;
  potential: string | null;
  toldWithId: string | null;
  toldWith: string | null;
};
/** The newest triage and merge of each note beside it. A name only where the note carries one openly. */
const NOTE = `
  SELECT n.id, n.number, n.kind, n.signing, n.harms, n.what, n.how, n.when_words AS "whenWords", n.place, n.happened_on::text AS "happenedOn",
    n.step_title AS "stepTitle", n.what_stopped_it AS "whatStoppedIt", n.done_at_once AS "doneAtOnce", n.class_id AS "classId", c.title AS "classTitle",
    n.card_id AS "cardId", w.number AS "cardNumber", CASE WHEN n.signing = 'named' THEN i.by_name END AS "byName", n.erased_on::text AS "erasedOn",
    EXISTS (SELECT FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id IN (n.id, m.into_id)) AS reviewed,
    t.actual, t.potential, m.into_id AS "toldWithId", o.number AS "toldWith"
  FROM note n
  LEFT JOIN class c ON c.studio_id = n.studio_id AND c.id = n.class_id
  LEFT JOIN weigh_card w ON w.studio_id = n.studio_id AND w.id = n.card_id
  LEFT JOIN note_identity i ON i.studio_id = n.studio_id AND i.note_id = n.id
  ${NEWEST_TRIAGE}
  LEFT JOIN LATERAL (SELECT ${TOLD_WITH_ID} AS into_id) m ON true
  LEFT JOIN note o ON o.studio_id = n.studio_id AND o.id = m.into_id`;

/** Notes of a day come in the order of their numbers, which are random: the order in which they were written stays untold. */
export const notes = (tx: Tx, studioId: string, id: string | null = null): Promise<NoteRow[]> =>
  tx.rows<NoteRow>(`${NOTE} WHERE n.studio_id = $1::uuid AND ($2::uuid IS NULL OR n.id = $2::uuid) ORDER BY n.happened_on DESC, n.number LIMIT 500`, [
    studioId,
    id,
  ]);

/** What one person told with a name or in confidence, the newest first. */
export const notesBy = (tx: Tx, studioId: string, by: { seatId: string | null; accountId: string | null }): Promise<NoteRow[]> =>
  tx.rows<NoteRow>(`${NOTE} WHERE n.studio_id = $1::uuid AND (i.seat_id = $2::uuid OR i.account_id = $3::uuid) ORDER BY n.filed_at DESC LIMIT 100`, [
    studioId,
    by.seatId,
    by.accountId,
  ]);

/** Notes told with a name or in confidence about a class that nobody has reviewed. Nameless ones belong to no class. */
export async function unreviewedOf(tx: Tx, studioId: string, classId: string): Promise<number> {
  const [row] = await tx.rows<{ n: number }>(
    `SELECT count(*)::int AS n FROM note n WHERE n.studio_id = $1::uuid AND n.class_id = $2::uuid
       AND NOT EXISTS (SELECT FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id IN (n.id, ${TOLD_WITH_ID}))`,
    [studioId, classId],
  );
  return row?.n ?? 0;
}

export type ReviewRow = { id: string; outcome: string; learned: string; change: string; byName: string; at: Date };
export const reviews = (tx: Tx, studioId: string, noteIds: string[]): Promise<ReviewRow[]> =>
  tx.rows<ReviewRow>(
    `SELECT r.id, r.outcome, r.learned, r.change, a.name AS "byName", r.at FROM note_review r
     JOIN account a ON a.studio_id = r.studio_id AND a.id = r.account_id
     WHERE r.studio_id = $1::uuid AND r.note_id = ANY ($2::uuid[]) ORDER BY r.at, r.id`,
    [studioId, noteIds],
  );

export type NewReview = { id: string; noteId: string; outcome: string; learned: string; change: string; accountId: string; at: Date };
export async function insertReview(tx: Tx, studioId: string, r: NewReview): Promise<void> {
  await tx.rows(
    `INSERT INTO note_review (studio_id, id, note_id, outcome, learned, change, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6, $7::uuid, $8::timestamptz)`,
    [studioId, r.id, r.noteId, r.outcome, r.learned, r.change, r.accountId, r.at],
  );
}
