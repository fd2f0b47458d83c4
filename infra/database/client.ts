import pg from 'pg';

/**
 * Opens one connection, hands it to `work`, and closes it whatever happens.
 * @param url PostgreSQL connection URL
 * @throws what the connection or `work` throws
 */
export async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 5000 });
  // Without a listener a server that stops would end this process; the failing query reports it anyway.
  client.on('error', () => undefined);
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end().catch(() => undefined);
  }
}

/** True when a connection with this URL succeeds within five seconds. */
export async function canConnect(url: string): Promise<boolean> {
  try {
    await withClient(url, (client) => client.query('select 1'));
    return true;
  } catch {
    return false;
  }
}

/** The same URL, pointing at another database of the same server. */
export function withDatabase(url: string, database: string): string {
  const parsed = new URL(url);
  parsed.pathname = `/${encodeURIComponent(database)}`;
  return parsed.href;
}
