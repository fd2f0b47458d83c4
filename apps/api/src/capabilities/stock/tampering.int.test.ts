import type pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { withClient } from '../../../../../infra/database/client.ts';
import { bareClass } from '../../testing/bare-class.ts';
import { bringBack, handedOut, receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
  const { containerIds } = await receive(studio.as.manager, ['A-1', 'A-2']);
  const { classId } = await bareClass(studio);
  await handedOut(studio.as.manager, containerIds[0]!, classId, '300');
});
afterAll(() => studio.close());

const CHANGES = ['UPDATE ledger_line SET mass_mg = 1', 'DELETE FROM ledger_line', 'TRUNCATE ledger_line'];
const stateOf = (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => 'done',
    (error: pg.DatabaseError) => error.code ?? 'no code',
  );

// 42501 is PostgreSQL's insufficient_privilege (Appendix A of its manual); AW001 is the trigger's own.
test.each(CHANGES)('the service’s role may not %s', async (sql) => {
  const state = await withClient(studio.database.appUrl, async (client) => {
    await client.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studio.studioId]);
    return stateOf(client.query(sql));
  });
  expect(state).toBe('42501');
});

test.each(CHANGES)('whoever owns the tables may not %s', async (sql) => {
  expect(await stateOf(studio.admin.query(sql))).toBe('AW001');
});

type Check = { intact: boolean; lines: number; words: string; headHash: string };
const check = async (): Promise<Check> => (await studio.as.owner.get('/api/ledger/check')).json();

test('an untouched ledger is intact and names its head', async () => {
  const found = await check();
  const head = await studio.admin.query<{ hash: string }>(`SELECT encode(hash, 'hex') AS hash FROM ledger_line ORDER BY seq DESC LIMIT 1`);
  expect(found).toMatchObject({ intact: true, lines: 3, headHash: head.rows[0]!.hash });
});

test('a ledger longer than the caller wants checked is not read, and says so', async () => {
  const asked = async (upTo: number) => (await studio.as.owner.get(`/api/ledger/check?upTo=${upTo}`)).json<Check>();
  expect(await asked(3)).toMatchObject({ intact: true });
  expect(await asked(2)).toMatchObject({ intact: null, lines: 3, words: expect.stringContaining('not checked'), headHash: (await check()).headHash });
});

// Somebody with the superuser's password switches the triggers off. Each change is undone after its test.
const TAMPERED: [string, string, string][] = [
  ['a changed mass', `UPDATE ledger_line SET mass_mg = 200000 WHERE seq = 3`, 'line 3: the line was changed'],
  ['a changed reason', `UPDATE ledger_line SET reason = 'spilt' WHERE seq = 2`, 'line 2: the line was changed'],
  ['a line taken out of the middle', `DELETE FROM ledger_line WHERE seq = 2`, 'line 3: the link to the line before is broken'],
  ['a cut tail', `DELETE FROM ledger_line WHERE seq = 3`, 'line 3: the end of the ledger is missing'],
  [
    'a cut tail with its balances put right',
    `DELETE FROM ledger_line WHERE seq = 3; UPDATE place_balance SET balance_mg = 1000000 WHERE place LIKE 'container:%'; DELETE FROM place_balance WHERE place LIKE 'class:%'`,
    'line 3: the end of the ledger is missing',
  ],
  [
    'a changed line with its own hash made again',
    `UPDATE ledger_line l SET reason = 'spilt' WHERE seq = 2; UPDATE ledger_line l SET hash = sha256(ledger_memento(l)) WHERE seq = 2`,
    'line 3: the link to the line before is broken',
  ],
  ['a changed balance', `UPDATE place_balance SET balance_mg = balance_mg + 1 WHERE place LIKE 'container:%'`, 'is not the sum of its lines'],
  ['a changed number of the last line', `UPDATE chain_head SET seq = 2 WHERE chain = 'ledger'`, 'line 2: the end of the ledger is missing'],
  ['a head taken away', `DELETE FROM chain_head WHERE chain = 'ledger'`, 'the record of the last line is missing'],
];
const EMPTY = (classId: string) => `place = 'class:${classId}'`;
const MISPLACED: [string, (classId: string) => string, RegExp][] = [
  ['taken away', (classId) => `DELETE FROM place_balance WHERE ${EMPTY(classId)}`, /balance of .* is not the sum/],
  ['put elsewhere', (classId) => `UPDATE place_balance SET place = 'air' WHERE ${EMPTY(classId)}`, /balance of .* is not the sum/],
];
describe('with the triggers switched off', () => {
  const TOUCHED = ['ledger_line', 'place_balance', 'chain_head'];
  beforeEach(async () => {
    await studio.admin.query(TOUCHED.map((table) => `CREATE TABLE kept_${table} AS TABLE ${table}`).join('; '));
    await studio.admin.query('SET session_replication_role = replica');
  });
  afterEach(async () => {
    await studio.admin.query(TOUCHED.map((table) => `DELETE FROM ${table}; INSERT INTO ${table} TABLE kept_${table}; DROP TABLE kept_${table}`).join('; '));
    await studio.admin.query('SET session_replication_role = origin');
  });
  test.each(TAMPERED)('%s is found', async (_name, sql, words) => {
    await studio.admin.query(sql);
    const found = await check();
    expect(found.intact).toBe(false);
    expect(found.words).toContain(words);
  });

  // The last test: it adds lines of its own.
  test('a balance row of nothing that was taken away or put elsewhere is found', async () => {
    await studio.admin.query('SET session_replication_role = origin');
    const { classId } = await bareClass(studio);
    const { containerIds } = await receive(studio.as.manager, ['B-1']);
    await bringBack(studio.as.manager, await handedOut(studio.as.manager, containerIds[0]!, classId, '100'), '100');
    expect((await check()).intact).toBe(true);
    await studio.admin.query('SET session_replication_role = replica');
    for (const [name, tamper, words] of MISPLACED) {
      await studio.admin.query(tamper(classId));
      const found = await check();
      expect(found, name).toMatchObject({ intact: false, words: expect.stringMatching(words) });
      await studio.admin.query(`DELETE FROM place_balance WHERE place IN ('air', 'class:${classId}') AND balance_mg = 0`);
      await studio.admin.query(`INSERT INTO place_balance SELECT studio_id, 'class:${classId}', lot_id, 0 FROM container WHERE id = '${containerIds[0]!}'`);
      expect((await check()).intact, `put right after: ${name}`).toBe(true);
    }
  });
});
