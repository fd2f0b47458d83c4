import type { Tx } from '../../plugins/database/database.ts';

export type AuditEntry = {
  studioId: string;
  at: Date;
  actor: string;
  action: string;
  subject: string;
  detail: Record<string, string | number | boolean | null>;
};

// seq, previous_hash and hash are the database's to choose; the values here are placeholders its trigger replaces.
export async function append(tx: Tx, entry: AuditEntry): Promise<void> {
  await tx.rows(
    `INSERT INTO audit (studio_id, seq, at, actor, action, subject, detail, previous_hash, hash)
     VALUES ($1::uuid, 0, $2::timestamptz, $3, $4, $5, $6::text::jsonb, '', '')`,
    [entry.studioId, entry.at, entry.actor, entry.action, entry.subject, JSON.stringify(entry.detail)],
  );
}

type Row = { seq: number; at: Date; who: string | null; actor: string; action: string; subject: string };
export async function newest(tx: Tx, studioId: string, limit: number) {
  const rows = await tx.rows<Row>(
    `SELECT l.seq::int AS seq, l.at, l.actor, l.action, l.subject, coalesce(a.name, s.name) AS who FROM audit l
     LEFT JOIN account a ON a.studio_id = l.studio_id AND 'account:' || a.id = l.actor
     LEFT JOIN seat s ON s.studio_id = l.studio_id AND 'seat:' || s.id = l.actor
     WHERE l.studio_id = $1::uuid ORDER BY l.seq DESC LIMIT $2`,
    [studioId, limit],
  );
  return rows.map((row) => ({ seq: row.seq, at: row.at.toISOString(), actor: row.who ?? row.actor, action: row.action, subject: row.subject }));
}
