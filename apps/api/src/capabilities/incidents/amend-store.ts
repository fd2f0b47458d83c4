import type { AmendmentOut } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';

export type NewAmendment = { id: string; noteId: string; kind: AmendmentOut['kind']; text: string; byName: string | null; at: Date };
export async function insertAmendment(tx: Tx, studioId: string, a: NewAmendment): Promise<void> {
  await tx.rows(
    `INSERT INTO note_amendment (studio_id, id, note_id, kind, text, by_name, at) VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6, $7::timestamptz)`,
    [studioId, a.id, a.noteId, a.kind, a.text, a.byName, a.at],
  );
}

/** In the order of their days; of a day the answers by return code last, because they carry no time. */
export const amendments = (tx: Tx, studioId: string, noteId: string): Promise<(Omit<AmendmentOut, 'on'> & { at: Date })[]> =>
  tx.rows(
    `SELECT kind, text, by_name AS "byName", at FROM note_amendment WHERE studio_id = $1::uuid AND note_id = $2::uuid AND erased_on IS NULL
     ORDER BY (at AT TIME ZONE 'UTC')::date, kind = 'answer', at, id`,
    [studioId, noteId],
  );

export type PictureRow = { id: string; widthPx: number; heightPx: number };
export const pictures = (tx: Tx, studioId: string, noteId: string): Promise<PictureRow[]> =>
  tx.rows<PictureRow>(
    `SELECT id, width_px AS "widthPx", height_px AS "heightPx" FROM note_picture WHERE studio_id = $1::uuid AND note_id = $2::uuid AND erased_on IS NULL ORDER BY id`,
    [studioId, noteId],
  );

export async function insertPicture(tx: Tx, studioId: string, p: PictureRow & { noteId: string; bytes: Buffer }): Promise<void> {
  await tx.rows(
    `INSERT INTO note_picture (studio_id, id, note_id, bytes, width_px, height_px) VALUES ($1::uuid, $2::uuid, $3::uuid, decode($4, 'base64'), $5, $6)`,
    [studioId, p.id, p.noteId, p.bytes.toString('base64'), p.widthPx, p.heightPx],
  );
}

export async function pictureBytes(tx: Tx, studioId: string, id: string): Promise<Buffer | undefined> {
  const [row] = await tx.rows<{ text: string }>(
    `SELECT encode(bytes, 'base64') AS text FROM note_picture WHERE studio_id = $1::uuid AND id = $2::uuid AND erased_on IS NULL`,
    [studioId, id],
  );
  return row && Buffer.from(row.text, 'base64');
}
