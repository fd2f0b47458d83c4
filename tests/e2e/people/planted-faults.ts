import type pg from 'pg';
import { judge } from './class-record.ts';
import type { Fault } from './class-record.ts';

/*
 * What the service never writes, written past it with triggers off, in a transaction that is rolled back: each must be found by the check
 * that is there for it. $1 is the class. An event that is touched in the same transaction as a row is the one that tells of that row.
 */
const CARD = `(SELECT id FROM weigh_card WHERE class_id = $1 ORDER BY issue DESC, number LIMIT 1)`;
const LAST_WORKER = `(SELECT c.seat_id FROM card_step c JOIN weigh_card w ON w.id = c.card_id WHERE w.class_id = $1 AND c.seat_id IS NOT NULL ORDER BY c.step_no DESC, c.at LIMIT 1)`;
const SIGNATURES = `(SELECT g.*, g.xmin::text AS xid FROM gear_act g WHERE g.kind = 'countersigned' AND g.seat_id = ${LAST_WORKER})`;
const READING = 'studio_id, gen_random_uuid(), card_id, step_no, seat_id, entered, mass_mg, verdict, off_by, advice, now()';
const NEW_READING = 'INSERT INTO reading (studio_id, id, card_id, step_no, seat_id, entered, mass_mg, verdict, off_by, advice, at)';
// Of a mass: a copy holds no temperature.
const ONE_READING = `FROM reading WHERE card_id = ${CARD} AND mass_mg IS NOT NULL AND supersedes_id IS NULL LIMIT 1`;
const LYE_CHECK = `SELECT k.id FROM reading_check k JOIN reading r ON r.id = k.reading_id JOIN card_step d ON d.card_id = r.card_id AND d.step_no = r.step_no
  JOIN weigh_card w ON w.id = r.card_id WHERE w.class_id = $1 AND k.agrees LIMIT 1`;

const PLANTED: [what: string, found: Fault, sql: string][] = [
  [
    'a visitor who was there all day and was never signed off',
    'somebody at a caustic step without a sign-off by another person that held',
    `WITH s AS (INSERT INTO seat (studio_id, id, class_id, class_station_id, name, token_hash, joined_at, signed_out_at)
       SELECT studio_id, gen_random_uuid(), class_id, class_station_id, 'Planted', 'planted', now(), now() FROM seat WHERE class_id = $1 LIMIT 1 RETURNING *)
     INSERT INTO event (studio_id, seq, kind, class_id, class_station_id, subject_id, at) SELECT studio_id, 0, 'seat-joined', class_id, class_station_id, id, now() FROM s`,
  ],
  [
    'a sign-off that nobody gave',
    'somebody at a caustic step without a sign-off by another person that held',
    `DELETE FROM gear_act WHERE id IN (SELECT id FROM ${SIGNATURES} g) AND $1::uuid IS NOT NULL`,
  ],
  [
    'a sign-off by the wearer',
    'somebody at a caustic step without a sign-off by another person that held',
    `UPDATE seat SET account_id = (SELECT account_id FROM ${SIGNATURES} g LIMIT 1) WHERE id = ${LAST_WORKER}`,
  ],
  [
    'a sign-off that ran out at once',
    'somebody at a caustic step without a sign-off by another person that held',
    `WITH old AS MATERIALIZED (SELECT id, xid FROM ${SIGNATURES} g),
       short AS (UPDATE gear_act SET valid_until = at WHERE id IN (SELECT id FROM old))
     UPDATE event SET at = at WHERE class_id = $1 AND xmin::text IN (SELECT xid FROM old)`,
  ],
  [
    'a lapse between a sign-off and what was done behind it',
    'somebody at a caustic step without a sign-off by another person that held',
    `WITH gap AS (SELECT g.studio_id, g.seat_id, g.card_id, max(e.seq) AS seq FROM gear_act g JOIN event s ON s.xmin::text = g.xmin::text AND s.class_id = $1
         JOIN card_step c ON c.seat_id = g.seat_id AND c.card_id = g.card_id AND c.at < g.valid_until JOIN event d ON d.xmin::text = c.xmin::text AND d.class_id = $1
         JOIN event e ON e.class_id = $1 AND e.kind = 'gear-confirmed' AND e.seq > s.seq AND e.seq < d.seq AND e.subject_id <> g.seat_id
         WHERE g.kind = 'countersigned' AND c.step_no >= 6
           AND 1 = (SELECT count(*) FROM gear_act o WHERE o.seat_id = g.seat_id AND o.kind = 'countersigned') GROUP BY 1, 2, 3 LIMIT 1),
       lapse AS (INSERT INTO gear_act (studio_id, id, seat_id, card_id, kind, reason, at)
         SELECT studio_id, gen_random_uuid(), seat_id, card_id, 'lapsed', 'planted', now() FROM gap)
     UPDATE event SET kind = 'gear-lapsed' WHERE seq = (SELECT seq FROM gap) AND class_id = $1`,
  ],
  [
    'a station where nobody ever came',
    'a caustic step with nobody there',
    `DELETE FROM event WHERE class_id = $1 AND kind IN ('seat-joined', 'seat-moved') AND class_station_id = (SELECT class_station_id FROM weigh_card WHERE id = ${CARD})`,
  ],
  ['a reading slipped in', 'an act that no event tells of', `${NEW_READING} SELECT ${READING} ${ONE_READING}`],
  ['a stop that nobody cleared', 'an act between a stop and its clearing', `DELETE FROM class_stop WHERE class_id = $1 AND kind = 'cleared'`],
  [
    'a reading on the replaced card',
    'an act on a card after its new issue',
    `WITH r AS (${NEW_READING} SELECT ${READING} FROM reading WHERE mass_mg IS NOT NULL AND card_id = (SELECT id FROM weigh_card w WHERE class_id = $1 AND issue = 1
       AND EXISTS (SELECT FROM weigh_card n WHERE n.number = w.number AND n.issue = 2)) LIMIT 1 RETURNING studio_id)
     INSERT INTO event (studio_id, seq, kind, class_id, at) SELECT studio_id, (SELECT 1 + max(seq) FROM event), 'reading-recorded', $1, now() FROM r`,
  ],
  ['a first step left out', 'a step done before the one that comes first', `DELETE FROM card_step WHERE card_id = ${CARD} AND step_no = 1`],
  [
    'a step written down twice',
    'a step done twice',
    `INSERT INTO card_step (studio_id, card_id, step_no, seat_id, at) SELECT studio_id, card_id, step_no, seat_id, now() FROM card_step WHERE card_id = ${CARD}`,
  ],
  [
    'a bench that was not cleaned',
    'a step of a card in force that was not done',
    `DELETE FROM card_step WHERE card_id = ${CARD} AND step_no = (SELECT max(step_no) FROM card_step WHERE card_id = ${CARD})`,
  ],
  ['two readings in force', 'a measured step without exactly one reading in force', `${NEW_READING} SELECT ${READING} ${ONE_READING}`],
  [
    'a reading that replaces one of another step',
    'a reading that replaces one of another step, or a later one',
    `UPDATE reading SET step_no = step_no + 1 WHERE supersedes_id IS NOT NULL AND card_id IN (SELECT id FROM weigh_card WHERE class_id = $1)`,
  ],
  [
    'a stray weighing waved through',
    'a step done on a reading off target that nobody approved',
    `DELETE FROM card_change WHERE card_id IN (SELECT id FROM weigh_card WHERE class_id = $1)`,
  ],
  ['lye that one person read', 'caustic weighed without an agreeing second reading by another person', `DELETE FROM reading_check WHERE id = (${LYE_CHECK})`],
  [
    'the same person reading twice',
    'caustic weighed without an agreeing second reading by another person',
    `UPDATE reading_check k SET by_name = (SELECT s.name FROM reading r JOIN seat s ON s.id = r.seat_id WHERE r.id = k.reading_id) WHERE id = (${LYE_CHECK})`,
  ],
  ['a jar without a label', 'a station without exactly one jar', `DELETE FROM jar WHERE card_id = ${CARD}`],
  [
    'somebody still there',
    'somebody who did not sign out',
    `UPDATE seat SET signed_out_at = NULL WHERE id = (SELECT id FROM seat WHERE class_id = $1 LIMIT 1)`,
  ],
  ['a class reopened', 'a class left open', `UPDATE class SET status = 'published' WHERE id = $1`],
  [
    'a milligram more',
    'a fault in the ledger',
    `UPDATE ledger_line SET mass_mg = mass_mg + 1 WHERE seq = 1 AND $1::uuid IS NOT NULL AND studio_id = current_studio()`,
  ],
  [
    'an audit line rewritten',
    'a broken link in the audit',
    `UPDATE audit SET action = 'nothing' WHERE seq = 2 AND $1::uuid IS NOT NULL AND studio_id = current_studio()`,
  ],
  [
    'an audit line cut off the end',
    'a broken link in the audit',
    `DELETE FROM audit WHERE $1::uuid IS NOT NULL AND studio_id = current_studio() AND seq = (SELECT max(seq) FROM audit WHERE studio_id = current_studio())`,
  ],
];

/** Plants one fault after the other and says which were not found; every fault that can be named is planted at least once. */
export async function unfound(database: pg.Client, classId: string): Promise<{ planted: number; names: Set<string>; missed: string[] }> {
  const missed: string[] = [];
  for (const [what, name, sql] of PLANTED) {
    await database.query('BEGIN');
    try {
      // Without the triggers that keep history as it was written, and without the keys that a doubled row would break.
      await database.query('SET LOCAL session_replication_role = replica');
      if (name === 'a step done twice') await database.query('ALTER TABLE card_step DROP CONSTRAINT card_step_pkey');
      const { rowCount } = await database.query(sql, [classId]);
      const found = (await judge(database, classId))[name].faults;
      if (!rowCount || found === 0) missed.push(`${what}: ${rowCount} rows planted, ${found} found`);
    } finally {
      await database.query('ROLLBACK');
    }
  }
  return { planted: PLANTED.length, names: new Set(PLANTED.map(([, name]) => name)), missed };
}
