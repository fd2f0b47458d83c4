import { afterAll, beforeAll, expect, test } from 'vitest';
import { openDatabase } from '../../apps/api/src/plugins/database/database.ts';
import type { Database, OrmTx, Tx } from '../../apps/api/src/plugins/database/database.ts';
import { newId } from '../../apps/api/src/ids.ts';
import { testDatabase } from '../../infra/test-database.ts';
import type { TestDatabase } from '../../infra/test-database.ts';

const STUDIOS = 20;
const CALLS = 50;
let database: TestDatabase;
let db: Database;
const ids = Array.from({ length: STUDIOS }, () => newId());
beforeAll(async () => {
  database = await testDatabase();
  db = openDatabase(database.appUrl, 4);
  for (const [n, id] of ids.entries())
    await db.transact(id, (tx) =>
      tx.rows(`INSERT INTO studio (id, name, short_name, time_zone, emergency_phone, created_at) VALUES ($1, $2, $3, 'UTC', '112', now())`, [
        id,
        id,
        `studio-${n}`,
      ]),
    );
});
afterAll(async () => {
  await db.close();
  await database.drop();
});

const seen = async (tx: Tx) => (await tx.rows<{ id: string }>('SELECT id FROM studio')).map((row) => row.id);
class Thrown extends Error {}
/** One call of a kind; every kind tells which studios it saw. */
const KINDS: ((id: string) => Promise<string[]>)[] = [
  (id) => db.transact(id, seen),
  (id) => db.transactOrm(id, seen),
  (id) => db.transactOrm(id, async ({ orm }: OrmTx) => (await orm.studio.findMany({ select: { id: true } })).map((row) => row.id)),
  async (id) => {
    let saw: string[] = [];
    const failing = async (tx: Tx) => {
      saw = await seen(tx);
      throw new Thrown();
    };
    await (id < ids[STUDIOS / 2]! ? db.transact(id, failing) : db.transactOrm(id, failing)).catch((error: unknown) => {
      if (!(error instanceof Thrown)) throw error;
    });
    return saw;
  },
  async (id) => {
    await db.transact(id, (tx) => tx.rows('SELECT 1/0')).catch(() => undefined);
    return db.transact(id, seen);
  },
  // between the others: no studio set, so none may be left over on the connection
  async (id) => [...(await db.lookUp.rows<{ id: string }>('SELECT id FROM studio')).map((row) => row.id), id],
];

test('twenty studios through four connections, all ways at once: each call sees its own studio and nothing else', async () => {
  const calls = Array.from({ length: STUDIOS * CALLS }, (_, n) => ({
    id: ids[(n * 7) % STUDIOS]!,
    kind: KINDS[(n * 5 + Math.floor(n / STUDIOS)) % KINDS.length]!,
  }));
  const wrong: string[][] = [];
  const queue = [...calls];
  const worker = async () => {
    for (let call = queue.pop(); call; call = queue.pop()) {
      const saw = await call.kind(call.id);
      if (saw.length !== 1 || saw[0] !== call.id) wrong.push([call.id, ...saw]);
    }
  };
  await Promise.all(Array.from({ length: STUDIOS }, worker));
  expect(wrong).toEqual([]);
  expect(calls).toHaveLength(1000);
});

test('only a UUID can name a studio: it stands in SQL text', async () => {
  for (const bad of ["x', true); DROP TABLE jar; --", '', ids[0]!.toUpperCase(), `${ids[0]} `]) {
    await expect(db.transact(bad, seen)).rejects.toThrow('must be a UUID');
    await expect(db.transactOrm(bad, seen)).rejects.toThrow('must be a UUID');
  }
});
