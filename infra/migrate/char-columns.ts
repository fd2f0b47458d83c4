import pg from 'pg';
import { ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import type { SqlResultSet } from '@prisma/driver-adapter-utils';

// PostgreSQL's internal type "char" (pg_type.oid 18) stands in catalogue columns; the driver adapter refuses it.
const INTERNAL_CHAR_OID = 18;
const TEXT_OID = 25;

/** A pool whose answers the driver adapter can read, and the correction its answers need afterwards. */
export interface ReadablePool {
  pool: pg.Pool;
  correct(answer: SqlResultSet): SqlResultSet;
}

/**
 * A connection pool that reports columns of type "char" as text, remembers which they were, and gives them back
 * the type the migration engine expects.
 * @param url PostgreSQL connection URL
 */
export function readablePool(url: string): ReadablePool {
  // Keyed by the rows because the adapter passes that very array on.
  const charColumns = new WeakMap<object, number[]>();
  const pool = new pg.Pool({ connectionString: url, max: 4 });
  pool.on('error', () => undefined);
  const query = async (config: pg.QueryConfig) => {
    const result = await pool.query(config);
    const fields = result.fields.filter((field) => field.dataTypeID === INTERNAL_CHAR_OID);
    charColumns.set(
      result.rows,
      fields.map((field) => result.fields.indexOf(field)),
    );
    for (const field of fields) field.dataTypeID = TEXT_OID;
    return result;
  };
  const readable = new Proxy(pool, {
    get: (target, key) => {
      if (key === 'query') return query;
      const value: unknown = Reflect.get(target, key);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  const correct = (answer: SqlResultSet): SqlResultSet => {
    for (const index of charColumns.get(answer.rows) ?? []) answer.columnTypes[index] = ColumnTypeEnum.Character;
    return answer;
  };
  return { pool: readable, correct };
}
