import { defaultDataDir } from '../data-dir.ts';
import { openDatabase } from '../database.ts';
import { diffFromDatabase, diffFromEmpty, migrate } from './migrations.ts';

const USAGE = `usage: infra/migrate.ts up     apply the migrations the database lacks
       infra/migrate.ts draft  print the SQL that leads from the database to prisma/schema.prisma
       infra/migrate.ts ddl    print the SQL that makes every table from nothing
The database is DATABASE_URL, else the one in the data folder.`;

/** Command line of infra/migrate.ts. */
export async function runMigrateCommand(args: string[]): Promise<void> {
  const command = args[0] ?? '';
  if (!['up', 'draft', 'ddl'].includes(command)) {
    process.stderr.write(`${USAGE}\n`);
    process.exitCode = 2;
    return;
  }
  const database = await openDatabase({ dataDir: defaultDataDir(), databaseUrl: process.env.DATABASE_URL });
  try {
    if (command === 'up') process.stdout.write(`${(await migrate(database.adminUrl)).join('\n') || 'Nothing to apply.'}\n`);
    if (command === 'draft') process.stdout.write((await diffFromDatabase(database.adminUrl)) || '-- no difference\n');
    if (command === 'ddl') process.stdout.write(await diffFromEmpty(database.adminUrl));
  } finally {
    await database.stop();
  }
}
