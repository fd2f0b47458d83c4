import { randomBytes } from 'node:crypto';
import { inject } from 'vitest';
import { withClient, withDatabase } from './database/client.ts';
import { appUrlFrom } from './migrate/roles.ts';

/** A database of its own for one test file: every migration applied, no rows. */
export interface TestDatabase {
  /** Owner's URL: makes and changes tables, is not held back by row policies. */
  adminUrl: string;
  /** The application role's URL, as the API connects. */
  appUrl: string;
  /** Closes what is still connected and removes the database. */
  drop(): Promise<void>;
}

declare module 'vitest' {
  interface ProvidedContext {
    testServerUrl: string;
    testTemplate: string;
  }
}

/** Makes a database for one *.int.test.ts file, copied from the migrated template of this run. */
export async function testDatabase(): Promise<TestDatabase> {
  const serverUrl = inject('testServerUrl');
  const name = `ashwater_test_${randomBytes(6).toString('hex')}`;
  await withClient(serverUrl, (client) => client.query(`create database ${name} template ${inject('testTemplate')}`));
  const adminUrl = withDatabase(serverUrl, name);
  return {
    adminUrl,
    appUrl: appUrlFrom(adminUrl),
    drop: () =>
      withClient(serverUrl, async (client) => {
        await client.query(`drop database if exists ${name} with (force)`);
      }),
  };
}
