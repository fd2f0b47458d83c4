import type { ChangeTarget, FollowUpAct, FollowUpKind, NewChange, NewFollowUp } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';

export type ActRow = {
  followUpId: string;
  kind: 'given' | 'done' | 'verified' | 'reopened';
  ownerId: string | null;
  ownerName: string | null;
  dueOn: string | null;
  remark: string;
  byId: string;
  byName: string;
  at: Date;
};
export type FollowUpRow = { id: string; noteId: string; noteNumber: string; what: string; kind: FollowUpKind; at: Date };

/** One, those of some notes, or all when nothing is said. */
export type Only = { id?: string; noteIds?: string[] };
/** Those of notes whose words were blanked stay. */
export const followUps = (tx: Tx, studioId: string, only: Only = {}): Promise<FollowUpRow[]> =>
  tx.rows<FollowUpRow>(
    `SELECT f.id, f.note_id AS "noteId", n.number AS "noteNumber", f.what, f.kind, f.at FROM follow_up f
     JOIN note n ON n.studio_id = f.studio_id AND n.id = f.note_id
     WHERE f.studio_id = $1::uuid AND ($2::uuid IS NULL OR f.id = $2::uuid) AND ($3::uuid[] IS NULL OR f.note_id = ANY ($3::uuid[])) ORDER BY f.at, f.id LIMIT 1000`,
    [studioId, only.id ?? null, only.noteIds ?? null],
  );

export const acts = (tx: Tx, studioId: string, followUpIds: string[]): Promise<ActRow[]> =>
  tx.rows<ActRow>(
    `SELECT x.follow_up_id AS "followUpId", x.kind, x.owner_id AS "ownerId", o.name AS "ownerName", x.due_on::text AS "dueOn", x.remark, x.account_id AS "byId",
       a.name AS "byName", x.at
     FROM follow_up_act x
     JOIN account a ON a.studio_id = x.studio_id AND a.id = x.account_id
     LEFT JOIN account o ON o.studio_id = x.studio_id AND o.id = x.owner_id
     WHERE x.studio_id = $1::uuid AND x.follow_up_id = ANY ($2::uuid[]) ORDER BY x.seq`,
    [studioId, followUpIds],
  );

/** The follow-up alone for this transaction: two people who verify and reopen at once take turns. */
export async function holdFollowUp(tx: Tx, studioId: string, id: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 7))', [`follow-up:${studioId}:${id}`]);
}

export async function accountExists(tx: Tx, studioId: string, id: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM account WHERE studio_id = $1::uuid AND id = $2::uuid AND disabled_at IS NULL', [studioId, id])).length > 0;
}

type By = { accountId: string; at: Date };
export async function insertFollowUp(tx: Tx, studioId: string, f: Omit<NewFollowUp, 'ownerId' | 'dueOn'> & By): Promise<void> {
  await tx.rows(
    `INSERT INTO follow_up (studio_id, id, note_id, what, kind, created_by, at) VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6::uuid, $7::timestamptz)`,
    [studioId, f.id, f.noteId, f.what, f.kind, f.accountId, f.at],
  );
}

export async function insertAct(tx: Tx, studioId: string, followUpId: string, act: FollowUpAct & By): Promise<void> {
  await tx.rows(
    `INSERT INTO follow_up_act (studio_id, id, follow_up_id, kind, owner_id, due_on, remark, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6::date, $7, $8::uuid, $9::timestamptz)`,
    [
      studioId,
      act.id,
      followUpId,
      act.kind,
      act.kind === 'given' ? act.ownerId : null,
      act.kind === 'given' ? act.dueOn : null,
      act.remark,
      act.accountId,
      act.at,
    ],
  );
}

export type ChangeRow = {
  id: string;
  followUpId: string;
  target: ChangeTarget;
  recipeId: string | null;
  stationId: string | null;
  stepTitle: string | null;
  words: string;
  noteNumber: string;
  since: Date;
  endedAt: Date | null;
};
export const changes = (tx: Tx, studioId: string, only: { followUpIds?: string[]; inForce?: boolean } = {}): Promise<ChangeRow[]> =>
  tx.rows<ChangeRow>(
    `SELECT c.id, c.follow_up_id AS "followUpId", c.target, c.recipe_id AS "recipeId", c.station_id AS "stationId", c.step_title AS "stepTitle", c.words,
       n.number AS "noteNumber", c.at AS since, c.ended_at AS "endedAt"
     FROM follow_up_change c
     JOIN follow_up f ON f.studio_id = c.studio_id AND f.id = c.follow_up_id
     JOIN note n ON n.studio_id = f.studio_id AND n.id = f.note_id
     WHERE c.studio_id = $1::uuid AND ($2::uuid[] IS NULL OR c.follow_up_id = ANY ($2::uuid[])) AND (NOT $3::boolean OR c.ended_at IS NULL)
     ORDER BY c.at, c.id LIMIT 1000`,
    [studioId, only.followUpIds ?? null, only.inForce ?? false],
  );

export async function insertChange(tx: Tx, studioId: string, followUpId: string, c: NewChange & By): Promise<void> {
  await tx.rows(
    `INSERT INTO follow_up_change (studio_id, id, follow_up_id, target, recipe_id, station_id, step_title, words, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6::uuid, $7, $8, $9::uuid, $10::timestamptz)`,
    [studioId, c.id, followUpId, c.target, c.recipeId, c.stationId, c.stepTitle, c.words, c.accountId, c.at],
  );
}

/** @returns false when there is no such change in force */
export async function endChange(tx: Tx, studioId: string, id: string, at: Date): Promise<boolean> {
  const rows = await tx.rows(
    'UPDATE follow_up_change SET ended_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND ended_at IS NULL RETURNING 1',
    [studioId, id, at],
  );
  return rows.length > 0;
}

export async function targetExists(tx: Tx, studioId: string, table: 'recipe' | 'station', id: string): Promise<boolean> {
  return (await tx.rows(`SELECT 1 FROM ${table} WHERE studio_id = $1::uuid AND id = $2::uuid`, [studioId, id])).length > 0;
}
