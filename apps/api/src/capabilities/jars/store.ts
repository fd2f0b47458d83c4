import type { Tx } from '../../plugins/database/database.ts';

export type JarRow = {
  id: string;
  number: string;
  contents: string;
  concentration_percent: number;
  mass_mg: number;
  made_at: Date;
  discard_on: string;
  made_by: string;
  station_name: string;
  class_title: string;
  discarded: boolean;
};
const JAR = `SELECT j.id, j.number, j.contents, j.concentration_percent::float8 AS concentration_percent, j.mass_mg::float8 AS mass_mg, j.made_at,
  j.discard_on::text AS discard_on, j.made_by, w.content->>'stationName' AS station_name, c.title AS class_title,
  EXISTS (SELECT FROM jar_act a WHERE a.studio_id = j.studio_id AND a.jar_id = j.id AND a.kind = 'discarded') AS discarded
  FROM jar j JOIN weigh_card w ON w.studio_id = j.studio_id AND w.id = j.card_id JOIN class c ON c.studio_id = j.studio_id AND c.id = j.class_id
  WHERE j.studio_id = $1::uuid`;

export const all = (tx: Tx, studioId: string): Promise<JarRow[]> => tx.rows<JarRow>(`${JAR} ORDER BY j.made_at DESC LIMIT 500`, [studioId]);
export async function byId(tx: Tx, studioId: string, id: string): Promise<JarRow | undefined> {
  return (await tx.rows<JarRow>(`${JAR} AND j.id = $2::uuid`, [studioId, id]))[0];
}
export async function byCard(tx: Tx, studioId: string, cardId: string): Promise<JarRow | undefined> {
  return (await tx.rows<JarRow>(`${JAR} AND j.card_id = $2::uuid`, [studioId, cardId]))[0];
}
export async function numbersByCard(tx: Tx, studioId: string, cardIds: string[]): Promise<{ card_id: string; number: string }[]> {
  return tx.rows('SELECT card_id, number FROM jar WHERE studio_id = $1::uuid AND card_id = ANY($2::uuid[])', [studioId, cardIds]);
}

export type NewJar = {
  studioId: string;
  id: string;
  classId: string;
  cardId: string;
  number: string;
  contents: string;
  concentrationPercent: number;
  massMg: number;
  at: Date;
  discardOn: string;
  madeBy: string;
};
export async function insert(tx: Tx, jar: NewJar): Promise<void> {
  await tx.rows(
    `INSERT INTO jar (studio_id, id, class_id, card_id, number, contents, concentration_percent, mass_mg, made_at, discard_on, made_by)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5, $6, $7::numeric, $8::bigint, $9::timestamptz, $10::date, $11)`,
    [
      jar.studioId,
      jar.id,
      jar.classId,
      jar.cardId,
      jar.number,
      jar.contents,
      jar.concentrationPercent.toFixed(2),
      jar.massMg,
      jar.at,
      jar.discardOn,
      jar.madeBy,
    ],
  );
}
export async function insertDiscard(tx: Tx, act: { studioId: string; id: string; jarId: string; accountId: string; remark: string; at: Date }): Promise<void> {
  await tx.rows(
    `INSERT INTO jar_act (studio_id, id, jar_id, kind, account_id, remark, at) VALUES ($1::uuid, $2::uuid, $3::uuid, 'discarded', $4::uuid, $5, $6::timestamptz)`,
    [act.studioId, act.id, act.jarId, act.accountId, act.remark, act.at],
  );
}
