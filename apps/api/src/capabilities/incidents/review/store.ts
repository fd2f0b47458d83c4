import type { Cause, NoteCategory, Severity, TriageNote } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';
import { TOLD_WITH_ID } from '../newest-sql.ts';

export type TriageRow = {
  actual: Severity;
  potential: Severity;
  category: NoteCategory;
  causes: Cause[];
  staff: boolean;
  classId: string | null;
  classTitle: string | null;
  cardId: string | null;
  cardNumber: string | null;
  lotId: string | null;
  lotName: string | null;
  containerId: string | null;
  containerLabel: string | null;
  byName: string;
  at: Date;
};
/** The newest triage of a note. */
export async function triage(tx: Tx, studioId: string, noteId: string): Promise<TriageRow | undefined> {
  const [row] = await tx.rows<TriageRow>(
    `SELECT t.actual, t.potential, t.category, t.causes, t.staff, t.class_id AS "classId", c.title AS "classTitle", t.card_id AS "cardId", w.number AS "cardNumber",
       t.lot_id AS "lotId", l.substance || ' ' || l.lot_number AS "lotName", t.container_id AS "containerId", k.label AS "containerLabel", a.name AS "byName", t.at
     FROM note_triage t
     JOIN account a ON a.studio_id = t.studio_id AND a.id = t.account_id
     LEFT JOIN class c ON c.studio_id = t.studio_id AND c.id = t.class_id
     LEFT JOIN weigh_card w ON w.studio_id = t.studio_id AND w.id = t.card_id
     LEFT JOIN lot l ON l.studio_id = t.studio_id AND l.id = t.lot_id
     LEFT JOIN container k ON k.studio_id = t.studio_id AND k.id = t.container_id
     WHERE t.studio_id = $1::uuid AND t.note_id = $2::uuid ORDER BY t.seq DESC LIMIT 1`,
    [studioId, noteId],
  );
  return row;
}

export async function insertTriage(tx: Tx, studioId: string, t: TriageNote & { noteId: string; accountId: string; at: Date }): Promise<void> {
  await tx.rows(
    `INSERT INTO note_triage (studio_id, id, note_id, actual, potential, category, causes, staff, class_id, card_id, lot_id, container_id, account_id, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6, $7::text[], $8, $9::uuid, $10::uuid, $11::uuid, $12::uuid, $13::uuid, $14::timestamptz)`,
    [studioId, t.id, t.noteId, t.actual, t.potential, t.category, t.causes, t.staff, t.classId, t.cardId, t.lotId, t.containerId, t.accountId, t.at],
  );
}

/** Which of these things are not in this studio. */
export async function missing(tx: Tx, studioId: string, about: Pick<TriageNote, 'classId' | 'cardId' | 'lotId' | 'containerId'>): Promise<string[]> {
  const rows = await tx.rows<{ name: string }>(
    `SELECT t.name FROM (VALUES
       ('classId', $2::uuid, EXISTS (SELECT FROM class x WHERE x.studio_id = $1::uuid AND x.id = $2::uuid)),
       ('cardId', $3::uuid, EXISTS (SELECT FROM weigh_card x WHERE x.studio_id = $1::uuid AND x.id = $3::uuid)),
       ('lotId', $4::uuid, EXISTS (SELECT FROM lot x WHERE x.studio_id = $1::uuid AND x.id = $4::uuid)),
       ('containerId', $5::uuid, EXISTS (SELECT FROM container x WHERE x.studio_id = $1::uuid AND x.id = $5::uuid))) AS t(name, id, there)
     WHERE t.id IS NOT NULL AND NOT t.there`,
    [studioId, about.classId, about.cardId, about.lotId, about.containerId],
  );
  return rows.map(({ name }) => name);
}

/** Two merges of one studio take turns: two crosswise at the same moment would leave neither note standing. */
export async function holdMerges(tx: Tx, studioId: string): Promise<void> {
  await tx.rows('SELECT pg_advisory_xact_lock(hashtextextended($1, 6))', [`merge:${studioId}`]);
}

export async function insertMerge(
  tx: Tx,
  studioId: string,
  m: { id: string; noteId: string; intoId: string | null; accountId: string; at: Date },
): Promise<void> {
  await tx.rows(
    `INSERT INTO note_merge (studio_id, id, note_id, into_id, account_id, at) VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5::uuid, $6::timestamptz)`,
    [studioId, m.id, m.noteId, m.intoId, m.accountId, m.at],
  );
}

/** Notes that were told with this one. */
export const sameAs = (tx: Tx, studioId: string, noteId: string): Promise<{ id: string; number: string; what: string }[]> =>
  tx.rows(
    `SELECT n.id, n.number, n.what FROM note n
     WHERE n.studio_id = $1::uuid AND $2::uuid = ${TOLD_WITH_ID}
     ORDER BY n.happened_on, n.number`,
    [studioId, noteId],
  );

export type Choices = Record<'classes' | 'cards' | 'lots' | 'containers' | 'recipes' | 'stations' | 'people' | 'notes', { id: string; name: string }[]>;
/** What a triage, a merge or a follow-up of this note may name. Cards are those of the note's own class. */
export async function choices(tx: Tx, studioId: string, noteId: string, classId: string | null): Promise<Choices> {
  const rows = await tx.rows<{ sort: keyof Choices; id: string; name: string }>(
    `(SELECT 'classes' AS sort, id, title || ', ' || to_char(starts_at, 'YYYY-MM-DD') AS name FROM class WHERE studio_id = $1::uuid AND status <> 'draft' ORDER BY starts_at DESC LIMIT 50)
     UNION ALL (SELECT 'cards', w.id, w.number || ', ' || s.name FROM weigh_card w JOIN class_station s ON s.studio_id = w.studio_id AND s.id = w.class_station_id
       WHERE w.studio_id = $1::uuid AND w.class_id = $3::uuid ORDER BY w.number, w.issue LIMIT 100)
     UNION ALL (SELECT 'lots', id, substance || ' ' || lot_number FROM lot WHERE studio_id = $1::uuid ORDER BY received_at DESC LIMIT 50)
     UNION ALL (SELECT 'containers', id, label FROM container WHERE studio_id = $1::uuid ORDER BY received_at DESC, label LIMIT 100)
     UNION ALL (SELECT 'recipes', id, title FROM recipe WHERE studio_id = $1::uuid ORDER BY title LIMIT 100)
     UNION ALL (SELECT 'stations', id, name FROM station WHERE studio_id = $1::uuid ORDER BY position LIMIT 100)
     UNION ALL (SELECT 'people', id, name FROM account WHERE studio_id = $1::uuid AND disabled_at IS NULL ORDER BY name LIMIT 100)
     UNION ALL (SELECT 'notes', id, number || ': ' || left(what, 60) FROM note WHERE studio_id = $1::uuid AND id <> $2::uuid ORDER BY happened_on DESC, number LIMIT 100)`,
    [studioId, noteId, classId],
  );
  const of = (sort: keyof Choices) => rows.filter((row) => row.sort === sort).map(({ id, name }) => ({ id, name }));
  return {
    classes: of('classes'),
    cards: of('cards'),
    lots: of('lots'),
    containers: of('containers'),
    recipes: of('recipes'),
    stations: of('stations'),
    people: of('people'),
    notes: of('notes'),
  };
}

/** Step titles of the newest cards: what a caution can stand on. */
export const stepTitles = async (tx: Tx, studioId: string): Promise<string[]> =>
  (
    await tx.rows<{ title: string }>(
      `SELECT DISTINCT s->>'title' AS title FROM (SELECT content FROM weigh_card WHERE studio_id = $1::uuid ORDER BY issued_at DESC LIMIT 30) w
       CROSS JOIN LATERAL jsonb_array_elements(w.content->'steps') AS s ORDER BY 1`,
      [studioId],
    )
  ).map(({ title }) => title);
