import { withClient } from '../database/client.ts';
import { migrationList, schemaFiles, withEngine } from './schema-engine.ts';
import { repositoryRoot } from '../paths.ts';

// Any constant will do, as long as every process that migrates this database uses the same one.
const MIGRATION_LOCK = 4_310_001;
const FILTERS = { externalTables: [], externalEnums: [] };

/**
 * Applies the migrations of prisma/migrations that the database lacks. Several processes may call it at once:
 * an advisory lock lets one of them work and the others find nothing left to do.
 * @param adminUrl connection URL of the role that owns the tables
 * @param folder the migrations, when not those of this repository
 * @returns names of the migrations applied now, oldest first
 * @throws Error naming the migration that failed; those before it stay applied
 */
export async function migrate(adminUrl: string, folder?: string): Promise<string[]> {
  return await withClient(adminUrl, async (client) => {
    await client.query('select pg_advisory_lock($1)', [MIGRATION_LOCK]);
    const migrationsList = await migrationList(folder);
    return await withEngine(adminUrl, async (engine) => {
      const applied = await engine.applyMigrations({ migrationsList, filters: FILTERS }).catch((error: unknown) => {
        throw readable(error);
      });
      return applied.appliedMigrationNames;
    });
  });
}

// The engine answers with a trace of its own insides; the name, the reason and the line are what people need.
function readable(error: unknown): Error {
  const text = error instanceof Error ? error.message : String(error);
  const name = /migration_name="?([^"\s]+)"?/.exec(text)?.[1];
  const reason =
    text
      .split(/\n\s+0: /)[0]
      ?.replace(/^external connector error\s*/, '')
      .trim() ?? text;
  return new Error(name === undefined ? reason : `Migration ${name} failed. ${reason}`, { cause: error });
}

/** SQL that would turn the live database into prisma/schema.prisma; empty when they agree. */
export async function diffFromDatabase(adminUrl: string): Promise<string> {
  const files = await schemaFiles();
  return await diff(adminUrl, { tag: 'schemaDatasource', files, configDir: repositoryRoot });
}

/** SQL that would make every table of prisma/schema.prisma in an empty database. */
export async function diffFromEmpty(adminUrl: string): Promise<string> {
  return await diff(adminUrl, { tag: 'empty' });
}

async function diff(adminUrl: string, from: DiffSource): Promise<string> {
  const files = await schemaFiles();
  const result = await withEngine(adminUrl, (engine) =>
    engine.diff({
      from,
      to: { tag: 'schemaDatamodel', files },
      script: true,
      exitCode: true,
      filters: FILTERS,
    }),
  );
  // 0 = no difference; the script then holds only a comment that says so.
  return result.exitCode === 0 ? '' : (result.stdout ?? '');
}

type DiffSource = { tag: 'empty' } | { tag: 'schemaDatasource'; files: { path: string; content: string }[]; configDir: string };
