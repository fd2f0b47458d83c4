import type pg from 'pg';

/** Every row of every table as one line of text, `<table> <row as JSON>`: to search, and to compare before and after. */
export async function dump(admin: pg.Client): Promise<string[]> {
  const tables = await admin.query<{ name: string }>(
    `SELECT quote_ident(relname) AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' ORDER BY 1`,
  );
  const rows: string[] = [];
  for (const { name } of tables.rows) {
    const found = await admin.query<{ row: string }>(`SELECT to_jsonb(t)::text AS row FROM ${name} t`);
    rows.push(...found.rows.map(({ row }) => `${name} ${row}`));
  }
  return rows.sort();
}

/** The tables that hold a row written by transaction `xmin`, one entry a row. */
export async function rowsWrittenBy(admin: pg.Client, xmin: string): Promise<string[]> {
  const tables = await admin.query<{ name: string }>(
    `SELECT quote_ident(relname) AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' ORDER BY 1`,
  );
  const found: string[] = [];
  for (const { name } of tables.rows) {
    const { rowCount } = await admin.query(`SELECT 1 FROM ${name} WHERE xmin::text = $1`, [xmin]);
    found.push(...Array.from({ length: rowCount ?? 0 }, () => name));
  }
  return found;
}
