import type pg from 'pg';
import { withClient } from '../database/client.ts';
import { APP_ROLE } from '../migrate/roles.ts';
import { migrate, prepareRoles } from '../migrate.ts';
import { countStudios } from '../start/first-run.ts';
import { writeLaunchState } from '../start/launch-state.ts';

/**
 * Removes the demo studio by making the whole database anew, and remembers not to fill it again.
 * @param adminUrl connection URL of the role that owns the tables
 * @throws Error, before anything is changed, when a studio is not a demo or the service is connected
 */
export async function emptyDemo(adminUrl: string, options: { dataDir: string; appUrl?: string | undefined }): Promise<void> {
  await migrate(adminUrl);
  const studios = await countStudios(adminUrl);
  if (studios.real > 0) throw new Error('This database holds a studio that is not a demo. Only a demo can be emptied.');
  await withClient(adminUrl, async (client) => {
    await refuseWhileServed(client);
    // Append-only tables refuse DELETE, so the rows cannot be removed one by one; nothing but a demo was ever in here.
    // One transaction: a fault leaves the demo as it was.
    await client.query('begin; drop schema public cascade; create schema public; grant usage on schema public to public; commit');
  });
  await migrate(adminUrl);
  await prepareRoles(adminUrl, { appUrl: options.appUrl });
  writeLaunchState(options.dataDir, { demo: false });
}

// The claim on the data folder tells of an instance started from it; this tells of one started elsewhere.
async function refuseWhileServed(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ connected: number }>(
    'select count(*)::int as connected from pg_stat_activity where datname = current_database() and usename = $1',
    [APP_ROLE],
  );
  if ((rows[0]?.connected ?? 0) > 0) throw new Error('The service is connected to this database. Stop it first.');
}
