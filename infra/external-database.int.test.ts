import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { canConnect, withClient, withDatabase } from './database/client.ts';
import { startEmbedded } from './database/embedded.ts';
import type { EmbeddedServer } from './database/embedded.ts';
import { openDatabase } from './database.ts';
import { emptyDemo } from './empty-demo/empty-demo.ts';
import { diffFromDatabase, migrate, prepareRoles } from './migrate.ts';
import { countStudios } from './start/first-run.ts';

// A hosted database gives no superuser: its owner may make roles, and that is all. A server of its own, because roles
// belong to the whole server and the one of the other tests has ours already.
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
