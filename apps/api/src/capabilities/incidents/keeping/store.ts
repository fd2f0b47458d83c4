import type { NoteSettings } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';

export async function settings(tx: Tx, studioId: string): Promise<NoteSettings> {
  const [row] = await tx.rows<NoteSettings>(
    `SELECT note_keep_days AS "noteKeepDays", name_keep_days AS "nameKeepDays", wall_code AS "wallCode" FROM studio WHERE id = $1::uuid`,
    [studioId],
  );
  return row!;
}

export async function setKeepDays(tx: Tx, studioId: string, noteKeepDays: number, nameKeepDays: number): Promise<void> {
  await tx.rows('UPDATE studio SET note_keep_days = $2, name_keep_days = $3 WHERE id = $1::uuid', [studioId, noteKeepDays, nameKeepDays]);
}

export async function setWallCode(tx: Tx, studioId: string, code: string): Promise<void> {
  await tx.rows('UPDATE studio SET wall_code = $2 WHERE id = $1::uuid', [studioId, code]);
}

/** Blanks every name that is past the studio's rule. @returns how many */
export async function blankNames(tx: Tx, studioId: string, today: string): Promise<number> {
  const rows = await tx.rows(
    `UPDATE note_identity i SET by_name = '', seat_id = NULL, account_id = NULL, erased_on = $2::date FROM note n JOIN studio s ON s.id = n.studio_id
     WHERE n.studio_id = $1::uuid AND i.studio_id = n.studio_id AND i.note_id = n.id AND i.erased_on IS NULL
       AND n.filed_at + make_interval(days => s.name_keep_days) <= now() RETURNING 1`,
    [studioId, today],
  );
  return rows.length;
}

/** Blanks the words of every note that is past the studio's rule, with its additions and pictures; its number, kind and day stay for the figures. @returns how many */
export async function blankNotes(tx: Tx, studioId: string, today: string): Promise<number> {
  const past = `FROM note n JOIN studio s ON s.id = n.studio_id WHERE n.studio_id = $1::uuid AND n.filed_at + make_interval(days => s.note_keep_days) <= now()`;
  await tx.rows(
    `UPDATE note_amendment a SET text = '', by_name = NULL, erased_on = $2::date ${past} AND a.studio_id = n.studio_id AND a.note_id = n.id AND a.erased_on IS NULL`,
    [studioId, today],
  );
  await tx.rows(
    `UPDATE note_picture p SET bytes = '', erased_on = $2::date ${past} AND p.studio_id = n.studio_id AND p.note_id = n.id AND p.erased_on IS NULL`,
    [studioId, today],
  );
  const rows = await tx.rows(
    `UPDATE note SET place = '', step_title = '', what = '', how = '', when_words = '', what_stopped_it = '', done_at_once = '', erased_on = $2::date
     WHERE studio_id = $1::uuid AND erased_on IS NULL AND id IN (SELECT n.id ${past}) RETURNING 1`,
    [studioId, today],
  );
  return rows.length;
}
