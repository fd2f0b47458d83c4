import type { Tx } from './database.ts';

export type KeyEntry = { studioId: string; actor: string; key: string; route: string; inputHash: string; at: Date };

/**
 * Takes the key for this transaction. A second request with the same key waits here until the first commits,
 * and then gets what the first answered.
 * @returns the earlier request's input hash and response, or undefined when this one is the first
 */
export async function claimKey(tx: Tx, entry: KeyEntry): Promise<{ inputHash: string; response: unknown } | undefined> {
  const claimed = await tx.rows(
    `INSERT INTO idempotency (studio_id, actor, key, route, input_hash, at)
     VALUES ($1::uuid, $2, $3, $4, $5, $6::timestamptz) ON CONFLICT DO NOTHING RETURNING key`,
    [entry.studioId, entry.actor, entry.key, entry.route, entry.inputHash, entry.at],
  );
  if (claimed.length > 0) return undefined;
  const [earlier] = await tx.rows<{ input_hash: string; response: { body: unknown } | null }>(
    'SELECT input_hash, response FROM idempotency WHERE studio_id = $1::uuid AND actor = $2 AND key = $3',
    [entry.studioId, entry.actor, entry.key],
  );
  if (!earlier) throw new Error('the idempotency key vanished');
  return { inputHash: earlier.input_hash, response: earlier.response?.body };
}

export async function keepResponse(tx: Tx, entry: KeyEntry, body: unknown): Promise<void> {
  await tx.rows(`UPDATE idempotency SET status = 200, response = $4::text::jsonb WHERE studio_id = $1::uuid AND actor = $2 AND key = $3`, [
    entry.studioId,
    entry.actor,
    entry.key,
    JSON.stringify({ body }),
  ]);
}
