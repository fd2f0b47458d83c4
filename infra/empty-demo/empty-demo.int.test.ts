import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { canConnect, withClient } from '../database/client.ts';
import { diffFromDatabase } from '../migrate.ts';
import { countStudios } from '../start/first-run.ts';
import { readLaunchState } from '../start/launch-state.ts';
import { testDatabase } from '../test-database.ts';
import type { TestDatabase } from '../test-database.ts';
import { emptyDemo } from './empty-demo.ts';

let database: TestDatabase;
let dataDir: string;
beforeEach(async () => {
  database = await testDatabase();
  dataDir = mkdtempSync(join(tmpdir(), 'ashwater-empty-'));
});
afterEach(async () => {
  rmSync(dataDir, { recursive: true, force: true });
  await database.drop();
});

async function addStudio(shortName: string, isDemo: boolean): Promise<void> {
  await withClient(database.adminUrl, (client) =>
    client.query(
      "insert into studio (id, name, short_name, time_zone, emergency_phone, is_demo, created_at) values ($1, $2, $2, 'Europe/Berlin', '112', $3, now())",
      [randomUUID(), shortName, isDemo],
    ),
  );
}

test('a demo is removed, the tables are sound again, the application can connect, and the demo stays away', async () => {
  await addStudio('demo', true);
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 1, real: 0 });
  await emptyDemo(database.adminUrl, { dataDir });
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 0, real: 0 });
  expect(await diffFromDatabase(database.adminUrl)).toBe('');
  expect(await canConnect(database.appUrl)).toBe(true);
  const { rows } = await withClient(database.appUrl, (client) => client.query('select any_studio() as any'));
  expect(rows).toEqual([{ any: false }]);
  expect(readLaunchState(dataDir)).toEqual({ demo: false });
});

test('a real studio is never removed, also not beside a demo', async () => {
  await addStudio('demo', true);
  await addStudio('ours', false);
  await expect(emptyDemo(database.adminUrl, { dataDir })).rejects.toThrow(/not a demo/);
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 1, real: 1 });
  expect(readLaunchState(dataDir)).toEqual({ demo: true });
});

test('nothing is removed while the service is connected', async () => {
  await addStudio('demo', true);
  await withClient(database.appUrl, async () => {
    await expect(emptyDemo(database.adminUrl, { dataDir })).rejects.toThrow(/connected/);
  });
  expect(await countStudios(database.adminUrl)).toEqual({ demo: 1, real: 0 });
});
