import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export type RequestKind = 'reversal' | 'correction' | 'write-off' | 'disposal' | 'checkout';
export async function insertRequest(tx: Tx, by: Posting, asked: { id: string; kind: RequestKind; content: object; reason: string }): Promise<void> {
  await tx.rows(
    `INSERT INTO stock_request (studio_id, id, kind, content, reason, requested_by, at)
     VALUES ($1::uuid, $2::uuid, $3, $4::text::jsonb, $5, $6::uuid, $7::timestamptz)`,
    [by.studioId, asked.id, asked.kind, JSON.stringify(asked.content), asked.reason, by.accountId, by.at],
  );
}
