import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { withClient } from './database/client.ts';
import { diffFromDatabase, migrate } from './migrate.ts';
import { testDatabase } from './test-database.ts';
import type { TestDatabase } from './test-database.ts';

describe('migrations', () => {
  let database: TestDatabase;
  beforeAll(async () => {
    database = await testDatabase();
  });
  afterAll(async () => {
    await database.drop();
  });

  test('leave a database that agrees with prisma/schema.prisma', async () => {
    expect(await diffFromDatabase(database.adminUrl)).toBe('');
  });

  test('are applied once: a second run finds nothing to do', async () => {
    expect(await migrate(database.adminUrl)).toEqual([]);
  });

  test('let several processes call at once: all succeed', async () => {
    const answers = await Promise.all([1, 2, 3].map(() => migrate(database.adminUrl)));
    expect(answers.flat()).toEqual([]);
  });

  test('and the drift check does see a column that was added by hand', async () => {
    await withClient(database.adminUrl, (client) => client.query('alter table studio add column surprise text'));
    expect(await diffFromDatabase(database.adminUrl)).toContain('DROP COLUMN "surprise"');
    await withClient(database.adminUrl, (client) => client.query('alter table studio drop column surprise'));
  });

  test('give the application role a login without power to pass the row policies', async () => {
    const rows = await withClient(database.appUrl, async (client) => {
      const answer = await client.query<{ name: string; super: boolean; bypass: boolean; owned: string }>(
        `select current_user as name, rolsuper as super, rolbypassrls as bypass,
                (select count(*) from pg_class where relowner = pg_roles.oid)::text as owned
           from pg_roles where rolname = current_user`,
      );
      return answer.rows;
    });
    expect(rows).toEqual([{ name: 'ashwater_app', super: false, bypass: false, owned: '0' }]);
  });
});
