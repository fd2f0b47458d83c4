import { mkdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { startEmbedded } from './database/embedded.ts';
import { claimFolder } from './database/instance-lock.ts';
import { withClient } from './database/client.ts';
import { appUrlFrom } from './migrate/roles.ts';

export { FolderInUse, lockHolder } from './database/instance-lock.ts';

/** A database ready to be migrated and served. */
export interface OpenDatabase {
  /** Connection URL of the role that owns the tables. */
  adminUrl: string;
  /** Connection URL of the application role; it can log in after prepareRoles. */
  appUrl: string;
  kind: 'embedded' | 'external';
  /** Where the data lies, for people: a folder, or host and database. Never holds a password. */
  place: string;
  /** Stops the embedded server and gives the data folder back. */
  stop(): Promise<void>;
  /** Ends the embedded server at once; it recovers at its next start. */
  kill(): void;
}

const DATABASE = 'ashwater';

/**
 * Claims the data folder and opens its database: the server at `databaseUrl`, else the embedded one in the folder.
 * @param options.databaseUrl URL of the owner's role of an existing database (DATABASE_URL)
 * @param options.appUrl URL of the application role, when the operator made its login by hand (DATABASE_APP_URL)
 * @throws FolderInUse when another process works on the folder; Error when no connection can be made
 */
export async function openDatabase(options: { dataDir: string; databaseUrl?: string | undefined; appUrl?: string | undefined }): Promise<OpenDatabase> {
  const dataDir = resolve(options.dataDir);
  mkdirSync(dataDir, { recursive: true, mode: 0o755 });
  const giveBack = claimFolder(dataDir);
  try {
    return (options.databaseUrl ?? '') === '' ? await openEmbedded(dataDir, giveBack) : await openExternal(options.databaseUrl ?? '', options.appUrl, giveBack);
  } catch (error) {
    giveBack();
    throw error;
  }
}

async function openEmbedded(dataDir: string, giveBack: () => void): Promise<OpenDatabase> {
  const server = await startEmbedded(dataDir, DATABASE);
  return {
    adminUrl: server.adminUrl,
    appUrl: appUrlFrom(server.adminUrl),
    kind: 'embedded',
    place: server.folder,
    stop: async () => {
      await server.stop();
      giveBack();
    },
    kill: () => {
      server.kill();
      giveBack();
    },
  };
}

async function openExternal(adminUrl: string, appUrl: string | undefined, giveBack: () => void): Promise<OpenDatabase> {
  const { host, pathname } = new URL(adminUrl);
  const place = `${host}${pathname}`;
  try {
    await withClient(adminUrl, (client) => client.query('select 1'));
  } catch (error) {
    throw new Error(`No connection to the database at ${place} (DATABASE_URL): ${error instanceof Error ? error.message : String(error)}`, { cause: error });
  }
  return { adminUrl, appUrl: appUrl ?? appUrlFrom(adminUrl), kind: 'external', place, stop: async () => giveBack(), kill: giveBack };
}
