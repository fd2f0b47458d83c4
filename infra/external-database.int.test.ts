import { chmodSync, cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { canConnect, withClient, withDatabase } from './database/client.ts';
import { startEmbedded } from './database/embedded.ts';
import type { EmbeddedServer } from './database/embedded.ts';
import { openDatabase } from './database.ts';
import { emptyDemo } from './empty-demo/empty-demo.ts';
import { diffFromDatabase, migrate, prepareRoles } from './migrate.ts';
import { inRepository } from './paths.ts';
import { countStudios } from './start/first-run.ts';

// A hosted database gives no superuser: its owner may make roles, and that is all. A server of its own, because roles
// belong to the whole server and the one of the other tests has ours already.
const LEARNING = '20261127170000_learn_from_what_went_wrong';
const OWNER_PASSWORD = 'p w@:/?x';
let folder: string;
let server: EmbeddedServer;
let databaseUrl: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'ashwater-external-'));
  chmodSync(folder, 0o755);
  server = await startEmbedded(folder, 'postgres');
  await withClient(server.adminUrl, async (client) => {
    await client.query(`create role hosted_owner login createrole password '${OWNER_PASSWORD}'`);
    await client.query('create database hosted owner hosted_owner');
  });
  const url = new URL(withDatabase(server.adminUrl, 'hosted'));
  url.username = 'hosted_owner';
  url.password = encodeURIComponent(OWNER_PASSWORD);
  databaseUrl = url.href;
});
afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

test('an owner without superuser rights can migrate, let the application in, see the studios, and empty a demo', async () => {
  const dataDir = join(folder, 'own');
  const database = await openDatabase({ dataDir, databaseUrl });
  expect(database.kind).toBe('external');
  expect(database.place).not.toContain(encodeURIComponent(OWNER_PASSWORD));
  expect((await migrate(database.adminUrl)).length).toBeGreaterThan(0);
  await prepareRoles(database.adminUrl);
  expect(await canConnect(database.appUrl)).toBe(true);
  expect(await diffFromDatabase(database.adminUrl)).toBe('');
  await withClient(withDatabase(server.adminUrl, 'hosted'), (client) =>
    client.query(
      "insert into studio (id, name, short_name, time_zone, emergency_phone, is_demo, created_at) values (gen_random_uuid(), 'Demo', 'demo', 'Europe/Berlin', '112', true, now())",
    ),
  );
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 1, real: 0 });
  await emptyDemo(database.adminUrl, { dataDir });
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 0, real: 0 });
  await database.stop();
});

/** The notes of two studios as they stood before names had a table of their own: by staff, from a seat, without a name given, anonymous. */
const [FIRST, SECOND] = ['00000000-0000-4000-8000-00000000000a', '00000000-0000-4000-8000-00000000000b'];
const OLD_NOTES = `
  insert into studio (id, name, short_name, time_zone, emergency_phone, created_at)
    select id::uuid, short, short, 'Europe/Berlin', '112', now() from (values ('${FIRST}', 'first'), ('${SECOND}', 'second')) as t (id, short);
  insert into note (studio_id, id, number, kind, signing, place, step_title, what, what_stopped_it, done_at_once, happened_on, filed_at, by_name, seat_id, account_id)
    select studio::uuid, gen_random_uuid(), number, 'near miss', signing, 'Sink', '', number || ' happened', '', '', '2026-11-25', filed::timestamptz, by_name, seat::uuid, account::uuid
    from (values
      ('${FIRST}', 'N-1', 'named', '2026-11-25 10:11:12Z', 'Ada', null, '00000000-0000-4000-8000-000000000001'),
      ('${FIRST}', 'N-2', 'named', '2026-11-25 10:12:13Z', 'Sam', '00000000-0000-4000-8000-000000000002', null),
      ('${FIRST}', 'N-3', 'anonymous', '2026-11-25 00:00:00Z', null, null, null),
      ('${SECOND}', 'N-4', 'named', '2026-11-25 10:13:14Z', null, '00000000-0000-4000-8000-000000000003', null)
    ) as t (studio, number, signing, filed, by_name, seat, account)`;

test('an owner without superuser rights brings an older database up to date: each named note keeps its writer, in the table for names', async () => {
  await withClient(server.adminUrl, (client) => client.query('create database older owner hosted_owner'));
  const ownerUrl = withDatabase(databaseUrl, 'older');
  const older = join(folder, 'migrations');
  const names = readdirSync(inRepository('prisma', 'migrations')).filter((name) => name < LEARNING);
  for (const name of names) cpSync(inRepository('prisma', 'migrations', name), join(older, name), { recursive: true });
  cpSync(inRepository('prisma', 'migrations', 'migration_lock.toml'), join(older, 'migration_lock.toml'));
  expect(await migrate(ownerUrl, older)).toEqual(names);
  const asSuperuser = <T extends object>(sql: string) => withClient(withDatabase(server.adminUrl, 'older'), (client) => client.query<T>(sql));
  // The classes, seats and accounts behind the notes do not matter here.
  await asSuperuser(`set session_replication_role = replica; ${OLD_NOTES}`);

  expect(await migrate(ownerUrl)).toContain(LEARNING);
  const { rows } = await asSuperuser(
    `select n.number, n.what, i.signing, i.by_name, right(i.seat_id::text, 1) as seat, right(i.account_id::text, 1) as account
     from note n left join note_identity i on i.studio_id = n.studio_id and i.note_id = n.id order by n.number`,
  );
  expect(rows).toEqual([
    { number: 'N-1', what: 'N-1 happened', signing: 'named', by_name: 'Ada', seat: null, account: '1' },
    { number: 'N-2', what: 'N-2 happened', signing: 'named', by_name: 'Sam', seat: '2', account: null },
    { number: 'N-3', what: 'N-3 happened', signing: null, by_name: null, seat: null, account: null },
    { number: 'N-4', what: 'N-4 happened', signing: 'named', by_name: '', seat: '3', account: null },
  ]);
  // The row policies that were lifted for the move hold again, for the owner too.
  const seen = await withClient(ownerUrl, async (client) => {
    await client.query(`select set_config('ashwater.studio_id', '${SECOND}', false)`);
    return (await client.query<{ number: string }>('select number from note')).rows;
  });
  expect(seen).toEqual([{ number: 'N-4' }]);
  expect(await diffFromDatabase(ownerUrl)).toBe('');
});

test('a database that cannot be reached is named without its password, and the data folder is free again', async () => {
  const dataDir = join(folder, 'other');
  const wrong = new URL(databaseUrl);
  wrong.password = 'wrong-secret';
  const fault = await openDatabase({ dataDir, databaseUrl: wrong.href }).catch((error: unknown) => String(error));
  expect(fault).toMatch(/No connection to the database at 127\.0\.0\.1:\d+\/hosted/);
  expect(fault).not.toContain('wrong-secret');
  const database = await openDatabase({ dataDir, databaseUrl });
  await database.stop();
});
