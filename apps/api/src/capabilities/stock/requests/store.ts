import type { RequestKind } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { Posting } from '../ledger-store.ts';

export async function insertRequest(tx: Tx, by: Posting, asked: { id: string; kind: RequestKind; content: object; reason: string }): Promise<void> {
  await tx.rows(
    `INSERT INTO stock_request (studio_id, id, kind, content, reason, requested_by, at)
     VALUES ($1::uuid, $2::uuid, $3, $4::text::jsonb, $5, $6::uuid, $7::timestamptz)`,
    [by.studioId, asked.id, asked.kind, JSON.stringify(asked.content), asked.reason, by.accountId, by.at],
  );
}

export type RequestRow = {
  id: string;
  kind: RequestKind;
  content: Record<string, unknown>;
  reason: string;
  requestedBy: string;
  byName: string;
  at: Date;
  outcome: 'approved' | 'refused' | null;
  deciderName: string | null;
  remark: string | null;
  decidedAt: Date | null;
};
/** Requests with their decision, open ones first, or one. */
export const requests = (tx: Tx, studioId: string, id: string | null = null): Promise<RequestRow[]> =>
  tx.rows<RequestRow>(
    `SELECT r.id, r.kind, r.content, r.reason, r.requested_by AS "requestedBy", a.name AS "byName", r.at, d.outcome, b.name AS "deciderName", d.remark,
       d.at AS "decidedAt"
     FROM stock_request r
     JOIN account a ON a.studio_id = r.studio_id AND a.id = r.requested_by
     LEFT JOIN stock_decision d ON d.studio_id = r.studio_id AND d.request_id = r.id
     LEFT JOIN account b ON b.studio_id = d.studio_id AND b.id = d.decided_by
     WHERE r.studio_id = $1::uuid AND ($2::uuid IS NULL OR r.id = $2::uuid) ORDER BY (d.request_id IS NULL) DESC, r.at DESC, r.id LIMIT 200`,
    [studioId, id],
  );

export type NewDecision = { requestId: string; requestedBy: string; outcome: 'approved' | 'refused'; remark: string };
/** @returns false when somebody decided already; waits for a decision that is under way */
export async function insertDecision(tx: Tx, by: Posting, d: NewDecision): Promise<boolean> {
  const made = await tx.rows(
    `INSERT INTO stock_decision (studio_id, request_id, requested_by, decided_by, outcome, remark, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5, $6, $7::timestamptz) ON CONFLICT DO NOTHING RETURNING request_id`,
    [by.studioId, d.requestId, d.requestedBy, by.accountId, d.outcome, d.remark, by.at],
  );
  return made.length > 0;
}

/** Names of those who may decide, without the one who asks. */
export const deciders = async (tx: Tx, studioId: string, roles: readonly string[], without: string): Promise<string[]> =>
  (
    await tx.rows<{ name: string }>(
      'SELECT name FROM account WHERE studio_id = $1::uuid AND role = ANY ($2::text[]) AND disabled_at IS NULL AND id <> $3::uuid ORDER BY name',
      [studioId, roles, without],
    )
  ).map(({ name }) => name);
