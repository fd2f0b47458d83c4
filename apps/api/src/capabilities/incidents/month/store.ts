import type { Tx } from '../../../plugins/database/database.ts';
import { NEWEST_TRIAGE, TOLD_WITH_ID } from '../newest-sql.ts';

export type MonthNote = {
  number: string;
  kind: 'near miss' | 'incident';
  month: string;
  stepTitle: string;
  category: string | null;
  causes: string[] | null;
  staff: boolean | null;
  filedAt: Date;
  reviewedAt: Date | null;
};
/**
 * Notes of a span of days with their newest judgement; one that was told with another is not counted twice. First reviewed when it was first
 * judged or reviewed.
 */
export const notesBetween = (tx: Tx, studioId: string, fromDay: string, toDay: string): Promise<MonthNote[]> =>
  tx.rows<MonthNote>(
    `SELECT n.number, n.kind, to_char(n.happened_on, 'YYYY-MM') AS month, n.step_title AS "stepTitle", t.category, t.causes, t.staff, n.filed_at AS "filedAt",
       least((SELECT min(r.at) FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id = n.id),
         (SELECT min(x.at) FROM note_triage x WHERE x.studio_id = n.studio_id AND x.note_id = n.id)) AS "reviewedAt"
     FROM note n
     ${NEWEST_TRIAGE}
     WHERE n.studio_id = $1::uuid AND n.happened_on BETWEEN $2::date AND $3::date
       AND ${TOLD_WITH_ID} IS NULL
     ORDER BY n.happened_on, n.number`,
    [studioId, fromDay, toDay],
  );

/**
 * Hours that students spent in classes, by month of the class on the studio's calendar: from joining to signing out, or to the class's end; at most
 * twelve a seat, because a seat that nobody signed out is not somebody who stayed.
 */
export const studentHours = (
  tx: Tx,
  studioId: string,
  fromDay: string,
  toDay: string,
  zone: string,
): Promise<{ month: string; hours: number; classes: number }[]> =>
  tx.rows(
    `SELECT to_char(c.starts_at AT TIME ZONE $4, 'YYYY-MM') AS month, count(DISTINCT c.id)::int AS classes,
       coalesce(sum(greatest(0, least(12, extract(epoch FROM coalesce(s.signed_out_at, c.closed_at, s.joined_at) - s.joined_at) / 3600))), 0)::float8 AS hours
     FROM class c LEFT JOIN seat s ON s.studio_id = c.studio_id AND s.class_id = c.id AND s.account_id IS NULL
     WHERE c.studio_id = $1::uuid AND c.status IN ('published', 'closed') AND (c.starts_at AT TIME ZONE $4)::date BETWEEN $2::date AND $3::date
     GROUP BY 1 ORDER BY 1`,
    [studioId, fromDay, toDay, zone],
  );

export async function staffHours(tx: Tx, studioId: string, month: string): Promise<number | null> {
  const [row] = await tx.rows<{ hours: number }>('SELECT hours::float8 AS hours FROM staff_hours WHERE studio_id = $1::uuid AND month = $2::date', [
    studioId,
    `${month}-01`,
  ]);
  return row?.hours ?? null;
}

export async function setStaffHours(tx: Tx, studioId: string, h: { month: string; hours: number; accountId: string; at: Date }): Promise<void> {
  await tx.rows(
    `INSERT INTO staff_hours (studio_id, month, hours, account_id, at) VALUES ($1::uuid, $2::date, $3, $4::uuid, $5::timestamptz)
     ON CONFLICT (studio_id, month) DO UPDATE SET hours = EXCLUDED.hours, account_id = EXCLUDED.account_id, at = EXCLUDED.at`,
    [studioId, `${h.month}-01`, h.hours, h.accountId, h.at],
  );
}

/** What reviews of these days learned. */
export const learnedBetween = (tx: Tx, studioId: string, from: Date, to: Date): Promise<{ number: string; learned: string }[]> =>
  tx.rows(
    `SELECT n.number, r.learned FROM note_review r JOIN note n ON n.studio_id = r.studio_id AND n.id = r.note_id
     WHERE r.studio_id = $1::uuid AND r.at >= $2::timestamptz AND r.at < $3::timestamptz ORDER BY r.at, r.id LIMIT 50`,
    [studioId, from, to],
  );

/** Every note with its words, for an authority or an insurer. Names only where asked for; of a note in confidence never. */
export type ExportRow = {
  number: string;
  kind: string;
  signing: string;
  happenedOn: string;
  whenWords: string;
  place: string;
  stepTitle: string;
  harms: string[];
  what: string;
  how: string;
  whatStoppedIt: string;
  doneAtOnce: string;
  classTitle: string | null;
  byName: string | null;
  actual: string | null;
  potential: string | null;
  category: string | null;
  causes: string[] | null;
  toldWith: string | null;
  learned: string | null;
  changed: string | null;
};
export const exportRows = (tx: Tx, studioId: string, fromDay: string, toDay: string): Promise<ExportRow[]> =>
  tx.rows<ExportRow>(
    `SELECT n.number, n.kind, n.signing, n.happened_on::text AS "happenedOn", n.when_words AS "whenWords", n.place, n.step_title AS "stepTitle", n.harms, n.what, n.how,
       n.what_stopped_it AS "whatStoppedIt", n.done_at_once AS "doneAtOnce", c.title AS "classTitle", CASE WHEN n.signing = 'named' THEN i.by_name END AS "byName",
       t.actual, t.potential, t.category, t.causes, o.number AS "toldWith",
       (SELECT string_agg(r.learned, ' / ' ORDER BY r.at, r.id) FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id = n.id) AS learned,
       (SELECT string_agg(r.change, ' / ' ORDER BY r.at, r.id) FROM note_review r WHERE r.studio_id = n.studio_id AND r.note_id = n.id AND r.change <> '') AS changed
     FROM note n
     LEFT JOIN class c ON c.studio_id = n.studio_id AND c.id = n.class_id
     LEFT JOIN note_identity i ON i.studio_id = n.studio_id AND i.note_id = n.id
     ${NEWEST_TRIAGE}
     LEFT JOIN note o ON o.studio_id = n.studio_id AND o.id = ${TOLD_WITH_ID}
     WHERE n.studio_id = $1::uuid AND n.happened_on BETWEEN $2::date AND $3::date ORDER BY n.happened_on, n.number`,
    [studioId, fromDay, toDay],
  );
