import type pg from 'pg';

/*
 * What must hold of a class that is over, asked of the tables and not of the service. $1 is the class. Order is that of commit: an event's
 * number is taken last in its transaction, and rows of history keep the xmin of the transaction that wrote them.
 */
const TOLD = `told AS (SELECT xmin::text AS xid, min(seq) AS seq FROM event WHERE class_id = $1 GROUP BY 1),
cards AS (SELECT w.*, lead(w.id) OVER (PARTITION BY w.class_station_id ORDER BY w.issue) AS next_id FROM weigh_card w WHERE w.class_id = $1),
steps AS (
  SELECT w.id AS card_id, s AS step, (s->>'no')::numeric AS place FROM cards w, jsonb_array_elements(w.content->'steps') s
  UNION ALL SELECT h.card_id, s, h.step_no + 0.001 * nth FROM card_change h JOIN cards w ON w.id = h.card_id, jsonb_array_elements(h.content->'steps') WITH ORDINALITY a(s, nth)),
plan AS (SELECT p.card_id, (step->>'no')::int AS step_no, step->>'kind' AS kind, step->>'lineKey' AS line_key, (step->>'caustic')::bool AS caustic, place,
    EXISTS (SELECT FROM card_change h WHERE h.card_id = p.card_id AND (h.content->'removed') @> (p.step->'no')) AS removed FROM steps p),
acts AS (
  SELECT 'step' AS of, c.card_id, c.step_no, c.at, told.seq FROM card_step c JOIN cards w ON w.id = c.card_id LEFT JOIN told ON told.xid = c.xmin::text
  UNION ALL SELECT 'reading', r.card_id, r.step_no, r.at, told.seq FROM reading r JOIN cards w ON w.id = r.card_id LEFT JOIN told ON told.xid = r.xmin::text
  UNION ALL SELECT 'second reading', r.card_id, r.step_no, k.at, told.seq FROM reading_check k JOIN reading r ON r.id = k.reading_id JOIN cards w ON w.id = r.card_id
    LEFT JOIN told ON told.xid = k.xmin::text),
caustic AS (SELECT a.*, w.class_station_id FROM acts a JOIN cards w ON w.id = a.card_id JOIN plan p ON p.card_id = a.card_id AND p.step_no = a.step_no WHERE p.caustic),
stays AS (
  SELECT seat_id, station_id, from_seq, lead(from_seq, 1, 9007199254740991) OVER (PARTITION BY seat_id ORDER BY from_seq) AS until_seq FROM (
    SELECT subject_id AS seat_id, CASE kind WHEN 'seat-signed-out' THEN NULL ELSE class_station_id END AS station_id, seq AS from_seq
    FROM event WHERE class_id = $1 AND kind IN ('seat-joined', 'seat-moved', 'seat-signed-out')) AS comings),
present AS (SELECT c.*, s.seat_id FROM caustic c JOIN stays s ON s.station_id = c.class_station_id AND s.from_seq < c.seq AND c.seq < s.until_seq),
gear AS (SELECT g.*, told.seq AS told FROM gear_act g JOIN cards w ON w.id = g.card_id LEFT JOIN told ON told.xid = g.xmin::text),
stops AS (SELECT s.kind, told.seq, lead(told.seq) OVER (ORDER BY s.seq) AS next_seq FROM class_stop s LEFT JOIN told ON told.xid = s.xmin::text WHERE s.class_id = $1),
standing AS (SELECT r.* FROM reading r JOIN cards w ON w.id = r.card_id WHERE NOT EXISTS (SELECT FROM reading later WHERE later.supersedes_id = r.id)),
lye AS (SELECT s.* FROM standing s JOIN plan p ON p.card_id = s.card_id AND p.step_no = s.step_no JOIN card_step d ON d.card_id = s.card_id AND d.step_no = s.step_no
  WHERE p.kind = 'weigh' AND p.line_key IN ('naoh', 'koh'))`;

/** `faults` counts what must not be; `seen` counts what was looked at, so that looking at nothing is not taken for a good day. */
type Check = { faults: string; seen: string };

const SIGNED = `EXISTS (SELECT FROM gear g JOIN seat s ON s.id = g.seat_id WHERE g.kind = 'countersigned' AND g.seat_id = p.seat_id AND g.card_id = p.card_id
  AND g.told < p.seq AND p.at < g.valid_until AND g.account_id IS NOT NULL AND g.account_id IS DISTINCT FROM s.account_id
  AND NOT EXISTS (SELECT FROM gear l WHERE l.kind = 'lapsed' AND l.seat_id = g.seat_id AND l.card_id = g.card_id AND l.told > g.told AND l.told < p.seq))`;
const IN_FORCE = 'JOIN cards w ON w.id = p.card_id AND w.next_id IS NULL';

/** By what must never be found. */
export const CHECKS = {
  'somebody at a caustic step without a sign-off by another person that held': {
    faults: `SELECT count(*) FROM present p WHERE NOT ${SIGNED}`,
    seen: 'SELECT count(*) FROM present',
  },
  'a caustic step with nobody there': {
    faults: 'SELECT count(*) FROM caustic c WHERE NOT EXISTS (SELECT FROM present p WHERE p.seq = c.seq)',
    seen: 'SELECT count(*) FROM caustic',
  },
  'an act that no event tells of': {
    faults: 'SELECT count(*) FROM acts WHERE seq IS NULL',
    seen: 'SELECT count(*) FROM acts',
  },
  'an act between a stop and its clearing': {
    faults: `SELECT count(*) FROM acts a JOIN stops s ON s.kind = 'stopped' AND a.seq > s.seq AND a.seq < coalesce(s.next_seq, 9007199254740991)`,
    seen: `SELECT count(*) FROM stops s WHERE s.kind = 'stopped' AND EXISTS (SELECT FROM acts a WHERE a.seq > s.next_seq) AND EXISTS (SELECT FROM acts a WHERE a.seq < s.seq)`,
  },
  'an act on a card after its new issue': {
    faults: `SELECT count(*) FROM acts a JOIN cards w ON w.id = a.card_id JOIN cards n ON n.id = w.next_id JOIN weigh_card i ON i.id = n.id
      JOIN told ON told.xid = i.xmin::text WHERE a.seq > told.seq`,
    seen: 'SELECT count(*) FROM acts a JOIN cards w ON w.id = a.card_id WHERE w.next_id IS NOT NULL',
  },
  'a step done before the one that comes first': {
    faults: `SELECT count(*) FROM acts a JOIN plan p ON p.card_id = a.card_id AND p.step_no = a.step_no WHERE a.of = 'step' AND EXISTS (
      SELECT FROM plan b WHERE b.card_id = p.card_id AND b.place < p.place AND NOT b.removed
      AND NOT EXISTS (SELECT FROM acts e WHERE e.of = 'step' AND e.card_id = b.card_id AND e.step_no = b.step_no AND e.seq < a.seq))`,
    seen: `SELECT count(*) FROM acts WHERE of = 'step'`,
  },
  'a step done twice': {
    faults: 'SELECT count(*) FROM (SELECT FROM card_step c JOIN cards w ON w.id = c.card_id GROUP BY c.card_id, c.step_no HAVING count(*) > 1) AS twice',
    seen: 'SELECT count(*) FROM card_step c JOIN cards w ON w.id = c.card_id',
  },
  'a step of a card in force that was not done': {
    faults: `SELECT count(*) FROM plan p ${IN_FORCE} WHERE NOT p.removed
      AND NOT EXISTS (SELECT FROM card_step d WHERE d.card_id = p.card_id AND d.step_no = p.step_no)`,
    seen: `SELECT count(*) FROM plan p ${IN_FORCE}`,
  },
  'a measured step without exactly one reading in force': {
    faults: `SELECT count(*) FROM plan p JOIN card_step d ON d.card_id = p.card_id AND d.step_no = p.step_no WHERE p.kind IN ('weigh', 'temperature')
      AND 1 <> (SELECT count(*) FROM standing s WHERE s.card_id = p.card_id AND s.step_no = p.step_no)`,
    seen: `SELECT count(*) FROM standing`,
  },
  'a reading that replaces one of another step, or a later one': {
    faults: `SELECT count(*) FROM reading r JOIN cards w ON w.id = r.card_id JOIN reading o ON o.id = r.supersedes_id
      WHERE (o.card_id, o.step_no) <> (r.card_id, r.step_no) OR o.seq >= r.seq`,
    seen: 'SELECT count(*) FROM reading r JOIN cards w ON w.id = r.card_id WHERE r.supersedes_id IS NOT NULL',
  },
  'a step done on a reading off target that nobody approved': {
    faults: `SELECT count(*) FROM standing s JOIN card_step d ON d.card_id = s.card_id AND d.step_no = s.step_no WHERE s.verdict <> 'within'
      AND NOT EXISTS (SELECT FROM card_change h WHERE h.card_id = s.card_id AND h.step_no = s.step_no)`,
    seen: 'SELECT count(*) FROM card_change h JOIN cards w ON w.id = h.card_id',
  },
  'caustic weighed without an agreeing second reading by another person': {
    faults: `SELECT count(*) FROM lye r LEFT JOIN seat first ON first.id = r.seat_id WHERE NOT EXISTS (SELECT FROM reading_check k LEFT JOIN seat s ON s.id = k.seat_id
      WHERE k.reading_id = r.id AND k.agrees AND lower(trim(k.by_name)) <> lower(trim(first.name))
      AND (k.account_id IS NULL OR k.account_id IS DISTINCT FROM first.account_id))`,
    seen: 'SELECT count(*) FROM lye',
  },
  'a station without exactly one jar': {
    faults:
      'SELECT count(*) FROM class_station t WHERE t.class_id = $1 AND 1 <> (SELECT count(*) FROM jar j JOIN cards w ON w.id = j.card_id WHERE w.class_station_id = t.id)',
    seen: 'SELECT count(*) FROM class_station t WHERE t.class_id = $1',
  },
  'somebody who did not sign out': {
    faults: 'SELECT count(*) FROM seat WHERE class_id = $1 AND signed_out_at IS NULL',
    seen: 'SELECT count(*) FROM seat WHERE class_id = $1',
  },
  'a class left open': {
    faults: `SELECT count(*) FROM class WHERE id = $1 AND NOT (status = 'closed' AND closed_at IS NOT NULL)`,
    seen: 'SELECT count(*) FROM class WHERE id = $1',
  },
  'a fault in the ledger': {
    faults: 'SELECT count(*) FROM ledger_faults()',
    seen: 'SELECT count(*) FROM ledger_line WHERE studio_id = current_studio()',
  },
  'a broken link in the audit': {
    faults: `SELECT count(*) FROM (
      SELECT a.seq, a.hash <> sha256(audit_memento(a)) OR a.previous_hash <> lag(a.hash, 1, '\\x00'::bytea) OVER (ORDER BY a.seq)
        OR a.seq <> row_number() OVER (ORDER BY a.seq) AS broken, h.seq < a.seq OR (h.seq = a.seq AND h.hash <> a.hash)
        OR h.seq > max(a.seq) OVER () AS cut
      FROM audit a JOIN chain_head h ON h.studio_id = a.studio_id AND h.chain = 'audit' WHERE a.studio_id = current_studio()) AS line WHERE broken OR cut`,
    seen: 'SELECT count(*) FROM audit WHERE studio_id = current_studio()',
  },
} satisfies Record<string, Check>;
export type Fault = keyof typeof CHECKS;

export type Found = { faults: number; seen: number };
/** Every check of one class, by name. The studio is that of the class. */
export async function judge(database: pg.Client, classId: string): Promise<Record<Fault, Found>> {
  await database.query(`SELECT set_config('ashwater.studio_id', (SELECT studio_id::text FROM class WHERE id = $1), false)`, [classId]);
  const found: [string, Found][] = [];
  for (const [name, { faults, seen }] of Object.entries(CHECKS)) {
    const count = async (sql: string): Promise<number> => {
      const { rows } = await database.query<{ count: string }>(`WITH ${TOLD} ${sql}`, [classId]);
      return Number(rows[0]!.count);
    };
    found.push([name, { faults: await count(faults), seen: await count(seen) }]);
  }
  return Object.fromEntries(found) as Record<Fault, Found>;
}
