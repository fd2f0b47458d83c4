import type { Tx } from '../../../plugins/database/database.ts';

export type Head = { seq: number; hash: string };
export async function head(tx: Tx, studioId: string): Promise<Head | undefined> {
  const [row] = await tx.rows<Head>(`SELECT seq, encode(hash, 'hex') AS hash FROM chain_head WHERE studio_id = $1::uuid AND chain = 'ledger' AND seq > 0`, [
    studioId,
  ]);
  return row;
}

/** Those of the lines that the ledger does not have, or has with another hash. */
export const strange = async (tx: Tx, studioId: string, heads: readonly Head[]): Promise<number[]> =>
  (
    await tx.rows<{ seq: number }>(
      `SELECT a.seq FROM unnest($2::bigint[], $3::text[]) AS a(seq, hash)
       WHERE NOT EXISTS (SELECT FROM ledger_line l WHERE l.studio_id = $1::uuid AND l.seq = a.seq AND l.hash = decode(a.hash, 'hex')) ORDER BY a.seq`,
      [studioId, heads.map(({ seq }) => seq), heads.map(({ hash }) => hash)],
    )
  ).map(({ seq }) => seq);
