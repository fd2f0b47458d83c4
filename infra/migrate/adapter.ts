import { PrismaPg } from '@prisma/adapter-pg';
import { DriverAdapterError } from '@prisma/driver-adapter-utils';
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory, SqlQuery } from '@prisma/driver-adapter-utils';
import pg from 'pg';
import { readablePool } from './char-columns.ts';
import type { ReadablePool } from './char-columns.ts';

/**
 * The driver adapter as the migration engine needs it. Two things differ from the packaged one:
 * catalogue columns of type "char" are readable, and a script is sent whole.
 */
export function migrationAdapter(url: string): { factory: SqlMigrationAwareDriverAdapterFactory; end(): Promise<void> } {
  const readable = readablePool(url);
  const packaged = new PrismaPg(readable.pool);
  const factory: SqlMigrationAwareDriverAdapterFactory = {
    provider: packaged.provider,
    adapterName: packaged.adapterName,
    connect: async () => adapt(await packaged.connect(), readable),
    connectToShadowDb: () => Promise.reject(new Error('Migrations here need no shadow database.')),
  };
  return { factory, end: () => readable.pool.end() };
}

function adapt(adapter: SqlDriverAdapter, readable: ReadablePool): SqlDriverAdapter {
  const queryRaw = adapter.queryRaw.bind(adapter);
  adapter.queryRaw = async (query: SqlQuery) => readable.correct(await queryRaw(query));
  adapter.executeScript = (script: string) => runScript(readable.pool, script);
  return adapter;
}

// The packaged adapter cuts a script at every semicolon, so also inside function bodies and strings, and runs the
// pieces on any connection. Sent whole, PostgreSQL splits it and a failing migration leaves nothing behind.
async function runScript(pool: pg.Pool, script: string): Promise<void> {
  const client = await pool.connect();
  try {
    await client.query(script);
    client.release();
  } catch (error) {
    client.release(true);
    throw asAdapterError(error, script);
  }
}

function asAdapterError(error: unknown, script: string): unknown {
  if (!(error instanceof pg.DatabaseError)) return error;
  const message = `${error.message}${lineOf(error.position, script)}`;
  return new DriverAdapterError({
    kind: 'postgres',
    code: error.code ?? 'XX000',
    severity: error.severity ?? 'ERROR',
    message,
    detail: error.detail,
    column: error.column,
    hint: error.hint,
    originalCode: error.code ?? 'XX000',
    originalMessage: message,
  });
}

function lineOf(position: string | undefined, script: string): string {
  if (position === undefined) return '';
  return ` (line ${script.slice(0, Number(position)).split('\n').length})`;
}
