import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { withClient } from '../database/client.ts';
import { testDatabase } from '../test-database.ts';
import type { TestDatabase } from '../test-database.ts';
import { migrate } from './migrations.ts';

let database: TestDatabase;
let folder: string;

beforeAll(async () => {
  database = await testDatabase();
  await withClient(database.adminUrl, (client) => client.query('drop schema public cascade; create schema public'));
  folder = mkdtempSync(join(tmpdir(), 'ashwater-migrations-'));
  writeFileSync(join(folder, 'migration_lock.toml'), 'provider = "postgresql"\n');
});
afterAll(async () => {
  rmSync(folder, { recursive: true, force: true });
  await database.drop();
});

function addMigration(name: string, sql: string): void {
  mkdirSync(join(folder, name), { recursive: true });
  writeFileSync(join(folder, name, 'migration.sql'), sql);
}

test('a migration with semicolons inside a function body and a string is run whole', async () => {
  addMigration(
    '20260101000000_make_a_function',
    `
    create table jar (label text check (label <> 'a;b'));
    create function two() returns int language plpgsql as $$ begin perform 1; return 2; end $$;`,
  );
  expect(await migrate(database.adminUrl, folder)).toEqual(['20260101000000_make_a_function']);
  const { rows } = await withClient(database.adminUrl, (client) => client.query('select two() as answer'));
  expect(rows).toEqual([{ answer: 2 }]);
});

test('a failing migration is named with its line, leaves nothing behind, and is not passed over the next time', async () => {
  addMigration('20260102000000_fail_half_way', 'create table half (id int);\nselect nothing_of_that_name();');
  await expect(migrate(database.adminUrl, folder)).rejects.toThrow(/^Migration 20260102000000_fail_half_way failed\..*nothing_of_that_name.*\(line 2\)/);
  const { rows } = await withClient(database.adminUrl, (client) => client.query("select to_regclass('half') as half"));
  expect(rows).toEqual([{ half: null }]);
  await expect(migrate(database.adminUrl, folder)).rejects.toThrow(/20260102000000_fail_half_way/);
});
