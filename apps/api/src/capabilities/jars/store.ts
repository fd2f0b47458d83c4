import type { Tx } from '../../plugins/database/database.ts';

/** One act on a jar, as stored; what it means is read by the stock's `standOf`. */
export type JarAct = { kind: 'discarded' | 'placed' | 'used' | 'topped' | 'neutralised' | 'disposed'; massMg: number | null; place: string | null };
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
  class_id: string;
  place: string;
  acts: JarAct[];
};
const JAR = `SELECT j.id, j.number, j.contents, j.concentration_percent::float8 AS concentration_percent, j.mass_mg::float8 AS mass_mg, j.made_at,
  j.discard_on::text AS discard_on, j.made_by, w.content->>'stationName' AS station_name, c.title AS class_title,
  j.class_id, j.place,
  coalesce((SELECT jsonb_agg(jsonb_build_object('kind', a.kind, 'massMg', a.mass_mg, 'place', a.place) ORDER BY a.seq)
    FROM jar_act a WHERE a.studio_id = j.studio_id AND a.jar_id = j.id), '[]'::jsonb) AS acts
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
export type NewJarAct = JarAct & { studioId: string; id: string; jarId: string; accountId: string; remark: string; at: Date };
export async function insertAct(tx: Tx, act: NewJarAct): Promise<void> {
  await tx.rows(
    `INSERT INTO jar_act (studio_id, id, jar_id, kind, account_id, remark, at, mass_mg, place)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6, $7::timestamptz, $8::bigint, $9)`,
    [act.studioId, act.id, act.jarId, act.kind, act.accountId, act.remark, act.at, act.massMg, act.place],
  );
}

/** Two acts on one jar take turns, so that the second sees what the first left. */
export const takeTurn = (tx: Tx, jarId: string): Promise<unknown> => tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 1))', [jarId]);

export type ActRow = { kind: string; massMg: number | null; place: string | null; remark: string; byName: string; at: Date };
export const acts = (tx: Tx, studioId: string, jarId: string): Promise<ActRow[]> =>
  tx.rows<ActRow>(
    `SELECT a.kind, a.mass_mg::float8 AS "massMg", a.place, a.remark, p.name AS "byName", a.at FROM jar_act a
     JOIN account p ON p.studio_id = a.studio_id AND p.id = a.account_id
     WHERE a.studio_id = $1::uuid AND a.jar_id = $2::uuid ORDER BY a.seq`,
    [studioId, jarId],
  );
