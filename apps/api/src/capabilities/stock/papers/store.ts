import type { AddPaper, PaperKind } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type NewFile = { id: string; name: string; bytes: Buffer };
export async function insertFile(tx: Tx, by: Posting, file: NewFile): Promise<void> {
  await tx.rows(
    `INSERT INTO stock_file (studio_id, id, name, media_type, bytes, sha256, at, by)
     VALUES ($1::uuid, $2::uuid, $3, 'application/pdf', decode($4, 'base64'), sha256(decode($4, 'base64')), $5::timestamptz, $6::uuid)`,
    [by.studioId, file.id, file.name, file.bytes.toString('base64'), by.at, by.accountId],
  );
}

export async function fileById(tx: Tx, studioId: string, id: string): Promise<{ name: string; base64: string } | undefined> {
  const [row] = await tx.rows<{ name: string; base64: string }>(
    `SELECT name, encode(bytes, 'base64') AS base64 FROM stock_file WHERE studio_id = $1::uuid AND id = $2::uuid`,
    [studioId, id],
  );
  return row;
}

export async function hasFile(tx: Tx, studioId: string, id: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM stock_file WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, id])).length > 0;
}

export async function hasLot(tx: Tx, studioId: string, id: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM lot WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, id])).length > 0;
}

export async function insertPaper(tx: Tx, by: Posting, lotId: string, paper: AddPaper): Promise<void> {
  await tx.rows(
    `INSERT INTO lot_paper (studio_id, id, lot_id, kind, link, file_id, revised_on, at, by)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6::uuid, $7::date, $8::timestamptz, $9::uuid)`,
    [by.studioId, paper.id, lotId, paper.kind, paper.link, paper.fileId, paper.revisedOn, by.at, by.accountId],
  );
}

export type PaperRow = {
  id: string;
  kind: PaperKind;
  link: string;
  fileId: string | null;
  fileName: string | null;
  revisedOn: string | null;
  at: Date;
  byName: string;
};
/** Newest first. */
export const papers = (tx: Tx, studioId: string, lotId: string): Promise<PaperRow[]> =>
  tx.rows<PaperRow>(
    `SELECT p.id, p.kind, p.link, p.file_id AS "fileId", f.name AS "fileName", p.revised_on::text AS "revisedOn", p.at, a.name AS "byName"
     FROM lot_paper p
     JOIN account a ON a.studio_id = p.studio_id AND a.id = p.by
     LEFT JOIN stock_file f ON f.studio_id = p.studio_id AND f.id = p.file_id
     WHERE p.studio_id = $1::uuid AND p.lot_id = $2::uuid ORDER BY p.seq DESC`,
    [studioId, lotId],
  );
