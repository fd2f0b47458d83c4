import type { Tx } from './database.ts';

/** The studio's next number of a kind, without gaps: the counter's row is held until this transaction ends. */
export async function nextNumber(tx: Tx, studioId: string, kind: 'card' | 'jar' | 'report'): Promise<number> {
  const [row] = await tx.rows<{ value: string }>(
    `INSERT INTO studio_counter (studio_id, name, value) VALUES ($1::uuid, $2, 1)
     ON CONFLICT (studio_id, name) DO UPDATE SET value = studio_counter.value + 1 RETURNING value::text AS value`,
    [studioId, kind],
  );
  return Number(row!.value);
}
