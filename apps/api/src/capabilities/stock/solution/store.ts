import type { CardContent } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { JarAct, Lots } from './contents.ts';

export type BookedJar = Lots & { id: string; number: string; massMg: number; content: CardContent; booked: boolean; acts: JarAct[] };

/** The jars of a class, or one, with their acts in order and whether the ledger has their caustic. */
export const jars = (tx: Tx, studioId: string, by: { classId?: string; jarId?: string }): Promise<BookedJar[]> =>
  tx.rows<BookedJar>(
    `SELECT j.id, j.number, j.mass_mg::float8 AS "massMg", w.content, c.naoh_lot_id AS "naohLotId", c.koh_lot_id AS "kohLotId",
       EXISTS (SELECT FROM ledger_line l WHERE l.studio_id = j.studio_id AND l.to_place = 'jar:' || j.id) AS booked,
       coalesce((SELECT jsonb_agg(jsonb_build_object('kind', a.kind, 'massMg', a.mass_mg, 'place', a.place) ORDER BY a.seq)
         FROM jar_act a WHERE a.studio_id = j.studio_id AND a.jar_id = j.id), '[]'::jsonb) AS acts
     FROM jar j JOIN weigh_card w ON w.studio_id = j.studio_id AND w.id = j.card_id JOIN class c ON c.studio_id = j.studio_id AND c.id = j.class_id
     WHERE j.studio_id = $1::uuid AND ($2::uuid IS NULL OR j.class_id = $2::uuid) AND ($3::uuid IS NULL OR j.id = $3::uuid) ORDER BY j.number`,
    [studioId, by.classId ?? null, by.jarId ?? null],
  );

export const jarBalances = (tx: Tx, studioId: string, place: string): Promise<{ lotId: string; massMg: number }[]> =>
  tx.rows(
    `SELECT lot_id AS "lotId", balance_mg::float8 AS "massMg" FROM place_balance WHERE studio_id = $1::uuid AND place = $2 AND balance_mg > 0 ORDER BY lot_id`,
    [studioId, place],
  );
