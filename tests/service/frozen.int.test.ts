import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { dump } from '../../apps/api/src/testing/dump.ts';
import { fillStudio } from '../../apps/api/src/testing/full-studio.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { TestStudio } from '../../apps/api/src/testing/test-studio.ts';

/**
 * What must never change once it is written. A new history table is added here and in the migration. Notes with their names, additions and pictures may
 * be blanked when the studio's rule is past, and then only: keeping.int.test.ts.
 */
const HISTORY = [
  'audit',
  'balance_report',
  'balance_signature',
  'card_change',
  'card_step',
  'check_weighing',
  'checkout',
  'checkout_return',
  'class_check',
  'class_difference',
  'class_message',
  'class_stop',
  'container',
  'container_act',
  'event',
  'follow_up',
  'follow_up_act',
  'gear_act',
  'jar',
  'jar_act',
  'ledger_line',
  'lot',
  'lot_paper',
  'note',
  'note_amendment',
  'note_identity',
  'note_merge',
  'note_picture',
  'note_review',
  'note_triage',
  'reading',
  'reading_check',
  'recipe_version',
  'scale_check',
  'stock_count',
  'stock_count_line',
  'stock_decision',
  'stock_file',
  'stock_request',
  'weigh_card',
];

let studio: TestStudio;
let app: pg.Client;
beforeAll(async () => {
  studio = await testStudio();
  await fillStudio(studio, studio.admin, 'Kept');
  app = new pg.Client({ connectionString: studio.database.appUrl });
  await app.connect();
  await app.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studio.studioId]);
});
afterAll(async () => {
  await app.end();
  await studio.close();
});

const stateOf = (run: Promise<unknown>) =>
  run.then(
    () => 'done',
    (error: { code?: string }) => error.code,
  );
const acts = (table: string) => [`UPDATE ${table} SET studio_id = studio_id`, `DELETE FROM ${table}`, `TRUNCATE ${table} CASCADE`];

test('the tables with the append-only triggers are those of the list, each with all three acts', async () => {
  const { rows } = await studio.admin.query<{ table: string; acts: number }>(
    `SELECT c.relname AS table, bit_or(t.tgtype & 56)::int AS acts FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_proc p ON p.oid = t.tgfoid
     WHERE p.proname IN ('refuse_change', 'only_blank') AND t.tgenabled <> 'D' AND t.tgtype & 2 = 2 GROUP BY 1 ORDER BY 1`,
  );
  // pg_trigger.tgtype: 8 DELETE, 16 UPDATE, 32 TRUNCATE; 2 BEFORE (catalog/pg_trigger.h)
  expect(rows).toEqual(HISTORY.map((table) => ({ table, acts: 8 | 16 | 32 })));
});

test.each(HISTORY)('%s: the service’s role may not change, remove or empty it', async (table) => {
  expect(Number((await app.query<{ n: string }>(`SELECT count(*) AS n FROM ${table}`)).rows[0]!.n), 'there is something to change').toBeGreaterThan(0);
  const before = await dump(studio.admin);
  // 42501 is insufficient_privilege (PostgreSQL manual, Appendix A)
  for (const act of acts(table)) expect([act, await stateOf(app.query(act))]).toEqual([act, '42501']);
  expect(await dump(studio.admin)).toEqual(before);
});

test.each(HISTORY)('%s: not even the tables’ owner may, past every grant', async (table) => {
  const before = await dump(studio.admin);
  for (const act of acts(table)) expect([act, await stateOf(studio.admin.query(act))]).toEqual([act, 'AW001']);
  expect(await dump(studio.admin)).toEqual(before);
});

test('the role cannot get round it: no owner, no superuser, no way to switch triggers off', async () => {
  const { rows } = await app.query<{ super: boolean; bypass: boolean; owned: number }>(
    `SELECT rolsuper AS super, rolbypassrls AS bypass, (SELECT count(*)::int FROM pg_class WHERE relowner = r.oid) AS owned FROM pg_roles r WHERE rolname = current_user`,
  );
  expect(rows).toEqual([{ super: false, bypass: false, owned: 0 }]);
  expect(await stateOf(app.query(`SET session_replication_role = replica`))).toBe('42501');
  expect(await stateOf(app.query('ALTER TABLE reading DISABLE TRIGGER ALL'))).toBe('42501');
  expect(await stateOf(app.query('SET ROLE ashwater_lookup'))).toBe('42501');
});

test('a station of a published class stays, one of a draft may go', async () => {
  const count = async (status: string) =>
    Number(
      (await studio.admin.query<{ n: string }>(`SELECT count(*) AS n FROM class_station s JOIN class c ON c.id = s.class_id WHERE c.status = $1`, [status]))
        .rows[0]!.n,
    );
  expect([await count('published'), await count('draft')]).toEqual([2, 1]);
  await app.query('DELETE FROM class_station');
  expect([await count('published'), await count('draft')]).toEqual([2, 0]);
});
