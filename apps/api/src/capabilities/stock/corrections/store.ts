import type { Tx } from '../../../plugins/database/database.ts';

export type LineRow = {
  seq: number;
  kind: string;
  lotId: string;
  fromPlace: string;
  toPlace: string;
  massMg: number;
  scaleStepMg: number;
  reversedBy: number | null;
};
export async function line(tx: Tx, studioId: string, seq: number): Promise<LineRow | undefined> {
  const [row] = await tx.rows<LineRow>(
    `SELECT l.seq, l.kind, l.lot_id AS "lotId", l.from_place AS "fromPlace", l.to_place AS "toPlace", l.mass_mg AS "massMg", l.scale_step_mg AS "scaleStepMg",
       (SELECT r.seq FROM ledger_line r WHERE r.studio_id = l.studio_id AND r.reverses_seq = l.seq) AS "reversedBy"
     FROM ledger_line l WHERE l.studio_id = $1::uuid AND l.seq = $2`,
    [studioId, seq],
  );
  return row;
}

/** Whether there is such a place for a lot: a container of that lot, a class or a jar of this studio. */
export async function placeExists(tx: Tx, studioId: string, sort: string, id: string, lotId: string): Promise<boolean> {
  const table = { container: 'container', class: 'class', product: 'class', jar: 'jar' }[sort];
  if (!table) return false;
  const ofLot = sort === 'container' ? 'AND lot_id = $3::uuid' : 'AND $3::uuid IS NOT NULL';
  return (await tx.rows(`SELECT 1 FROM ${table} WHERE studio_id = $1::uuid AND id = $2::uuid ${ofLot}`, [studioId, id, lotId])).length > 0;
}

export async function lotExists(tx: Tx, studioId: string, lotId: string): Promise<boolean> {
  return (await tx.rows('SELECT 1 FROM lot WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, lotId])).length > 0;
}

/** What stands at a class or an errand as handed out and not taken back, mg; 0 for any other place. */
export async function inHandsMg(tx: Tx, studioId: string, place: string, lotId: string): Promise<number> {
  const [row] = await tx.rows<{ mg: number }>(
    `SELECT coalesce(sum(k.mass_mg), 0)::float8 AS mg FROM checkout k
     JOIN container c ON c.studio_id = k.studio_id AND c.id = k.container_id
     WHERE k.studio_id = $1::uuid AND c.lot_id = $3::uuid AND $2::text = coalesce('class:' || k.class_id, 'errand:' || k.id)
       AND NOT EXISTS (SELECT FROM checkout_return r WHERE r.studio_id = k.studio_id AND r.checkout_id = k.id)`,
    [studioId, place, lotId],
  );
  return row?.mg ?? 0;
}
