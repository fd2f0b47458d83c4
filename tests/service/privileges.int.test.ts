import { afterAll, beforeAll, expect, test } from 'vitest';
import pg from 'pg';
import { testDatabase } from '../../infra/test-database.ts';
import type { TestDatabase } from '../../infra/test-database.ts';

let database: TestDatabase;
let admin: pg.Client;
beforeAll(async () => {
  database = await testDatabase();
  admin = new pg.Client({ connectionString: database.adminUrl });
  await admin.connect();
});
afterAll(async () => {
  await admin.end();
  await database.drop();
});

// S select, I insert, U update, D delete, T truncate: what the service's role may do with each table.
const APP: Record<string, string> = {
  studio: 'SIU',
  account: 'SIU',
  session: 'SIUD',
  station: 'SIU',
  check_weighing: 'SI',
  studio_fat: 'SIU',
  recipe: 'SIU',
  recipe_version: 'SI',
  class: 'SIU',
  class_station: 'SIUD',
  weigh_card: 'SI',
  seat: 'SIU',
  gear_act: 'SI',
  card_step: 'SI',
  card_change: 'SI',
  reading_check: 'SI',
  class_check: 'SI',
  class_message: 'SI',
  bench_device: 'SIU',
  reading: 'SI',
  class_stop: 'SI',
  jar: 'SI',
  jar_act: 'SI',
  lot: 'SI',
  container: 'SI',
  place_balance: 'SIU',
  ledger_line: 'SI',
  chain_head: 'SIU',
  checkout: 'SI',
  checkout_return: 'SI',
  stock_count: 'SI',
  stock_count_line: 'SI',
  note: 'SI',
  note_review: 'SI',
  note_amendment: 'SI',
  note_identity: 'SI',
  note_picture: 'SI',
  note_triage: 'SI',
  note_merge: 'SI',
  follow_up: 'SI',
  follow_up_act: 'SI',
  follow_up_change: 'SI',
  staff_hours: 'SIU',
  event: 'SI',
  studio_counter: 'SIU',
  idempotency: 'SIUD',
  audit: 'SI',
  cabinet_scale: 'SIU',
  supplier_offer: 'SIU',
  scale_check: 'SI',
  stock_file: 'SI',
  lot_paper: 'SI',
  container_act: 'SI',
  stock_request: 'SI',
  stock_decision: 'SI',
  class_difference: 'SI',
  balance_report: 'SI',
  balance_signature: 'SI',
};
const ALL_TABLES = (privileges: string) => Object.fromEntries(Object.keys(APP).map((table) => [table, privileges]));
const MATRIX = {
  ashwater_app: APP,
  ashwater_lookup: ALL_TABLES(''),
  ashwater_readonly: { ...ALL_TABLES('S'), note_identity: '' },
  ashwater_backup: ALL_TABLES('S'),
};

test.each(Object.entries(MATRIX))('%s may do with each table what the list says, and no more', async (role, wanted) => {
  const { rows } = await admin.query<{ name: string; may: string }>(
    `SELECT relname AS name, (SELECT string_agg(CASE WHEN has_table_privilege($1, c.oid, p.act) THEN p.sign ELSE '' END, '' ORDER BY p.o)
       FROM (VALUES (1, 'SELECT', 'S'), (2, 'INSERT', 'I'), (3, 'UPDATE', 'U'), (4, 'DELETE', 'D'), (5, 'TRUNCATE', 'T'), (6, 'REFERENCES', 'R'), (7, 'TRIGGER', 'G')) p(o, act, sign)) AS may
     FROM pg_class c WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname NOT LIKE '\\_prisma%' ORDER BY 1`,
    [role],
  );
  expect(Object.fromEntries(rows.map((row) => [row.name, row.may]))).toEqual(wanted);
});

test('the look-up role reads only the columns that tell where a code or an address leads', async () => {
  const { rows } = await admin.query<{ name: string; columns: string }>(
    `SELECT c.relname AS name, string_agg(a.attname, ' ' ORDER BY a.attname) AS columns FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND has_column_privilege('ashwater_lookup', c.oid, a.attnum, 'SELECT') GROUP BY 1 ORDER BY 1`,
  );
  expect(Object.fromEntries(rows.map((row) => [row.name, row.columns]))).toEqual({
    account: 'disabled_at email id password_hash studio_id',
    class: 'id join_code status studio_id',
    class_station: 'class_id id join_code studio_id',
    studio: 'id short_name wall_code',
  });
});

test('no role may log in but the service’s, none is above the row policies, none belongs to another', async () => {
  const { rows } = await admin.query(
    `SELECT rolname AS name, rolcanlogin AS login, rolsuper OR rolbypassrls OR rolcreatedb OR rolcreaterole OR rolreplication AS mighty,
       EXISTS (SELECT FROM pg_auth_members m WHERE m.member = r.oid) AS member FROM pg_roles r WHERE rolname LIKE 'ashwater\\_%' AND rolname = ANY($1) ORDER BY 1`,
    [Object.keys(MATRIX)],
  );
  expect(rows).toEqual(
    Object.keys(MATRIX)
      .sort()
      .map((name) => ({ name, login: name === 'ashwater_app', mighty: false, member: false })),
  );
});

test('nobody but the owner makes things in the schema, and the migrations’ own table is closed', async () => {
  for (const role of Object.keys(MATRIX)) {
    const { rows } = await admin.query<{ create: boolean; temp: boolean }>(`SELECT has_schema_privilege($1, 'public', 'CREATE') AS create`, [role]);
    expect([role, rows[0]!.create]).toEqual([role, false]);
    const closed = await admin.query<{ name: string }>(
      `SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relname LIKE '\\_prisma%' AND has_table_privilege($1, oid, 'SELECT, INSERT, UPDATE, DELETE')`,
      [role],
    );
    expect(closed.rows, role).toEqual([]);
  }
});

test('a backup sees every studio and can write nothing; the read-only role sees only the studio that is set', async () => {
  const studios = ['11111111-1111-7111-8111-111111111111', '22222222-2222-7222-8222-222222222222'];
  for (const [i, id] of studios.entries())
    await admin.query(`INSERT INTO studio (id, name, short_name, time_zone, emergency_phone, created_at) VALUES ($1, 'Studio', $2, 'UTC', '112', now())`, [
      id,
      `studio-${i}`,
    ]);
  const seenBy = async (role: string, studio: string) => {
    await admin.query('BEGIN');
    try {
      await admin.query(`SELECT set_config('ashwater.studio_id', $1, true)`, [studio]);
      await admin.query(`SET LOCAL ROLE ${role}`);
      return (await admin.query<{ id: string }>('SELECT id FROM studio ORDER BY id')).rows.map(({ id }) => id);
    } finally {
      await admin.query('ROLLBACK');
    }
  };
  expect(await seenBy('ashwater_backup', '')).toEqual(studios);
  expect(await seenBy('ashwater_readonly', '')).toEqual([]);
  expect(await seenBy('ashwater_readonly', studios[1]!)).toEqual([studios[1]]);
});
