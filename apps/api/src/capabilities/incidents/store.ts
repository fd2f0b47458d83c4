import type { FileAnonymousNote } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';

export type NewNote = Omit<FileAnonymousNote, 'code'> & {
  number: string;
  signing: 'named' | 'anonymous';
  classId: string | null;
  happenedOn: string;
  filedAt: Date;
  byName: string | null;
  seatId: string | null;
  accountId: string | null;
  returnHash: string | null;
};

/** @returns false when the number is taken: try another */
export async function insertNote(tx: Tx, studioId: string, note: NewNote): Promise<boolean> {
  const inserted = await tx.rows(
    `INSERT INTO note (studio_id, id, number, kind, signing, class_id, place, step_title, what, what_stopped_it, done_at_once, happened_on, filed_at,
       by_name, seat_id, account_id, return_hash)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5, $6::uuid, $7, $8, $9, $10, $11, $12::date, $13::timestamptz, $14, $15::uuid, $16::uuid, $17)
     ON CONFLICT (studio_id, number) DO NOTHING RETURNING number`,
    [
      studioId,
      note.id,
      note.number,
      note.kind,
      note.signing,
      note.classId,
      note.place,
      note.stepTitle,
      note.what,
      note.whatStoppedIt,
      note.doneAtOnce,
      note.happenedOn,
      note.filedAt,
      note.byName,
      note.seatId,
      note.accountId,
      note.returnHash,
    ],
  );
  return inserted.length > 0;
}

export async function studioOfJoinCode(lookUp: Tx, code: string): Promise<string | undefined> {
  const [row] = await lookUp.rows<{ studio_id: string }>('SELECT studio_id FROM studio_of_join_code($1)', [code]);
  return row?.studio_id;
}

export async function classExists(tx: Tx, studioId: string, classId: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM class WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, classId])).length > 0;
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
  signing: 'named' | 'anonymous';
  what: string;
  place: string;
  happenedOn: string;
  reviewed: boolean;
  stepTitle: string;
  whatStoppedIt: string;
  doneAtOnce: string;
  classTitle: string | null;
  byName: string | null;
};
/** Notes of a day come in the order of their numbers, which are random: the order in which they were written stays untold. */
export const notes = (tx: Tx, studioId: string, id: string | null = null): Promise<NoteRow[]> =>
  tx.rows<NoteRow>(
    `SELECT n.id, n.number, n.kind, n.signing, n.what, n.place, n.happened_on AS "happenedOn", n.step_title AS "stepTitle",
       n.what_stopped_it AS "whatStoppedIt", n.done_at_once AS "doneAtOnce", c.title AS "classTitle", n.by_name AS "byName",
       EXISTS (SELECT FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id = n.id) AS reviewed
     FROM note n LEFT JOIN class c ON c.studio_id = n.studio_id AND c.id = n.class_id
     WHERE n.studio_id = $1::uuid AND ($2::uuid IS NULL OR n.id = $2::uuid) ORDER BY n.happened_on DESC, n.number LIMIT 500`,
    [studioId, id],
  );

/** Named notes about a class that nobody has reviewed. Nameless ones belong to no class. */
export async function unreviewedOf(tx: Tx, studioId: string, classId: string): Promise<number> {
  const [row] = await tx.rows<{ n: number }>(
    `SELECT count(*)::int AS n FROM note n WHERE n.studio_id = $1::uuid AND n.class_id = $2::uuid
       AND NOT EXISTS (SELECT FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id = n.id)`,
    [studioId, classId],
  );
  return row?.n ?? 0;
}

export type ReviewRow = { id: string; outcome: string; learned: string; change: string; byName: string; at: Date };
export const reviews = (tx: Tx, studioId: string, noteId: string): Promise<ReviewRow[]> =>
  tx.rows<ReviewRow>(
    `SELECT r.id, r.outcome, r.learned, r.change, a.name AS "byName", r.at FROM note_review r
     JOIN account a ON a.studio_id = r.studio_id AND a.id = r.account_id
     WHERE r.studio_id = $1::uuid AND r.note_id = $2::uuid ORDER BY r.at, r.id`,
    [studioId, noteId],
  );

export type NewReview = { id: string; noteId: string; outcome: string; learned: string; change: string; accountId: string; at: Date };
export async function insertReview(tx: Tx, studioId: string, r: NewReview): Promise<void> {
  await tx.rows(
    `INSERT INTO note_review (studio_id, id, note_id, outcome, learned, change, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6, $7::uuid, $8::timestamptz)`,
    [studioId, r.id, r.noteId, r.outcome, r.learned, r.change, r.accountId, r.at],
  );
}
