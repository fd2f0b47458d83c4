import type { ContainerActKind } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export async function insertAct(tx: Tx, by: Posting, act: { id: string; containerId: string; kind: ContainerActKind; remark: string }): Promise<void> {
  await tx.rows(
    `INSERT INTO container_act (studio_id, id, container_id, kind, remark, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6::uuid, $7::timestamptz)`,
    [by.studioId, act.id, act.containerId, act.kind, act.remark, by.accountId, by.at],
  );
}

export type ActRow = { id: string; kind: ContainerActKind; remark: string; at: Date; byName: string };
/** Newest first. */
export const acts = (tx: Tx, studioId: string, containerId: string): Promise<ActRow[]> =>
  tx.rows<ActRow>(
    `SELECT t.id, t.kind, t.remark, t.at, a.name AS "byName" FROM container_act t
     JOIN account a ON a.studio_id = t.studio_id AND a.id = t.account_id
     WHERE t.studio_id = $1::uuid AND t.container_id = $2::uuid ORDER BY t.seq DESC LIMIT 200`,
    [studioId, containerId],
  );

export type About = { supplier: string; receivedAt: Date };
export async function about(tx: Tx, studioId: string, containerId: string): Promise<About | undefined> {
  const [row] = await tx.rows<About>(
    `SELECT l.supplier, c.received_at AS "receivedAt" FROM container c JOIN lot l ON l.studio_id = c.studio_id AND l.id = c.lot_id
     WHERE c.studio_id = $1::uuid AND c.id = $2::uuid`,
    [studioId, containerId],
  );
  return row;
}

export async function containerIdsOfLot(tx: Tx, studioId: string, lotId: string): Promise<string[]> {
  return (await tx.rows<{ id: string }>('SELECT id FROM container WHERE studio_id = $1::uuid AND lot_id = $2::uuid', [studioId, lotId])).map(({ id }) => id);
}

export type CountedRow = { at: Date; grossMg: number; netMg: number; bookMg: number };
export async function lastCount(tx: Tx, studioId: string, containerId: string): Promise<CountedRow | undefined> {
  const [row] = await tx.rows<CountedRow>(
    `SELECT n.at, i.gross_mg::float8 AS "grossMg", i.net_mg::float8 AS "netMg", i.book_mg::float8 AS "bookMg"
     FROM stock_count_line i JOIN stock_count n ON n.studio_id = i.studio_id AND n.id = i.count_id
     WHERE i.studio_id = $1::uuid AND i.container_id = $2::uuid ORDER BY n.at DESC, n.id DESC LIMIT 1`,
    [studioId, containerId],
  );
  return row;
}
