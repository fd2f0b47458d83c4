import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { PrismaClient } from '../../../../../prisma/generated/client.ts';
import type { Prisma } from '../../../../../prisma/generated/client.ts';

/** A transaction inside one studio. `rows` runs SQL; every store works on it. */
export type Tx = { rows<Row>(text: string, values?: unknown[]): Promise<Row[]> };
/** The same, with Prisma on the same transaction, for the ordinary screens. */
export type OrmTx = Tx & { orm: Prisma.TransactionClient };

export type Database = {
  /** Runs `work` in one transaction of one studio, by plain SQL: the hot paths. */
  transact<T>(studioId: string, work: (tx: Tx) => Promise<T>): Promise<T>;
  /** The same with Prisma: 5 to 10 times the cost of a keyed look-up, for screens that are not hot. */
  transactOrm<T>(studioId: string, work: (tx: OrmTx) => Promise<T>): Promise<T>;
  /** Look-ups that must work before a studio is known: SECURITY DEFINER functions only, no table is readable here. */
  lookUp: Tx;
  /** A connection of its own for LISTEN; the caller ends it. */
  directClient(): pg.Client;
  close(): Promise<void>;
};

// bigint columns are masses in mg and sequence numbers, far below 2^53; a larger one is a fault, not a rounding.
const types = {
  getTypeParser(oid: number, format?: 'text' | 'binary') {
    if (oid === pg.types.builtins.INT8)
      return (text: string) => {
        const value = Number(text);
        if (!Number.isSafeInteger(value)) throw new Error('a bigint is too large to be exact');
        return value;
      };
    if (oid === pg.types.builtins.DATE) return (text: string) => text;
    return pg.types.getTypeParser(oid, format);
  },
};

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
/** The transaction's studio, for row-level security. Local to the transaction: through a pooler a session's setting is another's. */
function setStudio(studioId: string): string {
  // It stands in SQL text, so that it can travel with BEGIN; nothing but a UUID may.
  if (!UUID.test(studioId)) throw new Error('a studio id must be a UUID');
  return `SELECT set_config('ashwater.studio_id', '${studioId}', true)`;
}

/** Opens both doors to the database. Nothing else in the service touches a client: see DEVELOPERS.md, "Database". */
export function openDatabase(appUrl: string, poolMax: number): Database {
  const settings = { connectionString: appUrl, statement_timeout: 15_000, idle_in_transaction_session_timeout: 20_000, lock_timeout: 10_000 };
  const pool = new pg.Pool({ ...settings, max: poolMax, connectionTimeoutMillis: 5_000, types });
  // Without a listener an idle connection that PostgreSQL ends would end this process too.
  pool.on('error', () => {});
  const orm = new PrismaClient({
    adapter: new PrismaPg({ ...settings, max: Math.max(2, Math.floor(poolMax / 2)), connectionTimeoutMillis: 5_000 }, { onPoolError: () => {} }),
    errorFormat: 'minimal',
  });

  const transact: Database['transact'] = async (studioId, work) => {
    const client = await pool.connect();
    const onError = () => {};
    client.on('error', onError);
    let broken: unknown;
    try {
      await client.query(`BEGIN; ${setStudio(studioId)}`);
      const value = await work({ rows: async (text, values) => (await client.query(text, values)).rows });
      await client.query('COMMIT');
      return value;
    } catch (error) {
      await client.query('ROLLBACK').catch((failed: unknown) => (broken = failed));
      throw error;
    } finally {
      client.off('error', onError);
      client.release(broken instanceof Error ? broken : undefined);
    }
  };

  const transactOrm: Database['transactOrm'] = (studioId, work) =>
    orm.$transaction(
      async (tx) => {
        await tx.$queryRawUnsafe(setStudio(studioId));
        return work({ orm: tx, rows: (text, values = []) => tx.$queryRawUnsafe(text, ...values) });
      },
      { timeout: 15_000, maxWait: 5_000 },
    );

  return {
    transact,
    transactOrm,
    lookUp: { rows: async (text, values) => (await pool.query(text, values)).rows },
    directClient: () => new pg.Client({ connectionString: appUrl }),
    close: async () => {
      await Promise.all([pool.end(), orm.$disconnect()]);
    },
  };
}
