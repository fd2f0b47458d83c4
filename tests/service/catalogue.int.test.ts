import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { fillStudio } from '../../apps/api/src/testing/full-studio.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { TestStudio } from '../../apps/api/src/testing/test-studio.ts';

// What must hold of every tenant table, read from PostgreSQL's own catalogue: a table added later is held to it too.
let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
  await fillStudio(studio, studio.admin, 'Kept');
});
afterAll(() => studio.close());
const names = async (sql: string): Promise<string[]> => (await studio.admin.query<{ name: string }>(sql)).rows.map((row) => row.name);
const TENANT = `c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND c.relname NOT LIKE '\\_prisma%'`;
const tenantTables = () => names(`SELECT relname AS name FROM pg_class c WHERE ${TENANT} ORDER BY 1`);

test('every table holds studio_id, save the studios themselves', async () => {
  const without = await names(
    `SELECT relname AS name FROM pg_class c WHERE ${TENANT} AND NOT EXISTS (SELECT FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'studio_id' AND a.attnotnull)`,
  );
  expect(without).toEqual(['studio']);
  expect((await tenantTables()).length).toBeGreaterThan(30);
});

test('row-level security is on and forced on every table, and each permissive policy of the service compares the studio', async () => {
  expect(await names(`SELECT relname AS name FROM pg_class c WHERE ${TENANT} AND NOT (relrowsecurity AND relforcerowsecurity)`)).toEqual([]);
  const policies = await studio.admin.query<{ name: string; table: string; roles: string[]; using: string; check: string | null; command: string }>(
    `SELECT policyname AS name, tablename AS table, roles::text[] AS roles, cmd AS command, qual AS using, with_check AS check FROM pg_policies WHERE schemaname = 'public' AND permissive = 'PERMISSIVE'`,
  );
  const own = policies.rows.filter((policy) => policy.name === 'own_studio');
  expect(own.map((policy) => policy.table).sort()).toEqual(await tenantTables());
  for (const policy of own) {
    const compares = policy.table === 'studio' ? '(id = current_studio())' : '(studio_id = current_studio())';
    expect([policy.using, policy.check], policy.table).toEqual([compares, compares]);
  }
  const others = policies.rows.filter((policy) => policy.name !== 'own_studio');
  // Beside it only two ways to read past one studio, each for a role of its own.
  const backups = (await tenantTables()).map((table) => `${table} backup ashwater_backup SELECT`);
  const lookups = ['account', 'class', 'class_station', 'studio'].map((table) => `${table} lookup ashwater_lookup SELECT`);
  expect(others.map((policy) => `${policy.table} ${policy.name} ${policy.roles.join()} ${policy.command}`).sort()).toEqual([...backups, ...lookups].sort());
});

test('without a studio the service’s role sees no row of any table, and can add none', async () => {
  const app = new pg.Client({ connectionString: studio.database.appUrl });
  await app.connect();
  try {
    for (const table of await tenantTables()) {
      const count = async (client: pg.Client) => Number((await client.query<{ n: string }>(`SELECT count(*) AS n FROM ${table}`)).rows[0]!.n);
      expect(await count(studio.admin), `${table} has rows to hide`).toBeGreaterThan(0);
      expect(await count(app), table).toBe(0);
    }
    for (const studioId of ['NULL', `''`]) await app.query(`SELECT set_config('ashwater.studio_id', ${studioId}, false)`);
    await expect(app.query(`INSERT INTO studio_counter VALUES ($1, 'x', 1)`, [studio.studioId])).rejects.toMatchObject({ code: '42501' });
    await app.query(`SELECT set_config('ashwater.studio_id', '''; DROP TABLE jar; --', false)`);
    await expect(app.query('SELECT * FROM jar')).rejects.toMatchObject({ code: '22P02' });
  } finally {
    await app.end();
  }
});

test('every key, unique index and reference between tenant tables begins with the studio', async () => {
  const notLed = await names(
    `SELECT i.relname AS name FROM pg_index x JOIN pg_class c ON c.oid = x.indrelid JOIN pg_class i ON i.oid = x.indexrelid
     JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = x.indkey[0] WHERE ${TENANT} AND (x.indisunique OR x.indisprimary) AND a.attname <> 'studio_id' ORDER BY 1`,
  );
  // A studio's short name is typed at sign-in, before a studio is known: it is one name for the whole service.
  expect(notLed).toEqual(['studio_pkey', 'studio_short_name_key']);
  const references = await studio.admin.query<{ name: string; own: string[]; other: string[]; table: string }>(
    `SELECT k.conname AS name, f.relname AS table,
       ARRAY(SELECT attname::text FROM unnest(k.conkey) WITH ORDINALITY u(n, o) JOIN pg_attribute ON attrelid = k.conrelid AND attnum = n ORDER BY o) AS own,
       ARRAY(SELECT attname::text FROM unnest(k.confkey) WITH ORDINALITY u(n, o) JOIN pg_attribute ON attrelid = k.confrelid AND attnum = n ORDER BY o) AS other
     FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid JOIN pg_class f ON f.oid = k.confrelid WHERE k.contype = 'f' AND ${TENANT}`,
  );
  expect(references.rows.length).toBeGreaterThan(30);
  for (const { name, own, other, table } of references.rows)
    expect([name, own[0], other[0]]).toEqual([name, 'studio_id', table === 'studio' ? 'id' : 'studio_id']);
});

test('no view reads past the row policies of whoever asks', async () => {
  expect(
    await names(
      `SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('v', 'm') AND NOT coalesce(reloptions @> ARRAY['security_invoker=true'], false)`,
    ),
  ).toEqual([]);
});

test('functions that run with another’s rights are four look-ups, with a pinned search path and no public grant', async () => {
  const { rows } = await studio.admin.query<{ name: string; owner: string; settings: string[]; callers: string[] }>(
    `SELECT p.proname AS name, r.rolname AS owner, p.proconfig AS settings, ARRAY(SELECT coalesce(g.rolname, 'PUBLIC')::text FROM aclexplode(p.proacl) x LEFT JOIN pg_roles g ON g.oid = x.grantee ORDER BY 1) AS callers
     FROM pg_proc p JOIN pg_roles r ON r.oid = p.proowner WHERE p.pronamespace = 'public'::regnamespace AND p.prosecdef ORDER BY 1`,
  );
  expect(rows).toEqual(
    ['any_studio', 'sign_in_candidates', 'studio_of_join_code', 'studio_of_note_code'].map((name) => ({
      name,
      owner: 'ashwater_lookup',
      settings: ['search_path=pg_catalog, public'],
      callers: ['ashwater_app', 'ashwater_lookup'],
    })),
  );
  // A body between BEGIN ATOMIC and END was bound to its functions when it was made: no search path can turn it to others.
  expect(
    await names(
      `SELECT proname AS name FROM pg_proc WHERE pronamespace = 'public'::regnamespace AND prosqlbody IS NULL AND (proconfig IS NULL OR NOT EXISTS (SELECT FROM unnest(proconfig) s WHERE s LIKE 'search_path=%'))`,
    ),
  ).toEqual([]);
});
