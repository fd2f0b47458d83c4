import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { withClient } from './database/client.ts';
import { startOf } from './database/process-identity.ts';
import { FolderInUse, lockHolder, openDatabase } from './database.ts';
import { inRepository } from './paths.ts';

let dataDir: string;
beforeEach(() => {
  dataDir = mkdtempSync(join(tmpdir(), 'ashwater-data-'));
  chmodSync(dataDir, 0o755);
});
afterEach(() => rmSync(dataDir, { recursive: true, force: true }));

const stateOf = () => JSON.parse(readFileSync(join(dataDir, 'postgres.json'), 'utf8')) as { port: number; folder: string };

test('the embedded database keeps its rows, its port and its secret between starts', async () => {
  const first = await openDatabase({ dataDir });
  await withClient(first.adminUrl, (client) => client.query('create table kept as select 7 as n'));
  await first.stop();
  const second = await openDatabase({ dataDir });
  const { rows } = await withClient(second.adminUrl, (client) => client.query('select n from kept'));
  await second.stop();
  expect(rows).toEqual([{ n: 7 }]);
  expect(second.adminUrl).toBe(first.adminUrl);
  expect(statSync(join(dataDir, 'postgres.json')).mode & 0o777).toBe(0o600);
});

test('text is UTF-8 and sorts by code point, whatever the machine is set to', async () => {
  const database = await openDatabase({ dataDir });
  const { rows } = await withClient(database.adminUrl, (client) =>
    client.query<{ word: string; upper: string }>("select word, upper(word) as upper from (values ('zinc'), ('öl'), ('Alaun')) as w(word) order by word"),
  );
  await database.stop();
  expect(rows.map((row) => row.word)).toEqual(['Alaun', 'zinc', 'öl']);
  expect(rows[2]?.upper).toBe('ÖL');
});

test('a port taken by another program is left alone: the server moves to a free one', async () => {
  await (await openDatabase({ dataDir })).stop();
  const { port } = stateOf();
  const squatter = createServer().listen(port, '127.0.0.1');
  await once(squatter, 'listening');
  const database = await openDatabase({ dataDir });
  await database.stop();
  squatter.close();
  expect(stateOf().port).not.toBe(port);
});

test('a second instance on the same folder is refused, with the folder and the process named', async () => {
  const database = await openDatabase({ dataDir });
  const refused = await openDatabase({ dataDir }).catch((error: unknown) => error);
  await database.stop();
  expect(refused).toBeInstanceOf(FolderInUse);
  expect(String(refused)).toContain(dataDir);
  expect(String(refused)).toContain(String(process.pid));
  expect(lockHolder(dataDir)).toBeUndefined();
});

test('after a launcher was killed, the next start takes over and finds every committed row', { timeout: 60_000 }, async () => {
  const script = `import { openDatabase } from ${JSON.stringify(inRepository('infra', 'database.ts'))};
    import { withClient } from ${JSON.stringify(inRepository('infra', 'database', 'client.ts'))};
    const database = await openDatabase({ dataDir: ${JSON.stringify(dataDir)} });
    await withClient(database.adminUrl, (client) => client.query('create table kept as select 42 as n'));
    process.stdout.write('ready');
    setInterval(() => undefined, 1000);`;
  const launcher = spawn(process.execPath, ['--input-type=module', '-e', script], { stdio: ['ignore', 'pipe', 'inherit'] });
  await once(launcher.stdout, 'data');
  const leftOver = Number(readFileSync(join(dataDir, 'postgres', 'postmaster.pid'), 'utf8').split('\n')[0]);
  launcher.kill('SIGKILL');
  await once(launcher, 'exit');
  expect(startOf(leftOver)).toBeDefined();

  const database = await openDatabase({ dataDir });
  const { rows } = await withClient(database.adminUrl, (client) => client.query('select n from kept'));
  await database.stop();
  expect(rows).toEqual([{ n: 42 }]);
  expect(startOf(leftOver)).toBeUndefined();
});

test('a cluster of another PostgreSQL version is never touched', async () => {
  await (await openDatabase({ dataDir })).stop();
  const { folder } = stateOf();
  writeFileSync(join(folder, 'PG_VERSION'), '15\n');
  await expect(openDatabase({ dataDir })).rejects.toThrow(/holds a PostgreSQL 15 cluster.*Nothing was changed/);
  expect(existsSync(join(folder, 'base'))).toBe(true);
  expect(lockHolder(dataDir)).toBeUndefined();
});

test('data whose state file is lost is not overwritten', async () => {
  await (await openDatabase({ dataDir })).stop();
  rmSync(join(dataDir, 'postgres.json'));
  await expect(openDatabase({ dataDir })).rejects.toThrow(/Nothing was changed/);
});
